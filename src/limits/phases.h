#pragma once

namespace ohmleaf::limits {

/// How a cable is loaded: two conductors of a single phase, or three of three phases.
enum class Phases { single, three };

}  // namespace ohmleaf::limits
