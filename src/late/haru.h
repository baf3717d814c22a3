#pragma once
#include "pdf/haru.h"

namespace ohmleaf::late {
/// libharu, and libdeflate for it.
struct Haru {
  static constexpr const char* kModule = "haru";
  decltype(&pdf::Objects::make) make;
};
}  // namespace ohmleaf::late
