#pragma once
#include <optional>
#include <string>
#include <vector>

#include "limits/fact.h"
#include "limits/phases.h"
#include "limits/table.h"

// The load side beyond flat twin-and-earth: other cables, correction factors, Ib ≤ In ≤ Iz.

namespace ohmleaf::limits {

enum class CableKind {
  twin_earth,  ///< flat twin-and-earth, Table 4D5
  multicore,   ///< multicore, Table 4D2
  singles,     ///< single-core in conduit or trunking, Table 4D1
};
std::string_view name(CableKind cable);
std::optional<CableKind> cable_from_name(std::string_view text);

/// Tabulated current-carrying capacity, 70 °C thermoplastic, 30 °C ambient. Nothing where no row
/// exists; `what_exists` then names sizes and methods. Flat twin-and-earth has no three loaded
/// conductors.
std::optional<Derived<Amps>> capacity(CableKind cable, SquareMm size, std::string_view method,
                                      Phases phases, std::string* what_exists = nullptr);
/// mV/A/m at 70 °C; on three phases line to line. Where no table of three phases was read, √3 ÷ 2
/// of the single-phase figure, rounded up to two decimals.
std::optional<Derived<MillivoltsPerAmpMetre>> drop_per_amp_metre(CableKind cable, SquareMm size,
                                                                 Phases phases);
/// Volt drop of a run, rounded up to two decimals; nothing for a length or current not above 0.
std::optional<Derived<Volts>> volt_drop_by(const Derived<MillivoltsPerAmpMetre>& per, Metres length,
                                           Amps current);
/// The mV/A/m that a run may have at most, rounded down to three decimals.
std::optional<Derived<MillivoltsPerAmpMetre>> allowed_drop_per_amp_metre(Volts limit, Metres length,
                                                                         Amps current);

enum class CableInsulation { thermoplastic_70, thermosetting_90 };
/// Ambient temperature factor, by the next higher tabulated temperature.
std::optional<Factor> ambient_factor(CableInsulation insulation, Celsius ambient,
                                     std::string* what_exists = nullptr);
/// Cable surrounded by thermal insulation over `length`, by the next longer length.
std::optional<Factor> thermal_insulation_factor(Millimetres length);
/// 0.725 on the cable's capacity behind a BS 3036 fuse.
Factor semi_enclosed_factor();

/// Iz: the tabulated capacity times the factors, rounded down to one decimal.
Derived<Amps> corrected_capacity(const Derived<Amps>& tabulated,
                                 const std::vector<Factor>& factors);

/// Ib ≤ In ≤ Iz.
struct Coordination {
  bool design_within_rating = false;    ///< Ib ≤ In
  bool rating_within_capacity = false;  ///< In ≤ Iz
  std::string derivation;
  std::string source;
  Provenance provenance = Provenance::memory;

  bool holds() const { return design_within_rating && rating_within_capacity; }
};
Coordination coordinate(Amps design, Amps rating, const Derived<Amps>& capacity);

}  // namespace ohmleaf::limits
