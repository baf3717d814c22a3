#pragma once
#include <optional>
#include <span>

#include "limits/table.h"

// Printed resistances of conductors.

namespace ohmleaf::limits {

/// What a conductor is made of and how it is stranded (IEC 60228).
enum class ConductorClass {
  solid_or_stranded,  ///< class 1 and 2, plain copper: fixed wiring
  stranded_tinned,    ///< class 2, tinned copper
  flexible,           ///< class 5, plain copper
  flexible_tinned,    ///< class 5, tinned copper
};

struct ResistanceRow {
  Decimal size;  ///< mm²
  Decimal ohm_per_km;
};
/// Maximum resistances at 20 °C, ascending by size.
std::span<const ResistanceRow> resistance_rows(ConductorClass conductor);

/// Maximum resistance per metre at 20 °C; nothing for a size that the class does not have.
std::optional<Derived<MilliohmsPerMetre>> resistance_per_metre(SquareMm size,
                                                               ConductorClass conductor);

}  // namespace ohmleaf::limits
