#pragma once
#include "archive/index.h"

namespace ohmleaf::late {
/// SQLite.
struct Index {
  decltype(&archive::Index::open) open;
};
}  // namespace ohmleaf::late
