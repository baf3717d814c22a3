#include "pdf/text_string.h"

#include <algorithm>

#include "base/digest.h"
#include "base/text.h"
#include "pdf/big_endian.h"

namespace ohmleaf::pdf {

std::string utf16_with_mark(std::string_view text) {
  std::string out = "\xFE\xFF";
  for (const char32_t c : code_points(text)) {
    if (c > 0xFFFF) {
      append_u16(out, 0xD800 + ((c - 0x10000) >> 10));
      append_u16(out, 0xDC00 + ((c - 0x10000) & 0x3FF));
    } else {
      append_u16(out, c);
    }
  }
  return out;
}

std::string written_text(std::string_view text) {
  if (!is_plain_ascii(text)) return "<" + to_hex(utf16_with_mark(text)) + ">";
  std::string out = "(";
  for (const char c : text) {
    if (c == '(' || c == ')' || c == '\\') out += '\\';
    out += c;
  }
  return out + ")";
}

bool is_plain_ascii(std::string_view text) {
  return std::all_of(text.begin(), text.end(), [](char c) { return c >= 0x20 && c < 0x7F; });
}

}  // namespace ohmleaf::pdf
