#pragma once
#include <optional>
#include <span>

#include "limits/device.h"
#include "limits/table.h"

// The printed tables of maximum earth-fault-loop impedance.

namespace ohmleaf::limits {

/// A rated current of circuit-breakers with the figures that the 17th edition (230 V, no
/// minimum-voltage factor) printed for it. Later figures follow from the formula.
struct BreakerRow {
  int rating;
  Decimal b, c, d;  ///< Ω; kNone where the type is not made in this rating
};
std::span<const BreakerRow> breaker_rows();
const BreakerRow* breaker_row(const Decimal& rating);
Decimal printed_17th(const BreakerRow& row, Curve curve);

struct FuseRow {
  int rating;
  Decimal time;           ///< s
  Decimal printed_2008;   ///< Ω, BS 7671:2008
  Decimal measured_2011;  ///< Ω, 80 % of the first amendment's value, as a published list prints it
  Decimal printed_18th;   ///< Ω, from the third amendment on (Cmin 0.95)
  Origin origin_18th;
};
/// The rows of a fuse standard; empty for other devices.
std::span<const FuseRow> fuse_rows(DeviceStandard standard);

}  // namespace ohmleaf::limits
