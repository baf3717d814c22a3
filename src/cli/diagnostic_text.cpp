#include "cli/diagnostic_text.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"

namespace ohmleaf::cli {
namespace {

constexpr std::size_t kExcerpt = 100;  // code points of a line worth showing

std::string_view word(Severity severity) {
  switch (severity) {
    case Severity::error: return "error";
    case Severity::warning: return "warning";
    case Severity::note: return "note";
  }
  return "error";
}

/// The first `kExcerpt` characters. Only their bytes are decoded: a line may be megabytes long.
std::string beginning(std::string_view text) {
  const std::u32string decoded = decode_utf8(text.substr(0, kExcerpt * 4));
  std::string out;
  for (std::size_t i = 0; i < std::min(decoded.size(), kExcerpt); ++i)
    append_utf8(out, decoded[i] == U'\t' ? U' ' : decoded[i]);
  return visible(out);
}

}  // namespace

std::string place_text(Span span, const Sources& sources) {
  if (!span.valid()) return {};
  const SourceText& text = sources.get(span.source);
  const LineColumn at = text.line_column(span.begin);
  return fmt::format("{}:{}:{}", visible(text.name()), at.line, at.column);
}

std::string excerpt_text(Span span, const Sources& sources, const Style& style) {
  if (!span.valid()) return {};
  const SourceText& text = sources.get(span.source);
  const LineColumn at = text.line_column(span.begin);
  const LineColumn last = text.line_column(span.end);
  const std::string_view line = text.line(at.line);
  const std::size_t column = at.column - 1;
  const std::size_t begin = column > kExcerpt - 20 ? column - 40 : 0;
  std::size_t carets = last.line == at.line && last.column > at.column ? last.column - at.column : 1;
  carets = std::min(carets, kExcerpt - std::min(kExcerpt - 1, column - begin));
  const std::uint32_t skipped =
      text.byte_at(at.line, static_cast<std::uint32_t>(begin + 1)) - text.byte_at(at.line, 1);
  const std::string number = std::to_string(at.line);
  return fmt::format("  {} {} {}\n  {} {} {}{}\n", number, style(Tone::quiet, "│"),
                     beginning(line.substr(std::min<std::size_t>(skipped, line.size()))), std::string(number.size(), ' '),
                     style(Tone::quiet, "│"), std::string(column - begin, ' '),
                     style(Tone::bad, std::string(std::max<std::size_t>(carets, 1), '^')));
}

std::string diagnostic_text(const Diagnostic& d, const Sources& sources, const Style& style,
                            int width) {
  const Tone tone = d.severity == Severity::error ? Tone::bad : Tone::doubt;
  const std::string place = place_text(d.span, sources);
  std::string out = (place.empty() ? "ohmleaf" : place) + ": " +
                    style(tone, std::string(word(d.severity)) + ":") + " " +
                    visible(d.message) + "\n" + excerpt_text(d.span, sources, style);
  for (const Label& label : d.labels)
    out += wrapped(visible(label.text), "  see " + place_text(label.span, sources) + ": ", "    ", width);
  for (const std::string& hint : d.hints) out += wrapped(visible(hint), "  → ", "    ", width);
  return out;
}

std::string diagnostics_text(Diagnostics diagnostics, const Sources& sources, const Style& style,
                             int width) {
  diagnostics.sort();
  std::string out;
  for (const Diagnostic& d : diagnostics.all()) out += diagnostic_text(d, sources, style, width);
  return out;
}

}  // namespace ohmleaf::cli
