#include "late/zip.h"

#include "late/door.h"

namespace {
const ohmleaf::late::Zip kTable = {&ohmleaf::archive::open_zip_package, &ohmleaf::archive::write_zip};
}  // namespace

OHMLEAF_DOOR(kTable)
