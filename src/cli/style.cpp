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
  std::string out, line(first);
  bool empty = true;
  for (const std::string_view word : split(text, ' ')) {
    if (word.empty()) continue;
    const auto length = code_point_count(line) + code_point_count(word) + (empty ? 0 : 1);
    if (!empty && static_cast<int>(length) > width) {
      out += line + "\n";
      line = std::string(rest);
      empty = true;
    }
    if (!empty) line += ' ';
    line += word;
    empty = false;
  }
  return out + line + "\n";
}

}  // namespace ohmleaf::cli
