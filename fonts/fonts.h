#pragma once
#include <string_view>

namespace ohmleaf::fonts {

/// The bytes of the three faces (TrueType, made by make_fonts.py), compiled into the program so
/// that it finds them from any folder. They live as long as the program.
std::string_view regular();
std::string_view bold();
std::string_view italic();

/// The sRGB colour profile that every PDF names as its output intent.
std::string_view srgb_profile();

}  // namespace ohmleaf::fonts
