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

/// The same one by one, without a copy: `for (const char32_t c : code_points(text))`. The text has
/// to outlive the loop.
class CodePoints {
 public:
  class Iterator {
   public:
    Iterator(std::string_view text, std::size_t at) : text_(text), at_(at) { read(); }
    char32_t operator*() const { return code_point_; }
    Iterator& operator++() {
      at_ += length_;
      read();
      return *this;
    }
    friend bool operator==(const Iterator& a, const Iterator& b) { return a.at_ == b.at_; }

   private:
    void read() {
      if (at_ >= text_.size()) return;
      const auto c = static_cast<unsigned char>(text_[at_]);
      code_point_ = c;
      length_ = 1;
      if (c >= 0x80) read_long();
    }
    void read_long();
    std::string_view text_;
    std::size_t at_ = 0, length_ = 1;
    char32_t code_point_ = 0;
  };
  explicit CodePoints(std::string_view text) : text_(text) {}
  Iterator begin() const { return {text_, 0}; }
  Iterator end() const { return {text_, text_.size()}; }

 private:
  std::string_view text_;
};
inline CodePoints code_points(std::string_view text) { return CodePoints(text); }
std::size_t code_point_count(std::string_view text);

/// Canonical composition (NFC). Invalid UTF-8 comes back unchanged.
std::string to_nfc(std::string_view text);
/// For searching: case folded, accents removed, spaces collapsed.
std::string fold_for_search(std::string_view text);

/// Makes text safe for a terminal: control, escape and bidirectional-override characters are
/// shown as \u{…}. Line feed and tab are kept when `keep_newlines`.
std::string visible(std::string_view text, bool keep_newlines = false);
/// As character data or a quoted attribute of XML (XML 1.0, 2.4). Controls are not looked for.
std::string xml_text(std::string_view text);
/// True for characters that may not stand in printed text (controls, bidi overrides, U+FFFE …).
bool is_forbidden_beyond_latin(char32_t code_point);
inline bool is_forbidden_in_text(char32_t code_point) {
  if (code_point < 0x7F) return code_point < 0x20;
  return (code_point < 0xA0 || code_point >= 0x300) && is_forbidden_beyond_latin(code_point);
}

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
