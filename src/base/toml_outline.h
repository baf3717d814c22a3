#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

// The lines of a TOML text as its writer laid them out: headers, entries, comments. The tree that
// the parser gives says what a file means; this says where it says so, comments included.

namespace ohmleaf {

/// A key, or the element of a list of tables: {"circuit", 0}.
struct TomlStep {
  std::string key;
  int index = -1;
  friend bool operator==(const TomlStep&, const TomlStep&) = default;
};
using TomlPath = std::vector<TomlStep>;

/// "circuit[0].dead.R1R2"; keys that need no quotation marks only.
TomlPath toml_path(std::string_view text);
std::string toml_path_text(const TomlPath& path);

struct TomlLine {
  enum class Kind { empty, comment, header, entry };
  Kind kind = Kind::empty;
  std::uint32_t begin = 0;  ///< of its first line ...
  std::uint32_t end = 0;    ///< ... to behind its last one, without the line ending
  std::uint32_t next = 0;   ///< where the line after it begins
  TomlPath path;            ///< of the header's table; of an entry, from the root
};

/// Every line of a text that the parser accepts; a value of several lines is one entry. What it
/// makes of any other text is of no use, but it ends.
std::vector<TomlLine> toml_outline(std::string_view text);

/// Reads "a.b" (bare or quoted keys) from `at` on; `at` is left behind it. Empty: there is no key.
std::vector<std::string> toml_dotted_key(std::string_view text, std::size_t& at);

}  // namespace ohmleaf
