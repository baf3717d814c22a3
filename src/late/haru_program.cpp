#include "late/door.h"
#include "late/haru.h"

namespace ohmleaf::pdf {

std::unique_ptr<Objects> Objects::make() {
  static const auto& door = late::open<late::Haru>("haru");
  return door.make();
}

}  // namespace ohmleaf::pdf
