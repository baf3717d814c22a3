#pragma once
#include "archive/index.h"

namespace ohmleaf::late {
/// SQLite.
struct Index {
  static constexpr const char* kModule = "index";
  decltype(&archive::Index::open_file) open_file;
};
}  // namespace ohmleaf::late
