#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "quantity/units.h"

namespace ohmleaf::limits {

enum class Earthing { tn_s, tn_c_s, tn_c, tt, it };
std::string_view name(Earthing earthing);  ///< "TN-C-S"
std::optional<Earthing> earthing_from_name(std::string_view text);
bool is_tn(Earthing earthing);

/// What the circuit's overcurrent device is made to.
enum class DeviceStandard {
  mcb,      ///< circuit-breaker BS EN 60898
  rcbo,     ///< BS EN 61009
  bs88_2,   ///< fuse gG
  bs88_3,   ///< fuse system C
  bs1361,   ///< cartridge fuse, withdrawn 2010
  bs3036,   ///< semi-enclosed (rewirable) fuse
  bs1362,   ///< plug and connection-unit fuse
  rccb,     ///< BS EN 61008: no overcurrent protection
};
std::string_view name(DeviceStandard standard);  ///< "BS EN 61009 RCBO"

enum class Curve { none, b, c, d };
enum class RcdType { ac, a, f, b };
std::string_view name(RcdType type);  ///< "AC", "A", "F", "B"

/// A residual current function, of an RCBO or of a separate or upstream RCCB.
struct Rcd {
  Milliamps idn;                       ///< rated residual operating current IΔn
  std::optional<RcdType> type;
  bool delayed = false;                ///< time-delayed, type S
  bool bs4293 = false;                 ///< old device: 200 ms at IΔn
  std::optional<Millis> delay;         ///< of a time-delayed BS 4293 device, from its label
};

struct Device {
  DeviceStandard standard = DeviceStandard::mcb;
  Curve curve = Curve::none;
  std::optional<Decimal> multiplier;   ///< user-given instantaneous multiplier, instead of a curve
  Amps rating;                         ///< In
  std::optional<Rcd> rcd;
  std::optional<Kiloamps> breaking;    ///< rated short-circuit capacity
  std::optional<bool> afdd;            ///< arc-fault detection included

  bool is_breaker() const {
    return standard == DeviceStandard::mcb || standard == DeviceStandard::rcbo;
  }
  /// "RCBO B32, 30 mA type A, 6 kA"
  std::string words() const;
};

/// Why a device text was not understood; `allowed` lists what could stand there.
struct DeviceFault {
  std::string message;
  std::string hint;
};

/// Reads the trade's words: "RCBO B32, 30 mA type A, 6 kA", "MCB C16", "B32", "BS 88-3, 80 A",
/// "BS 3036 30", "BS 1361 30 A", "BS 88-2 63 A, 80 kA", "RCCB 63 A, 30 mA type A",
/// "MCB B20, 6 kA, RCD 30 mA type AC", "BS 1362 13 A", "RCD 30 mA type A" (an RCCB without a
/// rating reads as void rating). Case and spaces do not matter.
std::optional<Device> parse_device(std::string_view text, DeviceFault& fault);

}  // namespace ohmleaf::limits
