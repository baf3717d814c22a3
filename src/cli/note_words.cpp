#include "cli/note_words.h"

#include <fmt/format.h>

#include "base/text.h"
#include "checks/check.h"

namespace ohmleaf::cli {

using app::Question;
using checks::Finding;
using checks::Verdict;
using record::View;

namespace {

/// Keys of the instruments of this kind that the profile knows.
std::string tools(const record::Installer& installer, std::string_view kind) {
  std::string out;
  for (const record::Instrument& i : installer.instruments)
    if (i.kind && *i.kind == kind)
      out += (out.empty() ? "" : ", ") + i.id;
  return out.empty() ? "its key in installer.toml" : out;
}

}  // namespace

std::string circuit_words(const record::Job& job, int circuit) {
  if (circuit < 0) return {};
  const record::Circuit& c = job.circuits[static_cast<std::size_t>(circuit)];
  return fmt::format("circuit {}{}", c.board ? *c.board + "/" : std::string(), c.ref.value_or("?"));
}

std::string choice_words(const record::Shape& shape) {
  std::string out;
  for (std::size_t i = 0; i < shape.words.size(); ++i)
    out += fmt::format("{}{} {}", i > 0 ? ", " : "", i + 1, shape.words[i]);
  return out;
}

std::string prompt_for(const Question& q, const record::Installer& installer) {
  const record::Shape& s = *q.shape;
  if (s.kind == View::Kind::flag) return s.type == "true or false" ? "y/n" : "y, n, or N/A: why";
  if (s.kind == View::Kind::date)
    return s.type == "date" ? "today, or 2026-11-20" : "now, or the time as 9:12";
  if (s.type.starts_with("fault current")) return "with its unit, kA or A";
  if (!s.unit.empty()) return s.unit;
  if (q.path == "isolation.proving_unit") return tools(installer, "proving unit");
  if (q.path == "isolation.indicator") return tools(installer, "voltage indicator");
  return s.words.empty() ? "text" : "number or word";
}

void explain(Dialogue& say, const Question& q) {
  say.detail("what", q.shape->help);
  for (const checks::CheckInfo& c : checks::all_checks())
    if (c.id == q.finding.check) say.detail("why", c.says);
  say.detail("how", q.finding.action);
  say.detail("caution", q.finding.caution);
  say.detail("limit", q.finding.limit);
  say.detail("from", q.finding.derivation);
  say.detail("source", q.finding.source);
  if (!q.shape->unit.empty() || q.shape->type.starts_with("fault"))
    say.detail("write",
               "as the instrument shows it: 0.42, >999, <0.01; what cannot be had: "
               "N/A: and why");
}

void tell(Dialogue& say, const Finding& f) {
  const Tone tone =
      f.verdict == Verdict::fail || f.verdict == Verdict::missing ? Tone::bad : Tone::doubt;
  const std::string word =
      f.verdict == Verdict::missing ? "no answer yet" : std::string(checks::name(f.verdict));
  say.line(word + ": " + f.message, tone);
  if (!f.limit.empty() &&
      f.message.find(f.limit.substr(f.limit.find(' ') + 1)) == std::string::npos)
    say.detail("limit", f.limit);
  for (std::size_t i = 0; i < f.causes.size(); ++i) say.detail(i == 0 ? "likely" : "", f.causes[i]);
  say.detail("next", f.action);
  say.detail("caution", f.caution);
}

}  // namespace ohmleaf::cli
