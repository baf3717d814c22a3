#include <fmt/format.h>

#include <algorithm>

#include "checks/facts.h"
#include "checks/judge.h"
#include "checks/slip.h"
#include "limits/conductor.h"

// Continuity of the protective conductor, and polarity, dead and live.

namespace ohmleaf::checks {
namespace {

bool is_ring(const record::Circuit& c) {
  return c.type && *c.type == record::CircuitType::ring_final;
}

Ask dead_ask(const Scene& s, std::string cell, std::string subject) {
  Ask ask;
  ask.stage = Stage::dead;
  ask.cell = std::move(cell);
  ask.subject = std::move(subject);
  ask.home = home(s.circuit->dead.span, *s.circuit);
  ask.caution = kDeadFirst;
  return ask;
}

/// An open conductor shows as "more than the instrument can read".
template <class Field>
bool open_circuit(Scene& s, const Field& field, std::string cell, std::string subject) {
  if (!field || field->kind != ReadingKind::above) return false;
  Finding& f = s.add(
      Verdict::fail, Stage::dead, std::move(cell), subject,
      fmt::format("{} {}: the conductor is not continuous", subject, shown_of(field)), field.span);
  f.reading = shown_of(field);
  f.causes = {"an open joint at an accessory or at the board", "the wrong conductor was linked"};
  f.action =
      "Leave the circuit isolated. Halve the run and test each half until the break is found.";
  f.caution = "Do not energise a circuit whose protective conductor is not proved.";
  return true;
}

void pass(Scene& s, const record::Measured<Ohms>& field, std::string cell, std::string subject) {
  Finding& f = s.add(Verdict::pass, Stage::dead, std::move(cell), subject,
                     subject + " is continuous", field.span);
  f.reading = shown_of(field);
}

void one_continuity(Scene& s, const record::Measured<Ohms>& field, const std::string& cell,
                    const std::string& subject) {
  if (open_circuit(s, field, cell, subject)) return;
  Ask ask = dead_ask(s, cell, subject);
  ask.if_missing =
      is_ring(*s.circuit)
          ? "Cross-connect line and protective conductor at the board and record the highest "
            "reading at any socket-outlet."
          : "Link line and protective conductor at the board and measure at the farthest point, "
            "or use the long lead and record R2.";
  if (require(s, field, ask)) pass(s, field, cell, subject);
}

void continuity(Scene& s) {
  const record::DeadTests& d = s.circuit->dead;
  if (!d.r1r2 && d.r2_only && !is_ring(*s.circuit)) {
    one_continuity(s, d.r2_only, "dead.R2", "R2");
    return;
  }
  each_part(d.r1r2, "dead.R1R2", "R1+R2",
            [&](const auto& field, const std::string& cell, const std::string& subject) {
              one_continuity(s, field, cell, subject);
            });
}

/// Both figures given on a radial: R2 is part of R1+R2.
void r2_within(Scene& s) {
  const record::DeadTests& d = s.circuit->dead;
  const auto both = highest(d.r1r2), part = highest(d.r2_only);
  if (!both || !part || is_ring(*s.circuit) || *part <= *both) return;
  Finding& f = s.add(Verdict::doubtful, Stage::dead, "dead.R2", "R2",
                     fmt::format("R2 {} is more than R1+R2 {}, of which it is a part",
                                 shown_of(d.r2_only), shown_of(d.r1r2)),
                     d.r2_only.span);
  f.reading = shown_of(d.r2_only);
  f.limit = "≤ " + shown_of(d.r1r2);
  f.labels = {{d.r1r2.span, "R1+R2"}};
  f.causes = {"the two were swapped", "the long lead was not nulled"};
  f.action = "Null the leads and measure both again.";
}

struct Expected {
  Decimal value;
  limits::Derived<Ohms> derived;
};
/// R1+R2 by length and size at the conductors' temperature (20 °C where unknown); a quarter on a
/// ring, whose length is that of the whole loop.
std::optional<Expected> by_length(const record::Circuit& c) {
  if (!c.cable.line || !c.cable.cpc || !c.cable.length) return std::nullopt;
  const Celsius t = c.dead.ambient.value_or(Celsius(Decimal::integer(20)));
  auto d = limits::expected_r1r2(*c.cable.line, *c.cable.cpc, *c.cable.length, t);
  if (!d) return std::nullopt;
  Decimal value = d->value.decimal();
  if (is_ring(c)) {
    value = Decimal::divide(value, Decimal::integer(4), 4, Round::half_up);
    d->derivation += " ÷ 4 for a ring = " + value.str() + " Ω";
  }
  return Expected{value, *d};
}

void by_size_and_length(Scene& s) {
  const record::Circuit& c = *s.circuit;
  const auto read = highest(c.dead.r1r2);
  const auto expected = by_length(c);
  if (!read || !expected) return;
  // A length on a job sheet is an estimate: half as much again, and 0.05 Ω for joints and leads.
  // Joints and leads only add: below, it is half the length and what the instrument may be out by.
  const record::Instrument* meter = instrument_of(s.job, s.installer, c.dead.instrument);
  const Decimal low =
      std::max(Decimal(2, 2), declared(meter, &record::Instrument::continuity_ohms));
  const auto agrees = [&](const Decimal& r, const Decimal& e) {
    const Decimal half = e * Decimal(5, 1);
    return r >= e ? r <= e + half + Decimal(5, 2) : r >= e - half - low;
  };
  if (agrees(*read, expected->value)) return;
  const std::vector<Figure> figures = {
      {"R1+R2", c.dead.r1r2->text, *read},
      {"the length", c.cable.length->str(), c.cable.length->decimal()}};
  const auto slips = single_slips(figures, [&](const std::vector<Decimal>& v) {
    if (v[1].is_zero()) return false;
    const Decimal e =
        Decimal::divide(expected->value * v[1], c.cable.length->decimal(), 4, Round::half_up);
    return agrees(v[0], e);
  });
  Finding& f =
      s.add(Verdict::doubtful, Stage::dead, "dead.R1R2", "R1+R2",
            fmt::format("R1+R2 {} does not fit {} of this cable, about {} Ω{}",
                        shown_of(c.dead.r1r2), c.cable.length->with_unit(),
                        expected->value.rounded(2, Round::half_up).str(), slip_tail(slips)),
            c.dead.r1r2.span);
  f.reading = shown_of(c.dead.r1r2);
  f.limit = "about " + expected->value.rounded(2, Round::half_up).str() + " Ω";
  f.exact = expected->value.str();
  f.derivation = expected->derived.derivation +
                 "; half as much again and 0.05 Ω allowed, half as much less and " +
                 low.short_str() + " Ω";
  f.source = expected->derived.source;
  f.provenance = expected->derived.provenance;
  f.labels = {{c.cable.length.span, "this length"}, {c.cable.line.span, "this size"}};
  f.causes = slips;
  f.causes.push_back(*read > expected->value ? "a poor joint, or leads not nulled"
                                             : "a parallel path, or a shorter run");
  f.causes.push_back("the length or the size is not what was entered");
  f.action = "Null the leads and measure again; then check length and size.";
}

void polarity_dead(Scene& s) {
  Ask ask = dead_ask(s, "dead.polarity", "Polarity, dead");
  ask.causes = {"line and neutral crossed at an accessory", "a switch or fuse in the neutral"};
  ask.action = "Leave the circuit isolated, find the crossed connection and test again.";
  ask.if_missing = "Confirm at every point, dead, that switches and devices are in the line only.";
  judge_tick(s, s.circuit->dead.polarity, "polarity is right, dead", "polarity is wrong, dead",
             "polarity is not confirmed by a dead test", std::move(ask));
}

void polarity_live(Scene& s) {
  const record::Circuit& c = *s.circuit;
  Ask ask = dead_ask(s, "live.polarity", "Polarity, live");
  ask.stage = Stage::live;
  ask.home = home(c.live.span, c);
  ask.causes = {"line and neutral crossed at an accessory or at the board", "a reversed supply"};
  ask.action =
      "Switch off and lock off at once; find the crossed connection, prove it by a dead test.";
  ask.if_missing = "Confirm polarity with the circuit energised, at the farthest point.";
  ask.caution = "Reversed polarity leaves parts live when switched off.";
  judge_tick(s, c.live.polarity, "polarity is right, live", "polarity is wrong, live",
             "polarity is not confirmed with the circuit energised", std::move(ask));
}

void functional(Scene& s) {
  const record::Circuit& c = *s.circuit;
  Ask ask = dead_ask(s, "live.functional", "Functional test");
  ask.stage = Stage::live;
  ask.home = home(c.live.span, c);
  ask.caution.clear();
  ask.action = "Find out why it does not work before you leave.";
  ask.if_missing = "Try what the circuit feeds: switches, interlocks, isolators, and record it.";
  bool all_tried = !c.accessories.empty();
  for (const auto& a : c.accessories) all_tried = all_tried && a.function_tested.value_or(false);
  if (!c.live.functional && all_tried) {
    s.add(Verdict::pass, Stage::live, ask.cell, ask.subject, "every accessory added was tried",
          c.span);
    return;
  }
  judge_tick(s, c.live.functional, "the circuit does what it should",
             "the circuit does not work as it should", "no functional test is recorded", std::move(ask));
}

constexpr Row kRows[] = {
    {{"continuity", "Continuity of the protective conductor",
      "R1+R2 (or R2 by the long lead on a radial) proves that the protective conductor reaches the "
      "farthest "
      "point. It is never declared away.",
      "BS 7671 643.2.1 (number from memory)", Confirmable::never},
     Over::circuit,
     continuity},
    {{"r2-within-r1r2", "R2 within R1+R2", "R2 is a part of R1+R2 and cannot be more.",
      "arithmetic", Confirmable::never},
     Over::circuit,
     r2_within},
    {{"r1r2-length", "R1+R2 against length and size",
      "Where the length is known, R1+R2 must fit the resistance of the conductors.",
      "IEC 60228 resistances, named with each figure", Confirmable::with_reason},
     Over::circuit,
     by_size_and_length},
    {{"polarity-dead", "Polarity by dead test",
      "Single-pole devices and switches stand in the line only. Proved dead, before anything is "
      "energised.",
      "BS 7671 643.6 (number from memory)", Confirmable::never},
     Over::circuit,
     polarity_dead},
    {{"polarity-live", "Polarity, energised", "The same confirmed with the circuit energised.",
      "BS 7671 643.6 (number from memory)", Confirmable::never},
     Over::circuit,
     polarity_live},
    {{"functional", "Functional test", "What the circuit feeds is tried, and works.",
      "BS 7671 643.10 (number from memory)", Confirmable::never},
     Over::circuit,
     functional},
};

}  // namespace

std::span<const Row> continuity_rows() {
  return kRows;
}

}  // namespace ohmleaf::checks
