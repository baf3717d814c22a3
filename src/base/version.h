#pragma once
#include <string_view>

namespace ohmleaf {

/// Printed by --version, recorded with every issue: a version of the program is a version of the
/// limits. Set by CMake from the project's version.
std::string_view program_version();

}  // namespace ohmleaf
