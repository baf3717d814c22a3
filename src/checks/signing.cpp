#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "base/text.h"
#include "checks/facts.h"
#include "checks/judge.h"
#include "record/words.h"

// Who may sign what: known, responsible, and named for this kind of certificate.

namespace ohmleaf::checks {
namespace {

using record::JobKind;
using record::Signing;

/// One who signs, and for what.
struct Signer {
  const record::Text& key;
  std::string cell, subject;
};

struct Part {
  record::Text Signing::*member;
  const char *cell, *subject;
};
constexpr std::array kParts{
    Part{&Signing::design, "signing.design", "Who signs for the design"},
    Part{&Signing::construction, "signing.construction", "Who signs for the construction"},
    Part{&Signing::inspection, "signing.inspection", "Who signs for inspection and testing"},
    Part{&Signing::authorised, "signing.authorised", "Who authorises the report"}};

/// The job's person, and whoever is named for a part of the signing.
std::vector<Signer> signers(const record::Job& job) {
  std::vector<Signer> out{{job.person, "person", "Who signs"}};
  for (const Part& part : kParts)
    if (job.signing.*part.member)
      out.push_back({job.signing.*part.member, part.cell, part.subject});
  return out;
}

std::string kind_words(const record::Job& job) {
  return std::string(record::name(job.kind.value_or(JobKind::minor_works)));
}

bool may_sign(const record::Person& person, const record::Job& job) {
  if (person.signs.empty() || !job.kind) return true;
  return std::any_of(person.signs.begin(), person.signs.end(),
                     [&](const record::Text& t) { return t && *t == kind_words(job); });
}

bool learning(const std::string& role) {
  constexpr std::array words = {"improver", "apprentice", "trainee"};
  return std::any_of(words.begin(), words.end(),
                     [&](const char* w) { return role.find(w) != std::string::npos; });
}

void unknown(Scene& s, const Signer& who) {
  const Span top = s.job.kind.span.valid() ? s.job.kind.span : s.job.date.span;
  s.add(Verdict::missing, Stage::paper, who.cell, who.subject,
        who.key ? fmt::format("\"{}\" is not among the installer's people", *who.key)
                : std::string("nobody is named who signs"),
        who.key.span.valid() ? who.key.span : top)
      .action = "Name the one who tested and signs, by the key in installer.toml.";
}

void not_named_for_it(Scene& s, const Signer& who, const record::Person& person) {
  Finding& f = s.add(Verdict::fail, Stage::paper, who.cell, who.subject,
                     fmt::format("{} does not sign this kind of certificate: {}",
                                 person.name.value_or(*who.key), kind_words(s.job)),
                     who.key.span);
  f.reading = kind_words(s.job);
  for (const record::Text& t : person.signs)
    if (t) f.limit += (f.limit.empty() ? "" : ", ") + *t;
  f.labels = {{person.span, "what this person signs"}};
  f.action = "Let somebody sign whom installer.toml names for it, or add it to signs there.";
}

void one_signer(Scene& s, const Signer& who) {
  const record::Person* person = who.key ? s.installer.person(*who.key) : nullptr;
  if (!person || !person->name || trim(*person->name).empty()) return unknown(s, who);
  const std::string role = ascii_lower(person->role.value_or(""));
  if (learning(role)) {
    Finding& f =
        s.add(Verdict::doubtful, Stage::paper, who.cell, who.subject,
              fmt::format("{} is entered as {}, and signs", *person->name, role), who.key.span);
    f.action =
        "Let the skilled person (electrically) who is responsible sign; confirm if the role is out "
        "of date.";
    return;
  }
  if (!may_sign(*person, s.job)) return not_named_for_it(s, who, *person);
  s.add(Verdict::pass, Stage::paper, who.cell, who.subject, "the one who signs is known",
        who.key.span)
      .reading = *person->name;
}

void signer(Scene& s) {
  for (const Signer& who : signers(s.job)) one_signer(s, who);
}

constexpr Row kRows[] = {
    {{"signer", "Who signs",
      "Whoever signs, for the whole or for design, construction, inspection or authorisation, is "
      "known by name, is the skilled person (electrically) responsible and not a learner, and is "
      "named in installer.toml for this kind of certificate where it says who signs what.",
      "common practice", Confirmable::with_reason},
     Over::job,
     signer},
};

}  // namespace

std::span<const Row> signing_rows() {
  return kRows;
}

}  // namespace ohmleaf::checks
