#include "base/text.h"

#include <fmt/format.h>
#include <utf8proc.h>

#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <cstring>

namespace ohmleaf {
namespace {

/// Length of the valid sequence at `i`, or 0.
std::size_t sequence_length(std::string_view t, std::size_t i, char32_t& cp) {
  const auto byte = [&](std::size_t k) { return static_cast<unsigned char>(t[k]); };
  const unsigned char first = byte(i);
  if (first < 0x80) {
    cp = first;
    return 1;
  }
  std::size_t length = 0;
  char32_t least = 0;
  if ((first & 0xE0u) == 0xC0u) { length = 2; least = 0x80; cp = first & 0x1Fu; }
  else if ((first & 0xF0u) == 0xE0u) { length = 3; least = 0x800; cp = first & 0x0Fu; }
  else if ((first & 0xF8u) == 0xF0u) { length = 4; least = 0x10000; cp = first & 0x07u; }
  else return 0;
  if (i + length > t.size()) return 0;
  for (std::size_t k = 1; k < length; ++k) {
    if ((byte(i + k) & 0xC0u) != 0x80u) return 0;
    cp = (cp << 6) | (byte(i + k) & 0x3Fu);
  }
  if (cp < least || cp > 0x10FFFF || (cp >= 0xD800 && cp <= 0xDFFF)) return 0;
  return length;
}

std::string map_utf8(std::string_view text, utf8proc_option_t options) {
  utf8proc_uint8_t* raw = nullptr;
  const auto length =
      utf8proc_map(reinterpret_cast<const utf8proc_uint8_t*>(text.data()),
                   static_cast<utf8proc_ssize_t>(text.size()), &raw, options);
  if (length < 0 || raw == nullptr) return std::string(text);
  std::string out(reinterpret_cast<const char*>(raw), static_cast<std::size_t>(length));
  std::free(raw);
  return out;
}

std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> before(b.size() + 1), row(b.size() + 1), next(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    next[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      next[j] = std::min({row[j] + 1, next[j - 1] + 1, row[j - 1] + (a[i - 1] != b[j - 1] ? 1 : 0)});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
        next[j] = std::min(next[j], before[j - 2] + 1);
    }
    before.swap(row);
    row.swap(next);
  }
  return row[b.size()];
}

}  // namespace

std::optional<std::size_t> first_invalid_utf8(std::string_view text) {
  char32_t cp = 0;
  for (std::size_t i = 0; i < text.size();) {
    std::uint64_t eight = 0;  // of ASCII, which nearly all of them are
    if (i + sizeof eight <= text.size()) {
      std::memcpy(&eight, text.data() + i, sizeof eight);
      if ((eight & 0x8080808080808080u) == 0) {
        i += sizeof eight;
        continue;
      }
    }
    const std::size_t n = sequence_length(text, i, cp);
    if (n == 0) return i;
    i += n;
  }
  return std::nullopt;
}

void CodePoints::Iterator::read_long() {
  const std::size_t n = sequence_length(text_, at_, code_point_);
  if (n == 0) code_point_ = 0xFFFD;
  length_ = n == 0 ? 1 : n;
}

std::u32string decode_utf8(std::string_view text) {
  std::u32string out;
  out.reserve(text.size());
  for (const char32_t c : code_points(text)) out += c;
  return out;
}

void append_utf8(std::string& out, char32_t cp) {
  if (cp < 0x80) {
    out += static_cast<char>(cp);
  } else if (cp < 0x800) {
    out += static_cast<char>(0xC0 | (cp >> 6));
    out += static_cast<char>(0x80 | (cp & 0x3F));
  } else if (cp < 0x10000) {
    out += static_cast<char>(0xE0 | (cp >> 12));
    out += static_cast<char>(0x80 | ((cp >> 6) & 0x3F));
    out += static_cast<char>(0x80 | (cp & 0x3F));
  } else {
    out += static_cast<char>(0xF0 | (cp >> 18));
    out += static_cast<char>(0x80 | ((cp >> 12) & 0x3F));
    out += static_cast<char>(0x80 | ((cp >> 6) & 0x3F));
    out += static_cast<char>(0x80 | (cp & 0x3F));
  }
}

std::size_t code_point_count(std::string_view text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0u) != 0x80u;
  }));
}

namespace {

/// Characters that stand for themselves in NFC and that nothing before them joins with (Unicode,
/// DerivedNormalizationProps: NFC_QC is Yes and the combining class 0): Latin with its accents,
/// Greek letters, dashes, arrows and signs of mathematics. Nearly all text is made of them.
bool settled(char32_t c) {
  return c < 0x300 || (c >= 0x391 && c <= 0x3C9) || (c >= 0x2010 && c <= 0x2027) ||
         (c >= 0x2190 && c <= 0x22FF);
}

bool is_settled(std::string_view text) {
  for (std::size_t i = 0; i < text.size();) {
    if (static_cast<unsigned char>(text[i]) < 0x80) {
      ++i;
      continue;
    }
    char32_t c = 0;
    const std::size_t length = sequence_length(text, i, c);
    if (length == 0 || !settled(c)) return false;
    i += length;
  }
  return true;
}

}  // namespace

std::string to_nfc(std::string_view text) {
  if (is_settled(text)) return std::string(text);
  return map_utf8(text, static_cast<utf8proc_option_t>(UTF8PROC_STABLE | UTF8PROC_COMPOSE));
}

namespace {

/// Latin letters that a reader takes for an accented one, but Unicode does not decompose.
void unstroke(std::string& text) {
  static constexpr std::pair<std::string_view, std::string_view> kLetters[] = {
      {"ø", "o"}, {"ł", "l"}, {"đ", "d"}, {"ð", "d"}, {"ħ", "h"},
      {"ŧ", "t"}, {"ı", "i"}, {"æ", "ae"}, {"œ", "oe"}, {"þ", "th"}};
  for (const auto& [stroked, plain] : kLetters)
    for (auto at = text.find(stroked); at != std::string::npos; at = text.find(stroked, at))
      text.replace(at, stroked.size(), plain);
}

}  // namespace

std::string fold_for_search(std::string_view text) {
  std::string folded =
      map_utf8(text, static_cast<utf8proc_option_t>(UTF8PROC_STABLE | UTF8PROC_DECOMPOSE |
                                                    UTF8PROC_STRIPMARK | UTF8PROC_CASEFOLD |
                                                    UTF8PROC_COMPAT));
  unstroke(folded);
  std::string out;
  for (const char c : folded) {
    const bool space = c == ' ' || c == '\t' || c == '\n' || c == '\r';
    if (!space) out += c;
    else if (!out.empty() && out.back() != ' ') out += ' ';
  }
  while (!out.empty() && out.back() == ' ') out.pop_back();
  return out;
}

bool is_forbidden_beyond_latin(char32_t cp) {
  return (cp >= 0x7F && cp < 0xA0) || (cp >= 0x200B && cp <= 0x200F) ||
         (cp >= 0x2028 && cp <= 0x202E) || (cp >= 0x2060 && cp <= 0x206F) || cp == 0xFEFF ||
         cp == 0xFFFD || (cp & 0xFFFE) == 0xFFFE || (cp >= 0xE000 && cp <= 0xF8FF) ||
         (cp >= 0xFDD0 && cp <= 0xFDEF) || cp == 0x061C;
}

std::string xml_text(std::string_view text) {
  std::string out;
  for (const char c : text) switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      default:
        out += c;
    }
  return out;
}

std::string visible(std::string_view text, bool keep_newlines) {
  std::string out;
  out.reserve(text.size());
  for (const char32_t cp : code_points(text)) {
    const bool kept = keep_newlines && (cp == '\n' || cp == '\t');
    if (cp >= 0x20 && cp < 0x7F)  // nearly all
      out += static_cast<char>(cp);
    else if (is_forbidden_in_text(cp) && !kept)
      out += fmt::format("\\u{{{:x}}}", static_cast<std::uint32_t>(cp));
    else
      append_utf8(out, cp);
  }
  return out;
}

std::string_view trim(std::string_view text) {
  const auto space = [](char c) { return c == ' ' || c == '\t' || c == '\n' || c == '\r'; };
  while (!text.empty() && space(text.front())) text.remove_prefix(1);
  while (!text.empty() && space(text.back())) text.remove_suffix(1);
  return text;
}

std::vector<std::string_view> split(std::string_view text, char separator) {
  std::vector<std::string_view> out;
  for (;;) {
    const std::size_t at = text.find(separator);
    out.push_back(text.substr(0, at));
    if (at == std::string_view::npos) return out;
    text.remove_prefix(at + 1);
  }
}

std::string join(const std::vector<std::string>& parts, std::string_view separator) {
  std::string out;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (i > 0) out += separator;
    out += parts[i];
  }
  return out;
}

std::string ascii_lower(std::string_view text) {
  std::string out(text);
  for (char& c : out)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return out;
}

std::optional<std::string> nearest(std::string_view word,
                                   const std::vector<std::string_view>& candidates) {
  if (word.size() > 64) return std::nullopt;
  const std::string lower = ascii_lower(word);
  std::size_t best = std::max<std::size_t>(1, word.size() / 3) + 1;
  std::optional<std::string> found;
  for (const std::string_view c : candidates) {
    if (c.size() > 64) continue;
    const std::size_t d = edit_distance(lower, ascii_lower(c));
    if (d < best) {
      best = d;
      found = std::string(c);
    }
  }
  return found;
}

}  // namespace ohmleaf
