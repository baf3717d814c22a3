#include "late/door.h"
#include "late/haru.h"

namespace ohmleaf::pdf {

std::unique_ptr<Objects> Objects::make() {
  return late::door<late::Haru>().make();
}

}  // namespace ohmleaf::pdf
