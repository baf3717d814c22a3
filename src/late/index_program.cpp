#include "late/door.h"
#include "late/index.h"

namespace ohmleaf::archive {

/// Without the module there is no index, which is only a cache: the records are read. It must not end
/// a command that has filed a certificate already.
std::unique_ptr<Index> Index::open_file(const Store& store, bool create) {
  try {
    return late::door<late::Index>().open_file(store, create);
  } catch (const Missing&) {
    return nullptr;
  }
}

}  // namespace ohmleaf::archive
