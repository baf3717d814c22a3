#include "base/version.h"

namespace ohmleaf {

std::string_view program_version() { return OHMLEAF_VERSION; }

}  // namespace ohmleaf
