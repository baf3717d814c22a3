#include "late/door.h"
#include "late/index.h"

namespace ohmleaf::archive {

std::unique_ptr<Index> Index::open(const Store& store, bool create) {
  static const auto& door = late::open<late::Index>("index");
  return door.open(store, create);
}

}  // namespace ohmleaf::archive
