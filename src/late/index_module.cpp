#include "late/index.h"

#include "late/door.h"

namespace {
const ohmleaf::late::Index kTable = {&ohmleaf::archive::Index::open_file};
}  // namespace

OHMLEAF_DOOR(kTable)
