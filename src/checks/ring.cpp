#include <fmt/format.h>

#include "checks/facts.h"
#include "checks/judge.h"
#include "checks/slip.h"
#include "limits/conductor.h"

// The ring final circuit: three loops that close, whose readings are tied to one another.
//
//   r1, rn, r2   end to end: line, neutral, protective conductor
//   r1 ≈ rn      same size, same run
//   r2 = r1 × (resistance of the protective conductor ÷ resistance of the line)
//   cross-connected line–cpc readings lie between r1·r2 ÷ (r1+r2) at the board and (r1+r2) ÷ 4 in
//   the middle; a spur reads higher. The highest is R1+R2.

namespace ohmleaf::checks {
namespace {

Decimal leads() {
  return Decimal(5, 2);
}  // 0.05 Ω: joints, leads, plugs

bool is_ring(const record::Circuit& c) {
  return c.type && *c.type == record::CircuitType::ring_final;
}

struct Loop {
  const record::Measured<Ohms>& field;
  const char* name;
  const char* cell;
  const char* conductor;
};
std::vector<Loop> loops(const record::DeadTests& d) {
  return {{d.r1, "r1", "dead.r1", "line"},
          {d.rn, "rn", "dead.rn", "neutral"},
          {d.r2, "r2", "dead.r2", "protective conductor"}};
}

void ring_closes(Scene& s) {
  const record::Circuit& c = *s.circuit;
  if (!is_ring(c)) return;
  for (const Loop& loop : loops(c.dead)) {
    if (loop.field && loop.field->kind == ReadingKind::above) {
      Finding& f = s.add(Verdict::fail, Stage::dead, loop.cell, loop.name,
                         fmt::format("{} {}: the {} loop does not close", loop.name,
                                     shown_of(loop.field), loop.conductor),
                         loop.field.span);
      f.reading = shown_of(loop.field);
      f.causes = {"a conductor out of its terminal at an accessory",
                  "the wrong pair of ends at the board"};
      f.action =
          "Leave the circuit isolated. Halve the ring at a middle point and find the open leg.";
      f.caution = "An open ring loads one leg beyond its cable. Do not energise.";
      continue;
    }
    Ask ask;
    ask.stage = Stage::dead;
    ask.cell = loop.cell;
    ask.subject = loop.name;
    ask.home = home(c.dead.span, c);
    ask.if_missing =
        fmt::format("Measure the {} end to end with both legs out at the board.", loop.conductor);
    ask.caution = kDeadFirst;
    if (require(s, loop.field, ask))
      s.add(Verdict::pass, Stage::dead, loop.cell, loop.name,
            fmt::format("the {} loop closes", loop.conductor), loop.field.span)
          .reading = shown_of(loop.field);
  }
}

struct Values {
  Decimal r1, rn, r2;
};
std::optional<Values> values(const record::DeadTests& d) {
  const auto r1 = highest(d.r1), rn = highest(d.rn), r2 = highest(d.r2);
  if (!r1 || !rn || !r2) return std::nullopt;
  return Values{*r1, *rn, *r2};
}

bool near(const Decimal& a, const Decimal& b, const Decimal& within) {
  return (a - b).abs() <= within;
}

void fill(Finding& f, const std::string& reading, const std::string& limit,
          const std::string& exact) {
  f.reading = reading;
  f.limit = limit;
  f.exact = exact;
}

void line_neutral(Scene& s) {
  const record::DeadTests& d = s.circuit->dead;
  const auto r1 = highest(d.r1), rn = highest(d.rn);
  if (!is_ring(*s.circuit) || !r1 || !rn) return;
  const auto tolerance = limits::ring_line_neutral_tolerance(s.edition);
  const auto agrees = [&](const Decimal& a, const Decimal& b) {
    return near(a, b, tolerance.value.decimal());
  };
  if (agrees(*r1, *rn)) return;
  std::vector<Figure> figures = {{"r1", d.r1->text, *r1}, {"rn", d.rn->text, *rn}};
  if (const auto r2 = highest(d.r2)) figures.push_back({"r2", d.r2->text, *r2});
  const auto slips = single_slips(figures, [&](const auto& v) { return agrees(v[0], v[1]); });
  Finding& f = s.add(Verdict::doubtful, Stage::dead, "dead.rn", "r1 and rn",
                     fmt::format("r1 {} and rn {} of one ring differ by {} Ω{}", shown_of(d.r1),
                                 shown_of(d.rn), (*r1 - *rn).abs().short_str(), slip_tail(slips)),
                     d.rn.span);
  fill(f, shown_of(d.rn), "r1 ± " + tolerance.value.with_unit(), tolerance.exact);
  f.derivation = tolerance.derivation;
  f.source = tolerance.source;
  f.provenance = tolerance.provenance;
  f.labels = {{d.r1.span, "r1"}};
  f.causes = slips;
  f.causes.insert(f.causes.end(), {"a loose terminal in one of the loops",
                                   "a bridge across the ring in one conductor"});
  f.action =
      "Measure both again end to end; then cross-connect and look for the point that deviates.";
}

std::optional<limits::Ring> arithmetic(const record::Circuit& c, const Values& v) {
  std::optional<SquareMm> line, cpc;
  if (c.cable.line) line = *c.cable.line;
  if (c.cable.cpc) cpc = *c.cable.cpc;
  return limits::ring(Ohms(v.r1), Ohms(v.rn), Ohms(v.r2), line, cpc);
}

void protective_ratio(Scene& s) {
  const record::Circuit& c = *s.circuit;
  const auto v = values(c.dead);
  if (!is_ring(c) || !v) return;
  const auto ring = arithmetic(c, *v);
  if (!ring || !ring->expected_r2) return;
  const Decimal ratio =
      Decimal::divide(ring->expected_r2->value.decimal(), v->r1, 6, Round::half_up);
  if (ratio.is_void()) return;
  const auto agrees = [&](const Decimal& r1, const Decimal& r2) {
    const Decimal expected = r1 * ratio;
    return near(r2, expected, expected * Decimal(10, 2) + leads());
  };
  if (agrees(v->r1, v->r2)) return;
  const std::vector<Figure> figures = {{"r1", c.dead.r1->text, v->r1},
                                       {"r2", c.dead.r2->text, v->r2}};
  const auto slips = single_slips(figures, [&](const auto& x) { return agrees(x[0], x[1]); });
  Finding& f =
      s.add(Verdict::doubtful, Stage::dead, "dead.r2", "r2 against r1",
            fmt::format("r2 {} does not fit r1 {}: {} Ω expected for these sizes{}",
                        shown_of(c.dead.r2), shown_of(c.dead.r1),
                        ring->expected_r2->value.decimal().rounded(2, Round::half_up).str(),
                        slip_tail(slips)),
            c.dead.r2.span);
  fill(f, shown_of(c.dead.r2),
       "about " + ring->expected_r2->value.rounded(2, Round::half_up).with_unit(),
       ring->expected_r2->exact);
  f.derivation = ring->expected_r2->derivation + "; 10 % and 0.05 Ω allowed";
  f.source = ring->expected_r2->source;
  f.provenance = ring->expected_r2->provenance;
  f.labels = {{c.dead.r1.span, "r1"}, {c.cable.cpc.span, "this size"}};
  f.causes = slips;
  f.causes.insert(
      f.causes.end(),
      {v->r2 > v->r1 * ratio ? "a loose protective conductor, or part of the ring in a smaller size"
                             : "a parallel path through metal boxes or pipes",
       "the sizes are not those entered"});
  f.action = "Measure r2 again end to end; check the sizes at the board.";
}

bool has_spur(const record::Circuit& c) {
  for (const auto& a : c.accessories)
    if (a.connection && (*a.connection == record::Connection::unfused_spur ||
                         *a.connection == record::Connection::fused_spur))
      return true;
  return false;
}

/// Where the highest cross-connected reading can lie.
struct Range {
  Decimal low, high;
};
Range crossed_range(const Decimal& a, const Decimal& b, bool spur) {
  const Decimal sum = a + b;
  const Decimal low = Decimal::divide(a * b, sum, 4, Round::down) - leads();
  Decimal high = Decimal::divide(sum, Decimal::integer(4), 4, Round::up) + leads();
  if (spur) high = high + Decimal(30, 2);  // about 15 m of 2.5/1.5
  return {low, high};
}
bool inside(const Decimal& v, const Range& r) {
  return v >= r.low && v <= r.high;
}

void r1r2(Scene& s) {
  const record::Circuit& c = *s.circuit;
  const auto v = values(c.dead);
  const auto read = highest(c.dead.r1r2);
  if (!is_ring(c) || !v || !read) return;
  const bool spur = has_spur(c);
  if (inside(*read, crossed_range(v->r1, v->r2, spur))) return;
  const auto ring = arithmetic(c, *v);
  if (!ring) return;
  const std::vector<Figure> figures = {{"R1+R2", c.dead.r1r2->text, *read},
                                       {"r1", c.dead.r1->text, v->r1},
                                       {"r2", c.dead.r2->text, v->r2}};
  const auto slips = single_slips(
      figures, [&](const auto& x) { return inside(x[0], crossed_range(x[1], x[2], spur)); });
  const bool high = *read > ring->line_cpc.value.decimal();
  Finding& f = s.add(Verdict::doubtful, Stage::dead, "dead.R1R2", "R1+R2 of the ring",
                     fmt::format("R1+R2 {} does not fit (r1+r2) ÷ 4 = {} Ω{}",
                                 shown_of(c.dead.r1r2), ring->line_cpc.exact, slip_tail(slips)),
                     c.dead.r1r2.span);
  fill(f, shown_of(c.dead.r1r2),
       "about " + ring->line_cpc.value.rounded(2, Round::half_up).with_unit(),
       ring->line_cpc.exact);
  f.derivation =
      ring->line_cpc.derivation +
      (spur ? "; 0.05 Ω for leads and 0.30 Ω for a spur allowed" : "; 0.05 Ω for leads allowed");
  f.source = ring->line_cpc.source;
  f.provenance = ring->line_cpc.provenance;
  f.labels = {{c.dead.r1.span, "r1"}, {c.dead.r2.span, "r2"}};
  f.causes = slips;
  if (high)
    f.causes.insert(f.causes.end(),
                    {"a spur, which reads higher than the ring", "a loose joint at that point"});
  else
    f.causes.insert(f.causes.end(),
                    {"the reading is not the highest of the ring", "a bridge across the ring"});
  f.action = high ? "Find the socket-outlet that reads highest: a spur is entered as such; "
                    "otherwise open its joints."
                  : "Read at every socket-outlet with line and protective conductor crossed, and "
                    "enter the highest.";
}

void crossed(Scene& s) {
  const record::Circuit& c = *s.circuit;
  if (!is_ring(c)) return;
  Ask ask;
  ask.stage = Stage::dead;
  ask.cell = "dead.ring_crossed";
  ask.subject = "Ring, cross-connected";
  ask.home = home(c.dead.span, c);
  ask.action =
      "Cross-connect line with neutral, then line with protective conductor, and read at every "
      "point.";
  ask.if_missing =
      "Cross-connect line with neutral, then line with protective conductor, read at every "
      "socket-outlet, and tick ring_crossed.";
  ask.caution = kDeadFirst;
  const bool read = c.dead.cross_ln && c.dead.cross_lc;
  if (!c.dead.ring_crossed && read) {
    s.add(Verdict::pass, Stage::dead, ask.cell, ask.subject,
          "the cross-connected readings are recorded", c.dead.cross_ln.span);
    return;
  }
  judge_tick(s, c.dead.ring_crossed, "every point was read with the ends cross-connected",
             "the cross-connected steps were not done", "the cross-connected steps are not ticked",
             ask);
}

void cross_reading(Scene& s, const record::Measured<Ohms>& field, const char* cell,
                   const char* subject, const Decimal& a, const Decimal& b,
                   const limits::Derived<Ohms>& expected) {
  const auto read = figure(field);
  const bool spur = has_spur(*s.circuit);
  if (!read || inside(*read, crossed_range(a, b, spur))) return;
  const auto slips = single_slips({{subject, field->text, *read}}, [&](const auto& v) {
    return inside(v[0], crossed_range(a, b, spur));
  });
  Finding& f = s.add(Verdict::doubtful, Stage::dead, cell, subject,
                     fmt::format("{} {} does not fit a quarter of the loops, {} Ω{}", subject,
                                 shown_of(field), expected.exact, slip_tail(slips)),
                     field.span);
  fill(f, shown_of(field), "about " + expected.value.rounded(2, Round::half_up).with_unit(),
       expected.exact);
  f.derivation = expected.derivation;
  f.source = expected.source;
  f.provenance = expected.provenance;
  f.causes = slips;
  f.causes.insert(f.causes.end(),
                  {"opposite ends were not crossed at the board", "a spur (one point reads high)",
                   "a bridged ring or an interconnection (readings change from point to point)"});
  f.action =
      "Check which ends are crossed, then read every point again and mark the one that deviates.";
}

void cross_readings(Scene& s) {
  const record::Circuit& c = *s.circuit;
  const auto v = values(c.dead);
  if (!is_ring(c) || !v) return;
  const auto ring = arithmetic(c, *v);
  if (!ring) return;
  cross_reading(s, c.dead.cross_ln, "dead.cross_ln", "Cross-connected line–neutral", v->r1, v->rn,
                ring->line_neutral);
  cross_reading(s, c.dead.cross_lc, "dead.cross_lc", "Cross-connected line–cpc", v->r1, v->r2,
                ring->line_cpc);
}

constexpr Row kRows[] = {
    {{"ring-closes", "Every loop of the ring closes",
      "r1, rn and r2 end to end, each there and each a closed loop.",
      "BS 7671 643.2.1 (number from memory); method common practice", Confirmable::never},
     Over::circuit,
     ring_closes},
    {{"ring-line-neutral", "r1 and rn of one ring",
      "Line and neutral are of one size and one run, so they agree within 0.05 Ω.",
      "common practice", Confirmable::with_reason},
     Over::circuit,
     line_neutral},
    {{"ring-ratio", "r2 against r1",
      "The protective conductor's loop follows from the line's by the ratio of the resistances "
      "(1.633 for "
      "2.5/1.5 mm²), not of the areas.",
      "IEC 60228 resistances", Confirmable::with_reason},
     Over::circuit,
     protective_ratio},
    {{"ring-r1r2", "R1+R2 of a ring",
      "Cross-connected line–cpc readings rise from r1·r2 ÷ (r1+r2) at the board to (r1+r2) ÷ 4 in "
      "the middle; "
      "a spur reads higher.",
      "ring arithmetic (machineryequipmentonline.com; scribd 72915510)", Confirmable::with_reason},
     Over::circuit,
     r1r2},
    {{"ring-crossed", "Cross-connected steps",
      "The steps with crossed ends are done at every point; their readings are optional.",
      "common practice", Confirmable::never},
     Over::circuit,
     crossed},
    {{"ring-cross-readings", "Cross-connected readings",
      "Where they are recorded, they agree with the end-to-end readings.",
      "ring arithmetic (machineryequipmentonline.com; scribd 72915510)", Confirmable::with_reason},
     Over::circuit,
     cross_readings},
};

}  // namespace

std::span<const Row> ring_rows() {
  return kRows;
}

}  // namespace ohmleaf::checks
