#include <array>

#include "limits/protection.h"
#include "limits/rcd_type.h"
#include "limits/sources.h"
#include "limits/table.h"

namespace ohmleaf::limits {
namespace {

struct RcdZsRow {
  int idn;       ///< mA
  Decimal ohms;  ///< as printed for 50 V
};
constexpr std::array<RcdZsRow, 6> kRcdZs{{{10, d("5000")},
                                          {30, d("1667")},
                                          {100, d("500")},
                                          {300, d("167")},
                                          {500, d("100")},
                                          {1000, d("50")}}};

bool before_a2(Edition edition) {
  return edition != Edition::y2022 && edition != Edition::y2026;
}

Limit<Millis> product(std::string_view device, const Decimal& multiple, Edition edition) {
  return rcd_time_limit(kRcdProductStandard, device, multiple, edition);
}

/// BS 4293: 200 ms; time-delayed: between ½ delay + 200 and delay + 200.
Limit<Millis> old_device(const Rcd& rcd, Edition edition) {
  Limit<Millis> out = rcd_time_limit(kRcdOldStandard, "general / SRCD", d("1"), edition);
  if (!rcd.delayed) return out;
  const Decimal fixed = out.value.decimal();
  out.sense = Sense::between;
  if (!rcd.delay || !(*rcd.delay > Millis(d("0")))) {
    out.value = Millis(kNone);
    out.exact = "not tabulated";
    out.derivation =
        "BS 4293 time-delayed: 0.5 × delay + 200 ms to delay + 200 ms; the delay on "
        "the device's label is needed";
    return out;
  }
  const Decimal delay = rcd.delay->decimal();
  out.value = Millis(delay * d("0.5") + fixed);
  out.upper = Millis(delay + fixed);
  out.exact = out.value.decimal().short_str() + " to " + out.upper->decimal().short_str();
  out.derivation = "BS 4293 time-delayed: 0.5 × " + delay.str() + " + " + fixed.str() + " = " +
                   out.value.decimal().short_str() + " ms to " + delay.str() + " + " + fixed.str() +
                   " = " + out.upper->decimal().short_str() + " ms";
  out.provenance = Provenance::computed;
  return out;
}

Limit<Millis> at_rated(const Rcd& rcd, Edition edition) {
  if (rcd.bs4293) return old_device(rcd, edition);
  if (before_a2(edition)) return product(rcd.delayed ? "S type" : "general", d("1"), edition);
  return rcd_time_limit(kRcdFromA2, rcd.delayed ? "S type" : "any type, not delayed", d("1"),
                        edition);
}

}  // namespace

Limit<Ohms> max_zs_rcd(Milliamps idn, Edition edition) {
  Limit<Ohms> out;
  out.edition = edition;
  const Decimal amps = idn.decimal() * d("0.001");
  if (!(amps > d("0"))) {
    out.value = Ohms(kNone);
    out.exact = "not tabulated";
    out.derivation = "the rated residual current must be more than 0 mA";
    out.source = cite::kRcdZsFormula;
    out.provenance = Provenance::computed;
    return out;
  }
  out.value = Ohms(Decimal::divide(d("50"), amps, 0, Round::down));
  out.exact = exact4(d("50"), amps);
  out.derivation = "50 V ÷ " + amps.short_str() + " A = " + out.exact + " Ω";
  out.source = cite::kRcdZsFormula;
  out.provenance = Provenance::computed;
  for (const RcdZsRow& row : kRcdZs) {
    if (Decimal::integer(row.idn) != idn.decimal()) continue;
    out.value = Ohms(row.ohms);
    out.source = cite::kRcdZs;
    out.provenance = Provenance::published;
  }
  if (out.exact != out.value.str())
    out.derivation +=
        (out.provenance == Provenance::published ? "; printed " : "; rounded down to ") +
        out.value.with_unit();
  return out;
}

Limit<Ohms> electrode_stability_guide(Edition edition) {
  Limit<Ohms> out;
  out.value = Ohms(d("200"));
  out.exact = "200";
  out.derivation = "an earth electrode above 200 Ω may be unstable (guidance, not a limit)";
  out.source = cite::kElectrode;
  out.provenance = Provenance::published;
  out.edition = edition;
  return out;
}

std::optional<Limit<Millis>> rcd_time(const Rcd& rcd, Decimal multiple, bool additional_protection,
                                      Edition edition) {
  if (multiple == d("1")) return at_rated(rcd, edition);
  if (!before_a2(edition)) return std::nullopt;
  if (multiple == d("0.5")) return product(rcd.delayed ? "S type" : "general", multiple, edition);
  const bool five_times =
      multiple == d("5") && additional_protection && !rcd.delayed && rcd.idn <= Milliamps(d("30"));
  if (!five_times) return std::nullopt;
  return rcd.bs4293
             ? rcd_time_limit(kRcdOldStandard, "general", multiple, edition)
             : rcd_time_limit(kRcdBeforeA2, "additional protection up to 30 mA", multiple, edition);
}

Derived<Amps> fault_current(Ohms impedance, Volts u0) {
  Derived<Amps> out;
  const Decimal zero = d("0");
  const bool usable = impedance.decimal() > zero && u0.decimal() > zero;
  const Decimal exact =
      usable ? Decimal::divide(u0.decimal(), impedance.decimal(), 4, Round::down) : kNone;
  out.value =
      Amps(usable ? Decimal::divide(u0.decimal(), impedance.decimal(), 0, Round::up) : kNone);
  out.exact = exact.short_str();
  out.derivation = usable ? u0.with_unit() + " ÷ " + impedance.with_unit() + " = " + out.exact +
                                " A; rounded up to " + out.value.with_unit()
                          : "the impedance and the voltage must be more than 0";
  out.source = cite::kFaultCurrent;
  out.provenance = Provenance::computed;
  return out;
}

Limit<Kiloamps> max_fault_current(Kiloamps breaking, Edition edition) {
  Limit<Kiloamps> out;
  out.value = breaking;
  out.exact = breaking.str();
  out.derivation =
      "the prospective fault current must not exceed the device's rated short-circuit capacity "
      "of " +
      breaking.with_unit();
  out.source = cite::kBreakingCapacity;
  out.provenance = Provenance::maker;
  out.edition = edition;
  return out;
}

}  // namespace ohmleaf::limits
