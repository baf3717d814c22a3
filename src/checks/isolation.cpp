#include <fmt/format.h>

#include "base/text.h"
#include "checks/facts.h"
#include "checks/judge.h"

// Safe isolation: done, by whom, with what, and before anything was touched.

namespace ohmleaf::checks {
namespace {

Ask ask_for(const Scene& s, std::string cell, std::string subject) {
  Ask ask;
  ask.stage = Stage::isolation;
  ask.cell = std::move(cell);
  ask.subject = std::move(subject);
  ask.home = s.job.isolation.span;
  return ask;
}

void text_needed(Scene& s, const record::Text& text, std::string cell, std::string subject,
                 std::string action) {
  const bool there = text && !trim(*text).empty();
  Finding& f = s.add(there ? Verdict::pass : Verdict::missing, Stage::isolation, std::move(cell),
                     subject, subject + (there ? " is recorded" : " is not recorded"),
                     text.span.valid() ? text.span : s.job.isolation.span);
  if (there)
    f.reading = *text;
  else
    f.action = std::move(action);
}

void isolated(Scene& s) {
  const record::Isolation& x = s.job.isolation;
  text_needed(s, x.point, "isolation.point", "Point of isolation",
              "Write where the supply was cut off: main switch, circuit-breaker, fuse.");
  Ask ask = ask_for(s, "isolation.locked", "Lock");
  ask.action = "Lock off and keep the key before anything is touched.";
  ask.if_missing = "Record that the point of isolation was locked off, and who kept the key.";
  ask.caution = "An isolation that anyone can undo is no isolation.";
  judge_tick(s, x.locked, "the point of isolation was locked off",
             "the point of isolation was not locked off",
             "nothing says that the point of isolation was locked off", std::move(ask));
}

void proved_dead(Scene& s) {
  const record::Isolation& x = s.job.isolation;
  if (!x.proved_dead) {
    Finding& f = s.add(Verdict::missing, Stage::isolation, "isolation.proved_dead", "Proved dead",
                       "nothing says when the circuit was proved dead", x.span);
    f.action =
        "Prove the indicator, test line–neutral, line–earth and neutral–earth, prove it again; "
        "enter the time.";
    f.caution = "Do not touch conductors that were not proved dead by yourself.";
    return;
  }
  s.add(Verdict::pass, Stage::isolation, "isolation.proved_dead", "Proved dead", "proved dead",
        x.proved_dead.span)
      .reading = x.proved_dead->words();
}

void known_tool(Scene& s, const record::Text& key, std::string_view cell, std::string subject,
                std::string action) {
  const record::Instrument* tool = key ? s.installer.instrument(*key) : nullptr;
  Finding& f =
      s.add(tool ? Verdict::pass : Verdict::missing, Stage::isolation,
            "isolation." + std::string(cell), subject,
            tool  ? subject + " is known"
            : key ? fmt::format("{} \"{}\" is not among the installer's instruments", subject, *key)
                  : subject + " is not recorded",
            key.span.valid() ? key.span : s.job.isolation.span);
  if (tool)
    f.reading = tool->id;
  else
    f.action = std::move(action);
}

void indicator(Scene& s) {
  known_tool(s, s.job.isolation.indicator, "indicator", "Voltage indicator",
             "Name the two-pole indicator that was used; a multimeter or a test pen is not one.");
  known_tool(s, s.job.isolation.proving_unit, "proving_unit", "Proving unit",
             "Name the proving unit (or known source) on which the indicator was proved before and "
             "after.");
}

/// Dead tests and energising in their order, circuit by circuit.
void order_of_work(Scene& s) {
  const record::Circuit& c = *s.circuit;
  const auto& dead = s.job.isolation.proved_dead;
  const auto out_of_order = [&](const record::Field<DateTime>& later,
                                const record::Field<DateTime>& earlier, std::string cell,
                                std::string message, std::string label) {
    Finding& f = s.add(Verdict::doubtful, Stage::isolation, std::move(cell), "Order of work",
                       std::move(message), later.span);
    f.reading = later->words();
    f.labels = {{earlier.span, std::move(label)}};
    f.causes = {"a time was entered wrong", "the steps were done out of order"};
    f.action = "Correct the time. If the order was truly this, prove dead and test again.";
  };
  if (c.dead.done && dead && *c.dead.done < *dead)
    out_of_order(c.dead.done, dead, "dead.done",
                 "the dead tests are timed before the circuit was proved dead", "proved dead here");
  if (c.live.energised && c.dead.done && *c.live.energised < *c.dead.done)
    out_of_order(c.live.energised, c.dead.done, "live.energised",
                 "the circuit was energised before its dead tests were done",
                 "dead tests done here");
  if (c.live.energised && dead && *c.live.energised < *dead && !c.dead.done)
    out_of_order(c.live.energised, dead, "live.energised",
                 "the circuit was energised before it was proved dead", "proved dead here");
}

constexpr Row kRows[] = {
    {{"isolation", "Isolated and locked off",
      "Before anything is touched the supply is cut off at a named point and locked.",
      "safe isolation sequence (engx.theiet.org 32073; BEIW p39)", Confirmable::never},
     Over::job,
     isolated},
    {{"proved-dead", "Proved dead",
      "Line–neutral, line–earth and neutral–earth (all ten pairs on three phases), with date and "
      "time.",
      "safe isolation sequence (engx.theiet.org 32073; BEIW p39)", Confirmable::never},
     Over::job,
     proved_dead},
    {{"indicator", "Indicator and proving unit",
      "The indicator is proved on a known source or proving unit before and after; both are known "
      "by name.",
      "safe isolation sequence (engx.theiet.org 32073; BEIW p39)", Confirmable::never},
     Over::job,
     indicator},
    {{"order-of-work", "The order of work",
      "Proved dead, then dead tests, then energised: times that say otherwise are a slip or a "
      "danger.",
      "common practice", Confirmable::never},
     Over::circuit,
     order_of_work},
};

}  // namespace

std::span<const Row> isolation_rows() {
  return kRows;
}

}  // namespace ohmleaf::checks
