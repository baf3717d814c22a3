#pragma once
#include "pdf/haru.h"

namespace ohmleaf::late {
/// libharu, and libdeflate for it.
struct Haru {
  decltype(&pdf::Objects::make) make;
};
}  // namespace ohmleaf::late
