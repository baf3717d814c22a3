#pragma once
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace ohmleaf {

/// Byte offset of the first invalid UTF-8 sequence (overlong, surrogate, beyond U+10FFFF), if any.
std::optional<std::size_t> first_invalid_utf8(std::string_view text);

/// Decodes valid UTF-8; invalid bytes become U+FFFD.
std::u32string decode_utf8(std::string_view text);
void append_utf8(std::string& out, char32_t code_point);
std::size_t code_point_count(std::string_view text);

/// Canonical composition (NFC). Invalid UTF-8 comes back unchanged.
std::string to_nfc(std::string_view text);
/// For searching: case folded, accents removed, spaces collapsed.
std::string fold_for_search(std::string_view text);

/// Makes text safe for a terminal: control, escape and bidirectional-override characters are
/// shown as \u{…}. Line feed and tab are kept when `keep_newlines`.
std::string visible(std::string_view text, bool keep_newlines = false);
/// True for characters that may not stand in printed text (controls, bidi overrides, U+FFFE …).
bool is_forbidden_in_text(char32_t code_point);

std::string_view trim(std::string_view text);
std::vector<std::string_view> split(std::string_view text, char separator);
std::string join(const std::vector<std::string>& parts, std::string_view separator);
/// ASCII only; leaves other bytes alone.
std::string ascii_lower(std::string_view text);

/// The candidate nearest to `word` by edit distance (a transposition counts 1), if near enough
/// to be worth suggesting.
std::optional<std::string> nearest(std::string_view word,
                                   const std::vector<std::string_view>& candidates);

}  // namespace ohmleaf
