#pragma once
#include <optional>
#include <string_view>

namespace ohmleaf::shipped {

/// What was made of a form, theme or words file when the program was built.
struct File {
  std::string_view tree;        ///< packed (base/toml_pack.h)
  std::string_view deflated;    ///< as pdf/deflate.h compresses
  std::string_view sha256_hex;
  std::string_view md5;         ///< 16 bytes
};
/// Nothing where the text is not, byte for byte, one of them.
std::optional<File> find(std::string_view text);

/// The packed tree (base/toml_pack.h) of a form, theme or words file that was built with the program;
/// empty where the text is not, byte for byte, one of them.
std::string_view tree(std::string_view text);

/// How many there are.
std::size_t count();

}  // namespace ohmleaf::shipped
