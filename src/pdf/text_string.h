#pragma once
#include <string>
#include <string_view>

namespace ohmleaf::pdf {

/// Text as the bytes of a UTF-16 text string with its mark.
std::string utf16_with_mark(std::string_view text);
/// A text string as it stands in the file: "(CU1)", or <FEFF…>.
std::string written_text(std::string_view text);
/// Printable ASCII only.
bool is_plain_ascii(std::string_view text);

}  // namespace ohmleaf::pdf
