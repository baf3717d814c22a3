#include "base/version.h"

namespace ohmleaf {

std::string_view program_version() { return OHMLEAF_VERSION; }
std::string_view program_date() { return OHMLEAF_DATE; }

}  // namespace ohmleaf
