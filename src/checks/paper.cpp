#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"
#include "checks/facts.h"
#include "checks/judge.h"
#include "record/not_known.h"
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

/// What `start` left open because nobody had looked yet.
void not_known(Scene& s) {
  const auto open = [&](const record::Text& text, Stage stage, std::string cell,
                        std::string subject, std::string message, std::string action) {
    if (text && trim(*text) == record::kNotKnown)
      s.add(Verdict::missing, stage, std::move(cell), std::move(subject), std::move(message),
            text.span)
          .action = std::move(action);
  };
  const record::Circuit& c = *s.circuit;
  open(c.ref, Stage::before, "ref", "Reference of the circuit",
       "the circuit's reference is not known yet", "Read the number of its way at the board.");
  for (std::size_t i = 0; i < c.accessories.size(); ++i)
    open(c.accessories[i].where, Stage::fitting, "accessory[" + std::to_string(i) + "].where",
         "Place of the accessory", "nothing says where the accessory is",
         "Write where it is, so that it is found again.");
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
    {{"not-known", "What was left open at the start",
      "A new job holds \"?\" where nobody had looked yet: the number of a circuit's way, the place "
      "of an accessory.",
      "common practice", Confirmable::never},
     Over::circuit,
     not_known},
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
};

}  // namespace

std::span<const Row> paper_rows() {
  return kRows;
}

}  // namespace ohmleaf::checks
