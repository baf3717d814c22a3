#pragma once
#include <array>
#include <span>

#include "limits/table.h"

// Printed current-carrying capacities and volt drops.

namespace ohmleaf::limits {

/// One tabulated capacity, in A at 30 °C ambient.
struct CapacityRow {
  Decimal size;  ///< mm²
  std::string_view method;
  Decimal amps;   ///< two loaded conductors, single phase
  Decimal three;  ///< three loaded conductors, three phases; kNone where no cable has them
  Origin origin;
};
/// Table 4D5: flat twin-and-earth, 70 °C thermoplastic.
std::span<const CapacityRow> twin_earth_capacity_rows();
/// Table 4D2A: multicore 70 °C thermoplastic, two or three loaded cores.
std::span<const CapacityRow> multicore_capacity_rows();

/// Table 4D1A: single-core 70 °C thermoplastic, two cables or three.
std::span<const CapacityRow> singles_capacity_rows();

/// Ambient temperature factors (Table 4B1).
struct AmbientRow {
  int celsius;
  Decimal thermoplastic_70, thermosetting_90;  ///< kNone where not allowed
};
std::span<const AmbientRow> ambient_rows();

/// Length surrounded by thermal insulation (Table 52.2).
struct ThermalInsulationRow {
  int millimetres;
  Decimal factor;
};
std::span<const ThermalInsulationRow> thermal_insulation_rows();

struct DropRow {
  Decimal size;       ///< mm²
  Decimal mv_per_am;  ///< single phase
  Decimal three;      ///< line to line, three phases; kNone where no table was read
  bool twin_earth;    ///< Table 4D5 (and 4D2B); else 4D2B only, the z value
  Origin origin;
};
std::span<const DropRow> drop_rows();

}  // namespace ohmleaf::limits
