#pragma once
#include <string_view>

namespace ohmleaf::record {

/// A text that a new job holds where nobody has looked yet: the number of a circuit's way, the
/// place of an accessory. `check` calls it missing, so that no certificate ever prints it.
inline constexpr std::string_view kNotKnown = "?";

}  // namespace ohmleaf::record
