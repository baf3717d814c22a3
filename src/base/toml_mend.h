#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "base/source.h"

namespace ohmleaf {

/// Keeps a parser that stops at its first error going. A slip within one line is reported from the
/// user's own words and the line replaced by something harmless of the same length, so that every
/// byte behind it keeps its place.
class TomlMender {
 public:
  TomlMender(const SourceText& original, SourceId id, Diagnostics& out)
      : original_(original), id_(id), text_(original.text()), out_(out) {}

  /// What to parse next.
  const std::string& text() const { return text_; }
  /// Reports the error that the parser met at `line` and byte `at`, in its words where we have
  /// none of our own. False where parsing cannot go on.
  bool mend(std::uint32_t line, std::uint32_t at, std::string_view description);
  /// True if a stand-in of ours lies within the span.
  bool touched(Span span) const;

 private:
  bool report(std::uint32_t line, std::uint32_t at, std::string_view description);
  bool stand_in(std::uint32_t line);

  const SourceText& original_;
  SourceId id_;
  std::string text_;
  Diagnostics& out_;
  std::vector<std::uint32_t> mends_;  ///< bytes that stand for something else
  std::vector<std::uint32_t> lines_;  ///< lines mended once
};

}  // namespace ohmleaf
