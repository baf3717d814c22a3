#include <array>

#include "limits/protection.h"
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

constexpr int kNoTripWindow = 1999;  ///< ms, what instruments watch at half IΔn

bool before_a2(Edition edition) {
  return edition != Edition::y2022 && edition != Edition::y2026;
}

Limit<Millis> at_most(const Decimal& ms, std::string derivation, std::string_view source,
                      Provenance provenance, Edition edition) {
  Limit<Millis> out;
  out.value = Millis(ms);
  out.exact = ms.str();
  out.derivation = std::move(derivation);
  out.source = source;
  out.provenance = provenance;
  out.edition = edition;
  return out;
}

Limit<Millis> between(const Decimal& low, const Decimal& high, std::string derivation,
                      std::string_view source, Provenance provenance, Edition edition) {
  Limit<Millis> out = at_most(low, std::move(derivation), source, provenance, edition);
  out.sense = Sense::between;
  out.upper = Millis(high);
  out.exact = low.str() + " to " + high.str();
  return out;
}

Limit<Millis> no_trip(Edition edition) {
  Limit<Millis> out =
      at_most(Decimal::integer(kNoTripWindow),
              "at half the rated residual current the RCD must not operate within the "
              "instrument's window of 1999 ms",
              cite::kRcdProduct, Provenance::published, edition);
  out.sense = Sense::at_least;
  return out;
}

/// BS 4293: 200 ms; time-delayed: between ½ delay + 200 and delay + 200.
Limit<Millis> old_device(const Rcd& rcd, Edition edition) {
  if (!rcd.delayed)
    return at_most(d("200"), "BS 4293 device at IΔn: within 200 ms", cite::kRcdOld,
                   Provenance::published, edition);
  if (!rcd.delay || !(*rcd.delay > Millis(d("0"))))
    return between(kNone, kNone,
                   "BS 4293 time-delayed: 0.5 × delay + 200 ms to delay + 200 ms; the delay on the "
                   "device's label is needed",
                   cite::kRcdOld, Provenance::published, edition);
  const Decimal delay = rcd.delay->decimal();
  const Decimal low = delay * d("0.5") + d("200"), high = delay + d("200");
  return between(low, high,
                 "BS 4293 time-delayed: 0.5 × " + delay.str() + " + 200 = " + low.short_str() +
                     " ms to " + delay.str() + " + 200 = " + high.short_str() + " ms",
                 cite::kRcdOld, Provenance::computed, edition);
}

Limit<Millis> at_rated(const Rcd& rcd, Edition edition) {
  if (rcd.bs4293) return old_device(rcd, edition);
  if (rcd.delayed) {
    const std::string words = "time-delayed (type S) at IΔn: 130 to 500 ms";
    return before_a2(edition) ? between(d("130"), d("500"), words, cite::kRcdProduct,
                                        Provenance::published, edition)
                              : between(d("130"), d("500"), words, cite::kRcdA2Delayed,
                                        Provenance::memory, edition);
  }
  if (before_a2(edition))
    return at_most(d("300"), "general type at IΔn: within 300 ms", cite::kRcdProduct,
                   Provenance::published, edition);
  return at_most(d("300"),
                 "any type, not delayed: one alternating-current test at IΔn, within 300 ms",
                 cite::kRcdA2, Provenance::published, edition);
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
  if (multiple == d("0.5")) return no_trip(edition);
  const bool five_times =
      multiple == d("5") && additional_protection && !rcd.delayed && rcd.idn <= Milliamps(d("30"));
  if (!five_times) return std::nullopt;
  return at_most(d("40"), "additional protection up to 30 mA, at 5 × IΔn: within 40 ms",
                 rcd.bs4293 ? cite::kRcdOld : cite::kRcdFiveTimes, Provenance::published, edition);
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
