#include "limits/cable_load.h"

#include <algorithm>
#include <array>

#include "base/text.h"
#include "limits/capacity_tables.h"
#include "limits/sources.h"

namespace ohmleaf::limits {
namespace {

constexpr Decimal kZero = d("0");
/// √3 ÷ 2, rounded up: a volt drop is never made smaller by it.
constexpr Decimal kRootThreeHalf = d("0.86603");

std::span<const CapacityRow> rows_of(CableKind cable) {
  switch (cable) {
    case CableKind::twin_earth:
      return twin_earth_capacity_rows();
    case CableKind::multicore:
      return multicore_capacity_rows();
    case CableKind::singles:
      return singles_capacity_rows();
  }
  return {};
}

std::string_view words_of(CableKind cable) {
  switch (cable) {
    case CableKind::twin_earth:
      return "flat twin-and-earth";
    case CableKind::multicore:
      return "multicore";
    case CableKind::singles:
      return "single-core";
  }
  return "?";
}

void add_once(std::vector<std::string>& list, std::string item) {
  if (std::find(list.begin(), list.end(), item) == list.end()) list.push_back(std::move(item));
}

std::string_view words_of(Phases phases) {
  return phases == Phases::three ? "three loaded conductors" : "two loaded conductors";
}

std::string capacities_that_exist(CableKind cable, Phases phases) {
  if (phases == Phases::three && cable == CableKind::twin_earth)
    return "flat twin-and-earth has two loaded conductors; for three phases multicore and singles "
           "are tabulated";
  std::vector<std::string> sizes, methods;
  for (const CapacityRow& row : rows_of(cable)) {
    add_once(sizes, row.size.short_str());
    add_once(methods, std::string(row.method));
  }
  return std::string(words_of(cable)) + " is tabulated for " + list_words(sizes) +
         " mm² by reference methods " + list_words(methods);
}

Factor printed_factor(const Decimal& value, std::string derivation, std::string_view source) {
  return {
      value, {}, value.str(), std::move(derivation), std::string(source), Provenance::published};
}

}  // namespace

std::string_view name(CableKind cable) {
  switch (cable) {
    case CableKind::twin_earth:
      return "twin-earth";
    case CableKind::multicore:
      return "multicore";
    case CableKind::singles:
      return "singles";
  }
  return "?";
}

std::optional<CableKind> cable_from_name(std::string_view text) {
  for (CableKind c : {CableKind::twin_earth, CableKind::multicore, CableKind::singles})
    if (ascii_lower(trim(text)) == name(c)) return c;
  return std::nullopt;
}

std::optional<Derived<Amps>> capacity(CableKind cable, SquareMm size, std::string_view method,
                                      Phases phases, std::string* what_exists) {
  const std::string wanted = ascii_lower(trim(method));
  for (const CapacityRow& row : rows_of(cable)) {
    const Decimal& amps = phases == Phases::three ? row.three : row.amps;
    if (row.size != size.decimal() || ascii_lower(row.method) != wanted || amps.is_void()) continue;
    return Derived<Amps>{Amps(amps), amps.str(),
                         std::string(words_of(cable)) + " " + size.decimal().short_str() +
                             " mm², " + std::string(words_of(phases)) + ", reference method " +
                             std::string(row.method) + ", 30 °C ambient: " + amps.str() + " A",
                         std::string(row.origin.source), row.origin.provenance};
  }
  if (what_exists) *what_exists = capacities_that_exist(cable, phases);
  return std::nullopt;
}

std::optional<Derived<MillivoltsPerAmpMetre>> drop_per_amp_metre(CableKind cable, SquareMm size,
                                                                 Phases phases) {
  const bool three = phases == Phases::three;
  if (three && cable == CableKind::twin_earth) return std::nullopt;
  for (const DropRow& row : drop_rows()) {
    // Table 4D5 ends at 16 mm²; the larger rows are the z values of multicore cable.
    if (row.size != size.decimal() || (!row.twin_earth && cable != CableKind::multicore)) continue;
    const bool scaled = three && row.three.is_void();
    const Decimal value = scaled  ? (row.mv_per_am * kRootThreeHalf).rounded(2, Round::up)
                          : three ? row.three
                                  : row.mv_per_am;
    Derived<MillivoltsPerAmpMetre> out;
    out.value = MillivoltsPerAmpMetre(value);
    out.exact = scaled ? exact4(row.mv_per_am * kRootThreeHalf) : value.str();
    out.derivation = std::string(words_of(cable)) + " " + size.decimal().short_str() +
                     (three ? " mm², three phases: " : " mm², single phase: ");
    if (scaled) out.derivation += row.mv_per_am.str() + " mV/A/m × √3 ÷ 2 = ";
    out.derivation += out.exact + " mV/A/m";
    const bool singles = cable == CableKind::singles;
    out.source = singles ? cite::k4d1b : three && !scaled ? cite::k4d2b : row.origin.source;
    out.provenance = singles || (three && !scaled) ? Provenance::published : row.origin.provenance;
    if (scaled) out.provenance = computed_from({row.origin.provenance});
    return out;
  }
  return std::nullopt;
}

std::optional<Derived<Volts>> volt_drop_by(const Derived<MillivoltsPerAmpMetre>& per, Metres length,
                                           Amps current) {
  if (!(length.decimal() > kZero) || !(current.decimal() > kZero)) return std::nullopt;
  const Decimal exact = per.value.decimal() * length.decimal() * current.decimal() * d("0.001");
  if (exact.is_void()) return std::nullopt;
  Derived<Volts> out;
  out.value = Volts(exact.rounded(2, Round::up));
  out.exact = exact.short_str();
  out.derivation = per.value.with_unit() + " × " + current.with_unit() + " × " +
                   length.with_unit() + " ÷ 1000 = " + out.exact + " V";
  out.source = std::string(cite::kVoltDropFormula) + "; " + per.source;
  out.provenance = computed_from({per.provenance});
  return out;
}

std::optional<Derived<MillivoltsPerAmpMetre>> allowed_drop_per_amp_metre(Volts limit, Metres length,
                                                                         Amps current) {
  if (!(length.decimal() > kZero) || !(current.decimal() > kZero) || !(limit.decimal() > kZero))
    return std::nullopt;
  const Decimal top = limit.decimal() * d("1000"), below = length.decimal() * current.decimal();
  Derived<MillivoltsPerAmpMetre> out;
  out.value = MillivoltsPerAmpMetre(Decimal::divide(top, below, 3, Round::down));
  if (out.value.is_void()) return std::nullopt;
  out.exact = exact4(top, below);
  out.derivation = limit.with_unit() + " × 1000 ÷ (" + current.with_unit() + " × " +
                   length.with_unit() + ") = " + out.exact + " mV/A/m";
  out.source = cite::kVoltDropFormula;
  return out;
}

std::optional<Factor> ambient_factor(CableInsulation insulation, Celsius ambient,
                                     std::string* what_exists) {
  const bool tp = insulation == CableInsulation::thermoplastic_70;
  const std::string_view cable = tp ? "70 °C thermoplastic" : "90 °C thermosetting";
  for (const AmbientRow& row : ambient_rows()) {
    const Decimal& factor = tp ? row.thermoplastic_70 : row.thermosetting_90;
    // Between two temperatures the hotter one counts; the table is not interpolated.
    if (factor.is_void() || !(ambient.decimal() <= Decimal::integer(row.celsius))) continue;
    return printed_factor(factor,
                          "ambient " + ambient.with_unit() + " (tabulated at " +
                              std::to_string(row.celsius) + " °C), " + std::string(cable) + ": " +
                              factor.str(),
                          cite::kAmbient);
  }
  if (what_exists)
    *what_exists =
        std::string(cable) + " is tabulated for ambients of 25 to " + (tp ? "60 °C" : "80 °C");
  return std::nullopt;
}

std::optional<Factor> thermal_insulation_factor(Millimetres length) {
  if (!(length.decimal() > kZero)) return std::nullopt;
  // The last row stands for everything from half a metre on.
  const auto rows = thermal_insulation_rows();
  for (const ThermalInsulationRow& row : rows) {
    const bool last = &row == &rows.back();
    if (!last && length.decimal() > Decimal::integer(row.millimetres)) continue;
    return printed_factor(
        row.factor,
        "surrounded by thermal insulation over " + length.with_unit() +
            (last ? " (half a metre or more): "
                  : " (tabulated at " + std::to_string(row.millimetres) + " mm): ") +
            row.factor.str(),
        cite::kThermalInsulation);
  }
  return std::nullopt;
}

Factor semi_enclosed_factor() {
  return printed_factor(d("0.725"), "behind a BS 3036 fuse: 0.725 on the cable's capacity",
                        cite::kSemiEnclosed);
}

Derived<Amps> corrected_capacity(const Derived<Amps>& tabulated,
                                 const std::vector<Factor>& factors) {
  Derived<Amps> out = tabulated;
  Decimal exact = tabulated.value.decimal();
  std::string words = tabulated.value.with_unit();
  for (const Factor& f : factors) {
    exact = exact * f.value;
    words += " × " + f.value.str();
    out.source += "; " + f.source;
    out.provenance = computed_from({out.provenance, f.provenance});
  }
  if (factors.empty()) return out;
  out.value = Amps(exact.rounded(1, Round::down));
  out.exact = exact4(exact);
  out.derivation = words + " = " + out.exact + " A";
  return out;
}

Coordination coordinate(Amps design, Amps rating, const Derived<Amps>& capacity) {
  Coordination out;
  const bool real = design.decimal() >= kZero && rating.decimal() > kZero;
  out.design_within_rating = real && design <= rating;
  out.rating_within_capacity = real && rating <= capacity.value;
  out.derivation = "Ib " + design.with_unit() + (out.design_within_rating ? " ≤ " : " > ") + "In " +
                   rating.with_unit() + (out.rating_within_capacity ? " ≤ " : " > ") + "Iz " +
                   capacity.value.with_unit();
  out.source = std::string(cite::kCoordination) + "; " + capacity.source;
  out.provenance = Provenance::memory;
  return out;
}

}  // namespace ohmleaf::limits
