#pragma once
#include <string_view>

namespace ohmleaf::shipped {

/// The packed tree (base/toml_pack.h) of a form, theme or words file that was built with the program;
/// empty where the text is not, byte for byte, one of them.
std::string_view tree(std::string_view text);

/// How many there are.
std::size_t count();

}  // namespace ohmleaf::shipped
