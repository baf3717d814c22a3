#include "base/source.h"

#include <algorithm>

namespace ohmleaf {
namespace {
bool is_continuation(char c) { return (static_cast<unsigned char>(c) & 0xC0u) == 0x80u; }
}  // namespace

SourceText::SourceText(std::string name, std::string text, std::string_view tree)
    : name_(std::move(name)), text_(std::move(text)), tree_(tree) {
  // A byte order mark is no character of the first line, for editors as for the TOML parser.
  starts_.reserve(text_.size() / 32 + 1);  // lines of a job are about as long
  starts_.push_back(text_.starts_with("\xEF\xBB\xBF") ? 3 : 0);
  for (std::size_t at = text_.find('\n'); at != std::string::npos; at = text_.find('\n', at + 1))
    starts_.push_back(static_cast<std::uint32_t>(at + 1));
}

LineColumn SourceText::line_column(std::uint32_t byte) const {
  byte = std::clamp(byte, starts_.front(), static_cast<std::uint32_t>(text_.size()));
  const auto after = std::upper_bound(starts_.begin(), starts_.end(), byte);
  LineColumn at;
  at.line = static_cast<std::uint32_t>(after - starts_.begin());
  for (std::uint32_t i = starts_[at.line - 1]; i < byte; ++i)
    if (!is_continuation(text_[i])) ++at.column;
  return at;
}

std::uint32_t SourceText::byte_at(std::uint32_t line, std::uint32_t column) const {
  if (line == 0 || line > starts_.size()) return static_cast<std::uint32_t>(text_.size());
  std::uint32_t byte = starts_[line - 1];
  while (column > 1 && byte < text_.size() && text_[byte] != '\n') {
    ++byte;
    while (byte < text_.size() && is_continuation(text_[byte])) ++byte;
    --column;
  }
  return byte;
}

std::string_view SourceText::line(std::uint32_t number) const {
  if (number == 0 || number > starts_.size()) return {};
  const std::size_t begin = starts_[number - 1];
  std::size_t end = text_.find('\n', begin);
  if (end == std::string::npos) end = text_.size();
  if (end > begin && text_[end - 1] == '\r') --end;
  return std::string_view(text_).substr(begin, end - begin);
}

SourceId Sources::add(std::string name, std::string text, std::string_view tree) {
  texts_.emplace_back(std::move(name), std::move(text), tree);
  return static_cast<SourceId>(texts_.size());
}

std::string_view Sources::slice(Span span) const {
  if (!span.valid() || span.source > texts_.size()) return {};
  const std::string& text = get(span.source).text();
  if (span.begin > text.size() || span.end < span.begin) return {};
  return std::string_view(text).substr(span.begin, span.end - span.begin);
}

}  // namespace ohmleaf
