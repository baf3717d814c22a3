#include <fmt/format.h>

#include "checks/facts.h"
#include "checks/judge.h"
#include "limits/installation.h"
#include "limits/protection.h"

// Will the protective conductor live through the fault that its device clears?
//
// S = √(I²t) ÷ k. A fuse lets through less the harder the fault, so the worst case within its limit
// is the limit itself: the current at the tabulated Zs for the tabulated time. A circuit-breaker
// opens within 0.1 s, and how much it lets through then only its maker knows: 0.1 s at the fault
// current of this circuit is the safe side, and where the conductor bears that, nothing more is
// needed.

namespace ohmleaf::checks {
namespace {

Decimal k_in_cable() {
  return Decimal::integer(115);
}  // copper, 70 °C, in the cable
Seconds tenth() {
  return Seconds(Decimal(1, 1));
}

struct Energy {
  Amps current;
  Seconds time;
  std::string words;
};

/// The worst fault that the fuse clears with this Zs. Nothing where no table reaches it.
std::optional<Energy> of_fuse(const Scene& s, const limits::Device& device, const Decimal& zs) {
  for (const Seconds time : {Seconds(Decimal(4, 1)), Seconds(Decimal::integer(5))}) {
    const auto limit = limits::max_zs(device, time, s.edition);
    if (!limit || !(zs <= limit->value.decimal())) continue;
    const auto current = limits::fault_current(limit->value, u0(s.job));
    return Energy{current.value, time,
                  "at the tabulated " + limit->value.with_unit() + " for " + time.with_unit()};
  }
  return std::nullopt;
}

std::optional<Energy> energy(const Scene& s, const Decimal& zs) {
  const limits::Device& device = *s.circuit->device;
  if (device.standard == limits::DeviceStandard::rccb) return std::nullopt;
  if (!device.is_breaker()) return of_fuse(s, device, zs);
  const auto limit = limits::max_zs(device, tenth(), s.edition);
  if (!limit || !(zs <= limit->value.decimal()) || zs.is_zero()) return std::nullopt;
  return Energy{limits::fault_current(Ohms(zs), u0(s.job)).value, tenth(),
                "circuit-breaker, at most 0.1 s"};
}

void adequate(Scene& s) {
  const record::Circuit& c = *s.circuit;
  const auto zs = figure(c.live.zs);
  if (is_tt(s.job) || !c.device || !c.cable.cpc || !zs) return;
  const auto e = energy(s, *zs);
  if (!e) return;
  const auto size = limits::adiabatic_size(e->current, e->time, k_in_cable());
  if (size.value.is_void()) return;
  const bool enough = *c.cable.cpc >= size.value;
  const bool breaker = c.device->is_breaker();
  const Verdict verdict = enough                     ? Verdict::pass
                          : breaker                  ? Verdict::note
                          : c.is_new.value_or(false) ? Verdict::fail
                                                     : Verdict::borderline;
  Finding& f = s.add(
      verdict, Stage::before, "cable.cpc", "Protective conductor",
      enough ? fmt::format("the protective conductor {} bears the fault, which needs {}",
                           c.cable.cpc->with_unit(), size.value.with_unit())
      : breaker
          ? fmt::format("whether {} bears the fault, only the maker's let-through energy shows",
                        c.cable.cpc->with_unit())
          : fmt::format("the protective conductor {} is less than the {} that the fault asks for",
                        c.cable.cpc->with_unit(), size.value.with_unit()),
      c.cable.cpc.span);
  f.reading = c.cable.cpc->with_unit();
  f.limit = "≥ " + size.value.with_unit();
  f.exact = size.exact;
  f.derivation = size.derivation + "; " + e->words + "; k = 115 for copper in a 70 °C cable";
  f.source = size.source;
  f.provenance = size.provenance;
  f.labels = {{c.device.span, "this device"}};
  if (enough) return;
  f.action = breaker
                 ? "Look up the device's I²t at this fault current: √(I²t) ÷ 115 must not exceed "
                   "the conductor."
                 : "Change the fuse for a circuit-breaker, or run a larger protective conductor.";
}

constexpr Row kRows[] = {
    {{"protective-conductor", "Protective conductor against the fault",
      "The adiabatic equation S = √(I²t) ÷ k: for a fuse at its tabulated limit, for a "
      "circuit-breaker at 0.1 s on the "
      "safe side. Where a circuit-breaker's own let-through would be needed, that is a note.",
      "BS 7671 543.1.3 (number from memory); k = 115: trade pocket guide PG14 p25",
      Confirmable::never},
     Over::circuit,
     adequate},
};

}  // namespace

std::span<const Row> protective_conductor_rows() {
  return kRows;
}

}  // namespace ohmleaf::checks
