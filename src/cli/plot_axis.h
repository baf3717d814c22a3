#pragma once
#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <string>

#include "cli/plot.h"

namespace ohmleaf::cli {

/// A decade scale between two powers of ten. Binary numbers, since they only place ink.
struct DecadeAxis {
  int low = 0, high = 1;  ///< exponents of ten

  /// 0 at the low end, 1 at the high one; what lies outside stays at the edge.
  double at(const Decimal& value) const {
    const double v = std::log10(std::max(1e-9, std::strtod(value.str().c_str(), nullptr)));
    return std::clamp((v - low) / (high - low), 0.0, 1.0);
  }
};

inline int decade_below(const Decimal& value) {
  return static_cast<int>(
      std::floor(std::log10(std::max(1e-9, std::strtod(value.str().c_str(), nullptr)))));
}

/// "10 mA", "1 A", "10 kA" for a power of ten; with `unit` "s": "10 ms", "1 s".
inline std::string decade_name(int exponent, const char* unit) {
  const auto text = [&](int tens, const char* prefix) {
    return "1" + std::string(static_cast<std::size_t>(tens), '0') + " " + prefix + unit;
  };
  if (exponent < 0) return text(exponent + 3 < 0 ? 0 : exponent + 3, "m");
  return exponent < 3 ? text(exponent, "") : text(exponent - 3, "k");
}

/// Both axes of a circuit's picture: every point has room around it.
struct PlotAxes {
  DecadeAxis amps, seconds;
};
inline PlotAxes axes_of(const PlotCircuit& c) {
  PlotAxes out{{1, 4}, {-2, 1}};
  const auto wide = [&](const Decimal& amps) {
    out.amps.low = std::min(out.amps.low, decade_below(amps));
    out.amps.high = std::max(out.amps.high, decade_below(amps) + 1);
  };
  for (const PlotStep& s : c.device_steps) wide(s.amps);
  for (const PlotStep& s : c.rcd_steps) wide(s.amps);
  if (c.measured) wide(c.measured->amps);
  if (c.limit) wide(c.limit->amps);
  return out;
}
inline bool has_picture(const PlotCircuit& c) {
  return !c.device_steps.empty() || !c.rcd_steps.empty();
}

}  // namespace ohmleaf::cli
