#include "checks/expected.h"

#include <fmt/format.h>

#include "checks/facts.h"
#include "checks/judge.h"
#include "limits/conductor.h"
#include "limits/protection.h"

namespace ohmleaf::checks {
namespace {

using record::Circuit;

bool is_ring(const Circuit& c) {
  return c.type && *c.type == record::CircuitType::ring_final;
}

std::string by_length(const Circuit& c) {
  const auto& cable = c.cable;
  if (is_ring(c) || !cable.line || !cable.cpc || !cable.length) return {};
  const auto r =
      limits::expected_r1r2(*cable.line, *cable.cpc, *cable.length, Celsius(Decimal::integer(20)));
  if (!r) return {};
  return fmt::format("about {} Ω, from {} of {}/{} mm² at 20 °C",
                     r->value.rounded(2, Round::half_up).str(), cable.length->with_unit(),
                     cable.line->str(), cable.cpc->str());
}

/// The ring's own readings; what is not there yet counts as zero, and is not looked at.
std::optional<limits::Ring> ring_of(const Circuit& c) {
  const auto r1 = figure(c.dead.r1);
  if (!is_ring(c) || !r1) return std::nullopt;
  std::optional<SquareMm> line, cpc;
  if (c.cable.line) line = *c.cable.line;
  if (c.cable.cpc) cpc = *c.cable.cpc;
  const Decimal zero = Decimal::integer(0);
  return limits::ring(Ohms(*r1), Ohms(figure(c.dead.rn).value_or(zero)),
                      Ohms(figure(c.dead.r2).value_or(zero)), line, cpc);
}

std::string hundredths(const Ohms& r) {
  return r.rounded(2, Round::half_up).str() + " Ω";
}

std::string rn(const Circuit& c) {
  const auto r1 = figure(c.dead.r1);
  if (!is_ring(c) || !r1) return {};
  return fmt::format("about {} Ω, as r1", c.dead.r1->text);
}

std::string r2(const Circuit& c) {
  const auto ring = ring_of(c);
  if (!ring || !ring->expected_r2) return {};
  return fmt::format("about {}, from r1 and the sizes", hundredths(ring->expected_r2->value));
}

std::string r1r2(const Circuit& c) {
  const auto ring = ring_of(c);
  if (!ring || !figure(c.dead.r2)) return by_length(c);
  return fmt::format("up to about {} on the ring, more on a spur: (r1 + r2) ÷ 4",
                     hundredths(ring->line_cpc.value));
}

std::string zs(const record::Job& job, const Circuit& c) {
  const auto ze = figure(job.supply.ze), r = figure(c.dead.r1r2);
  if (is_tt(job) || !ze || !r) return {};
  return fmt::format("about {}: Ze {} + (R1+R2) {}", hundredths(Ohms(*ze + *r)),
                     job.supply.ze->text, c.dead.r1r2->text);
}

/// Line to neutral it is seldom less than this; on TT the earth loop says nothing about it.
std::string fault_current(const record::Job& job) {
  const auto ze = figure(job.supply.ze);
  if (is_tt(job) || !ze || ze->is_zero()) return {};
  const auto amps = limits::fault_current(Ohms(*ze), u0(job));
  const Decimal kilo = (amps.value.decimal() * Decimal(1, 3)).rounded(1, Round::half_up);
  if (kilo.is_void()) return {};
  return fmt::format("about {} kA or more: {} ÷ Ze", kilo.str(), u0(job).with_unit());
}

}  // namespace

std::string expected_value(const record::Job& job, int circuit, std::string_view cell) {
  if (cell == "supply.pfc") return fault_current(job);
  if (circuit < 0 || static_cast<std::size_t>(circuit) >= job.circuits.size()) return {};
  const Circuit& c = job.circuits[static_cast<std::size_t>(circuit)];
  if (cell == "dead.rn") return rn(c);
  if (cell == "dead.r2") return r2(c);
  if (cell == "dead.R1R2") return r1r2(c);
  if (cell == "live.zs") return zs(job, c);
  return {};
}

}  // namespace ohmleaf::checks
