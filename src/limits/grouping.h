#pragma once
#include <optional>
#include <span>
#include <string>

#include "limits/fact.h"
#include "limits/table.h"

// Circuits that heat each other: Table 4C1, cables touching, uniform and equally loaded.

namespace ohmleaf::limits {

enum class Arrangement {
  bunched,  ///< in air, on a surface, embedded or enclosed
  wall,     ///< a single layer on a wall or floor
  tray,     ///< a single layer of multicore on a perforated tray
  ladder,   ///< a single layer of multicore on ladder supports or cleats
};
std::string_view name(Arrangement arrangement);
std::optional<Arrangement> arrangement_from_name(std::string_view text);
/// "bunched in air, on a surface, embedded or enclosed"
std::string_view words(Arrangement arrangement);

/// One printed factor.
struct GroupingRow {
  Arrangement arrangement;
  int circuits;  ///< circuits or multicore cables
  Decimal factor;
};
std::span<const GroupingRow> grouping_rows();

/// The factor for a number of circuits. Between two tabulated numbers the next higher one counts;
/// the table is not interpolated. Nothing below 1 and above 20; `what_exists` then says so.
std::optional<Factor> grouping_factor(Arrangement arrangement, int circuits,
                                      std::string* what_exists = nullptr);

/// Which reference methods a factor of that arrangement goes with: "A to F", "C", "E and F".
std::string_view methods_of(Arrangement arrangement);
/// Is the method one of those? Flat twin-and-earth in thermal insulation (100 to 103) is named
/// under none of them.
bool goes_with(Arrangement arrangement, std::string_view method);

}  // namespace ohmleaf::limits
