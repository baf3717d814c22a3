#pragma once
#include "archive/package.h"

namespace ohmleaf::late {
/// libzip.
struct Zip {
  static constexpr const char* kModule = "zip";
  decltype(&archive::open_zip_package) open_package;
  decltype(&archive::write_zip) write;
};
}  // namespace ohmleaf::late
