#include "cli/style.h"

#include <algorithm>

#include "base/text.h"

namespace ohmleaf::cli {

std::string Style::operator()(Tone tone, std::string_view text) const {
  if (!on_ || tone == Tone::plain) return std::string(text);
  const char* code = "";
  switch (tone) {
    case Tone::plain: break;
    case Tone::strong: code = "\033[1m"; break;
    case Tone::quiet: code = "\033[2m"; break;
    case Tone::bad: code = "\033[1;31m"; break;
    case Tone::doubt: code = "\033[1;33m"; break;
    case Tone::good: code = "\033[32m"; break;
  }
  return code + std::string(text) + "\033[0m";
}

int text_width(const Environment& e) { return std::clamp(e.columns, 60, 100); }

std::string padded(std::string_view text, int width) {
  std::string out(text);
  const int have = static_cast<int>(code_point_count(text));
  if (have < width) out.append(static_cast<std::size_t>(width - have), ' ');
  return out;
}

std::string wrapped(std::string_view text, std::string_view first, std::string_view rest,
                    int width) {
  std::string out(first);
  std::size_t used = code_point_count(first);  // of the line at hand
  bool empty = true;
  for (const std::string_view word : split(text, ' ')) {
    if (word.empty()) continue;
    const std::size_t length = code_point_count(word);
    if (!empty && used + length + 1 > static_cast<std::size_t>(std::max(width, 0))) {
      out += '\n';
      out += rest;
      used = code_point_count(rest);
      empty = true;
    }
    if (!empty) {
      out += ' ';
      ++used;
    }
    out += word;
    used += length;
    empty = false;
  }
  out += '\n';
  return out;
}

}  // namespace ohmleaf::cli
