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
  Decimal amps;
  Origin origin;
};
/// Table 4D5: flat twin-and-earth, 70 °C thermoplastic.
std::span<const CapacityRow> twin_earth_capacity_rows();
/// Table 4D2A: multicore 70 °C thermoplastic, two loaded cores, single phase.
std::span<const CapacityRow> multicore_capacity_rows();

struct DropRow {
  Decimal size;  ///< mm²
  Decimal mv_per_am;
  bool twin_earth;  ///< Table 4D5 (and 4D2B); else 4D2B only, the z value
  Origin origin;
};
std::span<const DropRow> drop_rows();

}  // namespace ohmleaf::limits
