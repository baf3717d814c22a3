#include "base/text.h"
#include "limits/capacity_tables.h"
#include "limits/installation.h"
#include "limits/sources.h"

namespace ohmleaf::limits {

std::optional<Derived<Amps>> capacity_twin_earth(SquareMm size, std::string_view method) {
  const std::string wanted = ascii_lower(trim(method));
  for (const CapacityRow& row : twin_earth_capacity_rows()) {
    if (row.size != size.decimal() || ascii_lower(row.method) != wanted) continue;
    return Derived<Amps>{Amps(row.amps), row.amps.str(),
                         "flat twin-and-earth " + size.decimal().short_str() +
                             " mm², reference method " + std::string(row.method) +
                             ", 30 °C ambient: " + row.amps.str() + " A",
                         std::string(row.origin.source), row.origin.provenance};
  }
  return std::nullopt;
}

std::optional<Derived<MillivoltsPerAmpMetre>> drop_twin_earth(SquareMm size) {
  for (const DropRow& row : drop_rows()) {
    if (row.size != size.decimal() || !row.twin_earth) continue;
    return Derived<MillivoltsPerAmpMetre>{MillivoltsPerAmpMetre(row.mv_per_am), row.mv_per_am.str(),
                                          "flat twin-and-earth " + size.decimal().short_str() +
                                              " mm², single phase: " + row.mv_per_am.str() +
                                              " mV/A/m",
                                          std::string(row.origin.source), row.origin.provenance};
  }
  return std::nullopt;
}

std::optional<Derived<Volts>> volt_drop(SquareMm size, Metres length, Amps current) {
  const auto per = drop_twin_earth(size);
  const Decimal zero = d("0");
  if (!per || !(length.decimal() > zero) || !(current.decimal() > zero)) return std::nullopt;
  const Decimal exact = per->value.decimal() * length.decimal() * current.decimal() * d("0.001");
  if (exact.is_void()) return std::nullopt;
  Derived<Volts> out;
  out.value = Volts(exact.rounded(2, Round::up));
  out.exact = exact.short_str();
  out.derivation = per->value.with_unit() + " × " + current.with_unit() + " × " +
                   length.with_unit() + " ÷ 1000 = " + out.exact + " V";
  out.source = std::string(cite::kVoltDropFormula) + "; " + per->source;
  out.provenance = computed_from({per->provenance});
  return out;
}

Limit<Volts> max_volt_drop(bool lighting, Edition edition) {
  Limit<Volts> out;
  const Decimal share = lighting ? d("0.03") : d("0.05");
  const Decimal exact = d("230") * share;
  out.value = Volts(exact.rounded(1, Round::down));
  out.exact = exact.short_str();
  out.derivation = std::string(lighting ? "lighting: 3 %" : "other uses: 5 %") +
                   " of 230 V (public supply) = " + out.exact + " V";
  out.source = cite::kVoltDropLimit;
  out.provenance = Provenance::published;
  out.edition = edition;
  return out;
}

}  // namespace ohmleaf::limits
