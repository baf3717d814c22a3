#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "base/text.h"
#include "checks/facts.h"
#include "checks/judge.h"
#include "record/read.h"

// Paper: the right certificate, complete, signed by someone known, in an order that can be true.

namespace ohmleaf::checks {
namespace {

using record::JobKind;

bool blank(const record::Text& text) {
  return !text || trim(*text).empty();
}

Span top(const Scene& s) {
  return s.job.kind.span.valid() ? s.job.kind.span : s.job.date.span;
}

void right_kind(Scene& s) {
  if (!s.job.kind || *s.job.kind != JobKind::minor_works) return;
  for (const record::Circuit& c : s.job.circuits) {
    const bool fresh = c.is_new.value_or(false);
    const bool board = c.type && *c.type == record::CircuitType::distribution;
    if (!fresh && !board) continue;
    Finding& f = s.add(Verdict::fail, Stage::paper, "kind", "Kind of certificate",
                       fmt::format("circuit {} is {}: minor works does not cover it",
                                   c.ref.value_or("?"), fresh ? "new" : "a distribution circuit"),
                       s.job.kind.span);
    f.reading = "minor works";
    f.limit = "installation";
    f.labels = {{fresh ? c.is_new.span : c.type.span, "this circuit"}};
    f.action = "Change kind to \"installation\".";
    return;
  }
  s.add(Verdict::pass, Stage::paper, "kind", "Kind of certificate", "minor works suits the work",
        s.job.kind.span)
      .reading = "minor works";
}

void needed_text(Scene& s, const record::Text& text, std::string_view cell, std::string subject,
                 std::string action) {
  if (!blank(text)) return;
  s.add(Verdict::missing, Stage::paper, std::string(cell), subject, subject + " is not recorded",
        text.span.valid() ? text.span : top(s))
      .action = std::move(action);
}

void particulars(Scene& s) {
  const record::Job& j = s.job;
  needed_text(s, j.premises, "premises", "the address of the premises",
              "Enter premises, with the postcode.");
  needed_text(s, j.client, "client", "the client", "Enter who ordered the work.");
  needed_text(s, j.work, "work", "the description of the work",
              "Say in a sentence or two what was done.");
  if (!s.is_report())
    needed_text(s, j.existing, "existing", "a comment on the existing installation",
                "Write what was seen of the existing installation, or \"No comments.\".");
  if (j.circuits.empty())
    s.add(Verdict::missing, Stage::paper, "circuit", "Circuits", "the job has no circuit", top(s))
        .action = "Add a [[circuit]] with its tests.";
  for (const record::Circuit& c : j.circuits) {
    if (!blank(c.board) || j.circuits.size() < 2) continue;
    const bool several = std::any_of(j.circuits.begin(), j.circuits.end(),
                                     [](const auto& o) { return !blank(o.board); });
    if (several)
      s.add(Verdict::missing, Stage::paper, "circuit.board", "Board",
            fmt::format("circuit {} names no board", c.ref.value_or("?")), c.span)
          .action = "Enter the board's name, as on its label.";
  }
}

void signer(Scene& s) {
  const record::Text& key = s.job.person;
  const record::Person* person = key ? s.installer.person(*key) : nullptr;
  if (person && !blank(person->name)) {
    s.add(Verdict::pass, Stage::paper, "person", "Who signs", "the one who signs is known",
          key.span)
        .reading = *person->name;
    return;
  }
  s.add(Verdict::missing, Stage::paper, "person", "Who signs",
        key ? fmt::format("\"{}\" is not among the installer's people", *key)
            : "nobody is named who signs",
        key.span.valid() ? key.span : top(s))
      .action = "Name the one who tested and signs, by the key in installer.toml.";
}

void inspection_item(Scene& s, const record::InspectionText& item,
                     const record::InspectionItem* answer) {
  const std::string cell = "inspection." + std::string(item.key);
  const std::string words(item.words);
  const Span where = answer ? answer->span : s.job.inspection_span;
  if (answer && answer->done) {
    Finding& f = s.add(*answer->done ? Verdict::pass : Verdict::fail, Stage::before, cell, words,
                       words + (*answer->done ? ": in order" : ": not in order"), where);
    f.reading = *answer->done ? "in order" : "not in order";
    f.source = item.source;
    if (!*answer->done)
      f.action = "Put it in order before the work is put into service, or take the work out again.";
    return;
  }
  if (answer && !answer->not_applicable.empty()) {
    s.add(Verdict::not_applicable, Stage::before, cell, words,
          words + ": does not apply, " + answer->not_applicable, where)
        .reading = "N/A";
    return;
  }
  if (answer && !answer->limitation.empty() && s.is_report()) {
    s.add(Verdict::not_applicable, Stage::before, cell, words,
          words + ": limited, " + answer->limitation, where)
        .reading = "LIM";
    return;
  }
  const bool limited = answer && !answer->limitation.empty();
  Finding& f = s.add(
      Verdict::missing, Stage::before, cell, words,
      words + (limited ? ": a limitation is not accepted for work of one's own" : ": not answered"),
      where);
  f.source = item.source;
  f.action = "Look at it and answer true, false, or \"N/A: why\".";
}

void inspection(Scene& s) {
  const auto& answers = s.job.inspection;
  if (answers.empty()) {
    s.add(Verdict::missing, Stage::before, "inspection", "Inspection",
          "the inspection checklist is not answered",
          s.job.inspection_span.valid() ? s.job.inspection_span : top(s))
        .action = "Go through the checklist on the site sheet and add [inspection].";
    return;
  }
  for (const record::InspectionText& item : record::inspection_items()) {
    const auto answer = std::find_if(answers.begin(), answers.end(),
                                     [&](const auto& a) { return a.key == item.key; });
    inspection_item(s, item, answer == answers.end() ? nullptr : &*answer);
  }
}

void next_inspection(Scene& s) {
  const auto& next = s.job.next_inspection;
  if (!s.job.kind) return;
  if (*s.job.kind == JobKind::minor_works) {
    if (!next) return;
    Finding& f = s.add(Verdict::doubtful, Stage::paper, "next_inspection", "Next inspection",
                       "minor works does not set the installation's next inspection", next.span);
    f.labels = {{s.job.kind.span, "minor works"}};
    f.action =
        "Take next_inspection out: the date on the installation's own certificate or report "
        "stands.";
    return;
  }
  if (!next) {
    s.add(Verdict::missing, Stage::paper, "next_inspection", "Next inspection",
          "the date of the next inspection is not recorded", top(s))
        .action =
        "Enter next_inspection: ten years for most owner-occupied homes, five where let, or "
        "sooner.";
    return;
  }
  if (s.job.date && *next <= *s.job.date) {
    s.add(Verdict::doubtful, Stage::paper, "next_inspection", "Next inspection",
          "the next inspection is not after the job's own date", next.span)
        .action = "Correct the one that is wrong.";
    return;
  }
  if (s.job.date && *next > s.job.date->plus_months(120)) {
    Finding& f = s.add(Verdict::doubtful, Stage::paper, "next_inspection", "Next inspection",
                       "the next inspection is more than ten years away", next.span);
    f.source = "common practice: ten years at most for a home";
    f.confirmable = Confirmable::with_reason;
    f.action = "Enter an earlier date, or confirm with the reason.";
    return;
  }
  s.add(Verdict::pass, Stage::paper, "next_inspection", "Next inspection",
        "the next inspection is dated", next.span)
      .reading = next->iso();
}

/// Later than the job by more than a day, or long before it: one of the two is a slip.
void dates(Scene& s) {
  const record::Job& j = s.job;
  if (!j.date) return;
  const auto complain = [&](std::string cell, std::string message, Span span) {
    Finding& f =
        s.add(Verdict::doubtful, Stage::paper, std::move(cell), "Dates", std::move(message), span);
    f.labels = {{j.date.span, "the job's date"}};
    f.action = "Correct the one that is wrong.";
  };
  if (j.design_date && *j.design_date > *j.date)
    complain("design_date", "the design is dated after the work", j.design_date.span);
  const auto near = [&](const record::Field<DateTime>& t, std::string cell, std::string_view what) {
    if (t && t->date > *j.date)
      complain(std::move(cell),
               fmt::format("{} is dated {}, after the job's date", what, t->date.words()), t.span);
    else if (t && t->date.plus_months(6) < *j.date)
      complain(std::move(cell),
               fmt::format("{} is dated {}, more than six months before the job's date", what,
                           t->date.words()),
               t.span);
  };
  near(j.isolation.proved_dead, "isolation.proved_dead", "proving dead");
  for (const record::Circuit& c : j.circuits) {
    near(c.dead.done, "dead.done", "the dead test of circuit " + c.ref.value_or("?"));
    near(c.live.energised, "live.energised", "energising circuit " + c.ref.value_or("?"));
  }
}

/// Why the work must be told to building control, by what the job says. Empty: not that we know.
std::string notifiable(const Scene& s) {
  const std::string nation = ascii_lower(s.job.nation.value_or("England"));
  if (nation == "scotland" || nation == "northern ireland" || !is_dwelling(s.job)) return {};
  for (const record::Circuit& c : s.job.circuits) {
    if (c.is_new.value_or(false)) return "a new circuit in a dwelling";
    if (c.type && *c.type == record::CircuitType::distribution)
      return "work on a board in a dwelling";
    if (serves_bathroom(c) && !c.accessories.empty()) return "work in a room with a bath or shower";
    if (nation == "wales" && serves_outdoors(c)) return "work outdoors in Wales";
  }
  return {};
}

void notification(Scene& s) {
  const record::Notification& n = s.job.notification;
  const std::string why = notifiable(s);
  if (s.is_report() || (why.empty() && !n.needed.value_or(false))) return;
  const Span where = n.needed.span.valid() ? n.needed.span : n.span.valid() ? n.span : top(s);
  if (!n.needed) {
    Finding& f = s.add(Verdict::missing, Stage::paper, "notification.needed", "Notification",
                       "whether building control must be told is not answered: " + why, where);
    f.action =
        "Write needed = true with the route, or needed = false if the place is outside the rule.";
    return;
  }
  if (!*n.needed) {
    Finding& f = s.add(Verdict::doubtful, Stage::paper, "notification.needed", "Notification",
                       "the work is entered as not notifiable, but it looks so: " + why, where);
    f.action = "Notify, or confirm why it need not be (for a bathroom: outside the zones).";
    return;
  }
  if (blank(n.route)) {
    s.add(Verdict::missing, Stage::paper, "notification.route", "Notification",
          "how the work is notified is not recorded", where)
        .action = "Enter route: the installer's scheme, or the local authority.";
    return;
  }
  Finding& f = s.add(
      blank(n.reference) ? Verdict::note : Verdict::pass, Stage::paper, "notification.reference",
      "Notification",
      blank(n.reference) ? "the notification has no reference yet" : "the notification is recorded",
      where);
  f.reading = n.reference.value_or(*n.route);
  if (blank(n.reference)) f.action = "Add reference and date when they come.";
}

bool never_departed_from(std::string_view text, bool dwelling) {
  constexpr std::array words = {"disconnection", "continuity", "earthing",         "bonding",
                                "polarity",      "insulation", "breaking capacity"};
  const std::string lower = ascii_lower(text);
  if (dwelling && lower.find("rcd") != std::string::npos) return true;
  return std::any_of(words.begin(), words.end(),
                     [&](const char* w) { return lower.find(w) != std::string::npos; });
}

void departures(Scene& s) {
  for (const record::Departure& d : s.job.departures) {
    if (blank(d.what) || blank(d.reason) || blank(d.by)) {
      s.add(Verdict::missing, Stage::paper, "departure", "Departure",
            "a departure lacks what, reason or name", d.span)
          .action = "Say what departs, why it is no less safe, and who decided it.";
      continue;
    }
    if (!never_departed_from(*d.what, is_dwelling(s.job))) {
      s.add(Verdict::note, Stage::paper, "departure", "Departure",
            "a departure is stated: " + *d.what, d.what.span);
      continue;
    }
    Finding& f = s.add(Verdict::doubtful, Stage::paper, "departure", "Departure",
                       "this may never be departed from: " + *d.what, d.what.span);
    f.action =
        "Cure it instead. Confirm only if the departure is of another kind than its words suggest.";
  }
}

void limitations(Scene& s) {
  for (const record::Limitation& l : s.job.limitations)
    if (blank(l.what) || blank(l.agreed_with))
      s.add(Verdict::missing, Stage::paper, "limitation", "Limitation",
            "a limitation does not say with whom it was agreed", l.span)
          .action = "Enter what is limited and agreed_with.";
}

void observations(Scene& s) {
  for (const record::Observation& o : s.job.observations) {
    if (s.is_report() && blank(o.code)) {
      s.add(Verdict::missing, Stage::paper, "observation", "Observation",
            "an observation has no code", o.span)
          .action = "Code it C1, C2, C3 or FI.";
      continue;
    }
    if (!o.code || ascii_lower(*o.code) != "c1") continue;
    Finding& f = s.add(Verdict::note, Stage::paper, "observation", "Danger",
                       "a danger is recorded: " + o.what.value_or("?"), o.span);
    f.action =
        "Make it safe if you may, tell the client in writing now (what, when, whom), and tell the "
        "distributor if it is theirs.";
    f.caution = "Do not leave it for the certificate.";
  }
}

constexpr Row kRows[] = {
    {{"kind", "The right kind of certificate",
      "A new circuit, or a change of board, needs an installation certificate; minor works does "
      "not cover it.",
      "common practice", Confirmable::never},
     Over::job,
     right_kind},
    {{"particulars", "Premises, client, work",
      "What a certificate must say before any reading counts.", "common practice",
      Confirmable::never},
     Over::job,
     particulars},
    {{"signer", "Who signs", "The one who tested and signs is known by name.", "common practice",
      Confirmable::never},
     Over::job,
     signer},
    {{"inspection", "Inspection checklist",
      "Every item is answered: in order, not in order, or not applicable with the reason.",
      "BS 7671 642.3 (number from memory; Linsley p361)", Confirmable::never},
     Over::job,
     inspection},
    {{"next-inspection", "Next inspection",
      "An installation certificate or a condition report sets it; minor works never resets it.",
      "common practice", Confirmable::never},
     Over::job,
     next_inspection},
    {{"dates", "Dates in order", "Design, isolation, tests and certificate follow one another.",
      "common practice", Confirmable::with_reason},
     Over::job,
     dates},
    {{"notification", "Notification to building control",
      "A new circuit, a board, or a bathroom in a dwelling of England or Wales is notified: route, "
      "reference, date.",
      "wiring-regulations.co.uk (England 2013)", Confirmable::with_reason},
     Over::job,
     notification},
    {{"departure", "Departures",
      "A departure is no less safe, has a reason and a name, and is never from disconnection, a 30 "
      "mA RCD in a dwelling, continuity, earthing, bonding, polarity, insulation or breaking "
      "capacity.",
      "common practice", Confirmable::with_reason},
     Over::job,
     departures},
    {{"limitation", "Limitations", "A limitation says with whom it was agreed.", "common practice",
      Confirmable::never},
     Over::job,
     limitations},
    {{"observation", "Observations and dangers",
      "In a condition report each is coded; a danger is told to the client in writing at once.",
      "common practice", Confirmable::never},
     Over::job,
     observations},
    {{"confirmation", "Confirmations",
      "A doubtful finding is confirmed with its check's id, a reason and a name. Fails and missing "
      "readings never are.",
      "common practice", Confirmable::never},
     Over::job,
     nullptr},
};

}  // namespace

std::span<const Row> paper_rows() {
  return kRows;
}

}  // namespace ohmleaf::checks
