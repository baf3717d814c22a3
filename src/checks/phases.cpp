#include <fmt/format.h>

#include <algorithm>

#include "checks/facts.h"
#include "checks/judge.h"
#include "checks/slip.h"
#include "limits/supply.h"

// Three phases: the lines of one circuit are of one length and one size, and follow in turn.

namespace ohmleaf::checks {
namespace {

/// One part of a divided reading that is a plain figure.
struct Line {
  std::size_t index;
  Decimal value;
};

template <class Q, class Set>
std::vector<Line> lines(const record::Split<Q, Set>& split) {
  std::vector<Line> out;
  for (std::size_t i = 0; i < 3; ++i)
    if (const auto v = figure(split.parts[i])) out.push_back({i, *v});
  return out;
}

/// The one that stands in the middle of three.
Decimal middle(std::vector<Line> all) {
  std::sort(all.begin(), all.end(), [](const Line& a, const Line& b) { return a.value < b.value; });
  return all[1].value;
}

/// Lines of one circuit: a quarter more or less, and what a loop test scatters.
template <class Q, class Set>
void alike(Scene& s, const record::Split<Q, Set>& split, const std::string& cell,
           const std::string& subject, Stage stage, const Decimal& scatter) {
  if (!split.divided()) return;
  const std::vector<Line> all = lines(split);
  if (all.size() < 3) return;
  const Decimal mid = middle(all);
  const auto agrees = [&](const Decimal& v) {
    return (v - mid).abs() <= mid * Decimal(25, 2) + scatter;
  };
  for (const Line& line : all) {
    if (agrees(line.value)) continue;
    const auto& field = split.parts[line.index];
    const std::string name(Set::names[line.index]);
    const auto slips = single_slips({{subject, field->text, line.value}},
                                    [&](const auto& v) { return agrees(v[0]); });
    Finding& f =
        s.add(Verdict::doubtful, stage, cell + "." + name, part_subject(subject, name),
              fmt::format("{} {} stands apart from the other lines, which show about {} {}{}",
                          part_subject(subject, name), shown_of(field), mid.short_str(),
                          Q::unit::symbol, slip_tail(slips)),
              field.span);
    f.reading = shown_of(field);
    f.limit = "about " + mid.short_str() + " " + std::string(Q::unit::symbol);
    f.exact = mid.str();
    f.derivation = "lines of one circuit are of one length and size; a quarter and " +
                   scatter.short_str() + " " + std::string(Q::unit::symbol) + " allowed";
    f.causes = slips;
    f.causes.insert(f.causes.end(), {"a loose joint in that line", "another point was measured"});
    f.action =
        "Measure that line again at the same point as the others; if it stays, look for the joint.";
    f.caution = stage == Stage::live ? kBeforeJoint
                                     : kDeadFirst;
  }
}

void phases_alike(Scene& s) {
  const record::Circuit& c = *s.circuit;
  const Decimal ohms(5, 2), kiloamps(1, 1);
  alike(s, c.dead.r1r2, "dead.R1R2", "R1+R2", Stage::dead, ohms);
  alike(s, c.live.zs, "live.zs", "Zs", Stage::live, ohms);
  alike(s, c.live.pfc, "live.pfc", "Fault current", Stage::live, kiloamps);
}

void supply_phases_alike(Scene& s) {
  alike(s, s.job.supply.pfc, "supply.pfc", "Prospective fault current", Stage::live, Decimal(1, 1));
}

constexpr std::size_t kThree = 3;  ///< of EachCurrent: the three lines together

/// √3 times a line's by arithmetic, twice by the rule of thumb; more or less is a slip.
void three_against_one(Scene& s, const record::Split<Kiloamps, record::EachCurrent>& pfc,
                       const std::string& cell) {
  if (!pfc.divided()) return;
  const std::vector<Line> all = lines(pfc);
  const auto& field = pfc.parts[kThree];
  const auto three = figure(field);
  if (all.empty()) return;
  const Line& top = *std::max_element(
      all.begin(), all.end(), [](const Line& a, const Line& b) { return a.value < b.value; });
  const auto expected = limits::three_phase_fault_current(Kiloamps(top.value));
  const std::string at = cell + ".three-phase", subject = "Fault current, three-phase";
  if (!field) {
    s.add(Verdict::missing, Stage::live, at, subject,
          "the fault current between lines is not recorded, and it is the largest", pfc.span)
        .action =
        "Measure between two lines, or enter twice the largest line to neutral as three-phase.";
    return;
  }
  if (!three) return;
  const auto agrees = [&](const Decimal& both, const Decimal& one) {
    return both >= one * Decimal(15, 1) && both <= one * Decimal(22, 1);
  };
  if (agrees(*three, top.value)) return;
  const std::string line(record::EachCurrent::names[top.index]);
  const auto slips = single_slips(
      {{"three-phase", field->text, *three}, {line, pfc.parts[top.index]->text, top.value}},
      [&](const auto& v) { return agrees(v[0], v[1]); });
  Finding& f = s.add(Verdict::doubtful, Stage::live, at, subject,
                     fmt::format("fault current {} between lines does not fit {} of one line{}",
                                 shown_of(field), shown_of(pfc.parts[top.index]), slip_tail(slips)),
                     field.span);
  f.reading = shown_of(field);
  f.limit = "about " + expected.value.with_unit();
  f.exact = expected.exact;
  f.derivation = expected.derivation + "; 1.5 to 2.2 times the line's allowed";
  f.source = expected.source;
  f.provenance = expected.provenance;
  f.labels = {{pfc.parts[top.index].span, "one line"}};
  f.causes = slips;
  f.causes.insert(f.causes.end(), {"a single-phase figure was entered as the three-phase one",
                                   "the figures are of different boards"});
  f.action = "Measure line to neutral and line to line again at one point.";
  f.caution = "Live test at 400 V: insulated leads, covers on where they can be.";
}

void board_three(Scene& s) {
  three_against_one(s, s.circuit->live.pfc, "live.pfc");
}
void origin_three(Scene& s) {
  three_against_one(s, s.job.supply.pfc, "supply.pfc");
}

Ask sequence_ask(std::string cell, Span home) {
  Ask ask;
  ask.stage = Stage::live;
  ask.cell = std::move(cell);
  ask.subject = "Phase sequence";
  ask.home = home;
  ask.causes = {"two lines exchanged at a board or at a terminal"};
  ask.action =
      "Switch off, exchange two lines where the turn changes, and test again: motors run "
      "backwards.";
  ask.if_missing = "Try the phase sequence with a phase indicator, and record it.";
  ask.caution = "Isolate, lock off and prove dead, all ten pairs, before you exchange lines.";
  return ask;
}

void sequence(Scene& s) {
  const record::Circuit& c = *s.circuit;
  if (!is_three_phase(c)) return;
  judge_tick(s, c.live.phase_sequence, "the phases follow in the right turn",
             "the phases do not follow in the right turn", "the phase sequence is not recorded",
             sequence_ask("live.phase_sequence", home(c.live.span, c)));
}

void supply_sequence(Scene& s) {
  const record::Flag& flag = s.job.supply.phase_sequence;
  if (!is_three_phase(s.job)) return;
  judge_tick(s, flag, "the phases of the supply follow in the right turn",
             "the phases of the supply do not follow in the right turn",
             "the phase sequence of the supply is not recorded",
             sequence_ask("supply.phase_sequence", s.job.supply.span));
}

constexpr Row kRows[] = {
    {{"phase-sequence", "Phase sequence of a three-phase circuit",
      "The three lines follow in the same turn at the end of the circuit as at its origin.",
      "BS 7671 643.9 (number from memory)", Confirmable::never},
     Over::circuit,
     sequence},
    {{"phase-sequence-supply", "Phase sequence of the supply",
      "The turn of the three lines at the origin is known before anything is fed from it.",
      "BS 7671 643.9 (number from memory)", Confirmable::never},
     Over::job,
     supply_sequence},
    {{"phases-alike", "Lines of one circuit",
      "R1+R2, Zs and fault current of the three lines are near one another: one that stands apart "
      "is "
      "a slip, a joint, or another point.",
      "common practice", Confirmable::with_reason},
     Over::circuit,
     phases_alike},
    {{"phases-alike-origin", "Fault currents of the supply's lines",
      "The three lines of one supply show nearly the same fault current.", "common practice",
      Confirmable::with_reason},
     Over::job,
     supply_phases_alike},
    {{"fault-current-three", "Three-phase fault current against one line's, at the board",
      "Between lines the fault current is √3 times that of a line and neutral, twice by the rule "
      "of "
      "thumb.",
      "the source named with the figure", Confirmable::with_reason},
     Over::circuit,
     board_three},
    {{"fault-current-three-origin", "Three-phase fault current against one line's, at the origin",
      "Between lines the fault current is √3 times that of a line and neutral, twice by the rule "
      "of "
      "thumb.",
      "the source named with the figure", Confirmable::with_reason},
     Over::job,
     origin_three},
};

}  // namespace

std::span<const Row> phase_rows() {
  return kRows;
}

}  // namespace ohmleaf::checks
