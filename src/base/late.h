#pragma once
#include <stdexcept>

namespace ohmleaf {

/// A part of the program is not where it was installed, or is another version's. Thrown, since no
/// command can do without what it asked for, and caught where the program ends.
struct Missing : std::runtime_error {
  using std::runtime_error::runtime_error;
};

/// Opens lib/ohmleaf/NAME.so beside the program's folder, for good, and gives what its
/// `ohmleaf_door()` gives. Throws `Missing`. See src/late/door.h.
const void* open_late(const char* name);

}  // namespace ohmleaf
