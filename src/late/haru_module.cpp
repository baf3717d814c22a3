#include "late/haru.h"

#include "late/door.h"

namespace {
const ohmleaf::late::Haru kTable = {&ohmleaf::pdf::Objects::make};
}  // namespace

OHMLEAF_DOOR(kTable)
