#include "late/pictures.h"

#include "late/door.h"

namespace {
using namespace ohmleaf::app;
const ohmleaf::late::Pictures kTable = {&decode_png, &decode_jpeg, &encode_png};
}  // namespace

OHMLEAF_DOOR(kTable)
