#include "limits/cable_load.h"
#include "limits/installation.h"
#include "limits/sources.h"

namespace ohmleaf::limits {

std::optional<Derived<Amps>> capacity_twin_earth(SquareMm size, std::string_view method) {
  return capacity(CableKind::twin_earth, size, method, Phases::single);
}

std::optional<Derived<MillivoltsPerAmpMetre>> drop_twin_earth(SquareMm size) {
  return drop_per_amp_metre(CableKind::twin_earth, size, Phases::single);
}

std::optional<Derived<Volts>> volt_drop(SquareMm size, Metres length, Amps current) {
  const auto per = drop_twin_earth(size);
  return per ? volt_drop_by(*per, length, current) : std::nullopt;
}

Limit<Volts> max_volt_drop(bool lighting, Edition edition, Phases phases) {
  Limit<Volts> out;
  const Decimal share = lighting ? d("0.03") : d("0.05");
  const Volts nominal(phases == Phases::three ? d("400") : d("230"));
  const Decimal exact = nominal.decimal() * share;
  out.value = Volts(exact.rounded(1, Round::down));
  out.exact = exact.short_str();
  out.derivation = std::string(lighting ? "lighting: 3 %" : "other uses: 5 %") + " of " +
                   nominal.with_unit() + " (public supply) = " + out.exact + " V";
  out.source = cite::kVoltDropLimit;
  out.provenance = Provenance::published;
  out.edition = edition;
  return out;
}

}  // namespace ohmleaf::limits
