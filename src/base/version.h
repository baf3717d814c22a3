#pragma once
#include <string_view>

namespace ohmleaf {

/// Printed by --version, recorded with every issue: a version of the program is a version of the
/// limits. Set by CMake from the project's version.
std::string_view program_version();
/// Day of this version, year-month-day, for the manual. Set by CMake, so that the same source gives
/// the same bytes.
std::string_view program_date();

}  // namespace ohmleaf
