#include "late/door.h"
#include "late/seal.h"

namespace {
using namespace ohmleaf::seal;
const ohmleaf::late::Seal kTable = {
    &Key::open,  &Key::make,       &Key::holder, &Key::sign,   &Key::room,    &Roots::read,
    &check_signature, &der_length, &check_trust, &stamp_request, &check_stamp, &guard_process,
};
}  // namespace

OHMLEAF_DOOR(kTable)
