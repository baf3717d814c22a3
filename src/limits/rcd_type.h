#pragma once
#include <optional>
#include <span>

#include "limits/device.h"
#include "limits/fact.h"
#include "limits/table.h"

// Which RCD suits what a circuit feeds, and what the products themselves must do.

namespace ohmleaf::limits {

/// What a circuit feeds, by the residual current that it can produce.
enum class LoadKind {
  fixed_without_dc,  ///< fixed equipment with no direct-current component (a plain heater)
  electronic,  ///< pulsating d.c., up to 6 mA smooth: socket-outlets, LED, dimmers, radio hubs
  frequency_controlled,  ///< single-phase inverter drives, up to 10 mA smooth
  smooth_dc,  ///< smooth d.c. beyond that: three-phase rectifiers, some vehicle charging, PV
};
std::string_view name(LoadKind load);  ///< "electronic"
std::optional<LoadKind> load_from_name(std::string_view text);

struct RcdSuitability {
  RcdType least;  ///< this or a later one of AC, A, F, B
  std::string reason;
  std::string source;
  Provenance provenance = Provenance::memory;
};
RcdSuitability least_rcd_type(LoadKind load);
bool suits(RcdType type, LoadKind load);

/// One row of the times that a product standard or an edition asks for.
struct RcdTimeRow {
  std::string_view standard, device;
  Decimal multiple;           ///< of IΔn
  Decimal least_ms, most_ms;  ///< kNone where there is none
  std::string_view note;
  Origin origin;
};
std::span<const RcdTimeRow> rcd_time_rows();
/// The limit that a row states; void where there is no such row.
Limit<Millis> rcd_time_limit(std::string_view standard, std::string_view device, Decimal multiple,
                             Edition edition);

inline constexpr std::string_view kRcdProductStandard = "BS EN 61008/61009";
inline constexpr std::string_view kRcdOldStandard = "BS 4293 / BS 7288";
inline constexpr std::string_view kRcdBeforeA2 = "BS 7671:2018 (before A2)";
inline constexpr std::string_view kRcdFromA2 = "BS 7671 from A2:2022";

/// What the product standards BS EN 61008/61009 ask for at half, one, two and five times IΔn,
/// whatever an edition of the wiring rules has tested. Nothing at other multiples.
std::optional<Limit<Millis>> rcd_product_time(bool delayed, Decimal multiple, Edition edition);

enum class ResidualCurrent { alternating, pulsating_dc, smooth_dc };
/// Between which shares of IΔn a device operates; nothing where its type does not detect it.
std::optional<Limit<Percent>> rcd_trip_current(RcdType type, ResidualCurrent current, Milliamps idn,
                                               Edition edition);

}  // namespace ohmleaf::limits
