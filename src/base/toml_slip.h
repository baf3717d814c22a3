#pragma once
#include <optional>
#include <string>
#include <string_view>

namespace ohmleaf {

/// A syntax slip in one `key = value` line, in words for the one who made it. `at` and `length`
/// are bytes within the line.
struct TomlSlip {
  std::string id;
  std::size_t at = 0;
  std::size_t length = 1;
  std::string message;
  std::string hint;
};

/// Where the value of a `key = value` line begins; nothing for any other line.
std::optional<std::size_t> value_start(std::string_view line);
/// Recognises the slips that people make; nothing where the line shows none of them.
std::optional<TomlSlip> find_slip(std::string_view line);

/// How far a text has got, just before byte `end`.
struct TomlState {
  int depth = 0;           ///< open [ or {
  std::size_t opened = 0;  ///< byte of the outermost one
  bool in_text = false;    ///< within """ or '''
  std::size_t text_opened = 0;
};
TomlState state_before(std::string_view text, std::size_t end);

}  // namespace ohmleaf
