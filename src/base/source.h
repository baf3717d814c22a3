#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace ohmleaf {

/// Index of a text in `Sources`. 0 means "no source".
using SourceId = std::uint32_t;

/// A byte range of one source text. Bytes, never columns: only the renderer turns them into
/// lines and columns, so a caret cannot be off by the width of a character.
struct Span {
  SourceId source = 0;
  std::uint32_t begin = 0;
  std::uint32_t end = 0;

  constexpr bool valid() const { return source != 0; }
  friend constexpr bool operator==(const Span&, const Span&) = default;
};

/// Line and column as an editor counts them: from 1, the column in code points.
struct LineColumn {
  std::uint32_t line = 1;
  std::uint32_t column = 1;
};

/// One text as the user wrote it, with the place of each line.
class SourceText {
 public:
  SourceText(std::string name, std::string text, std::string_view tree = {});

  const std::string& name() const { return name_; }
  const std::string& text() const { return text_; }
  /// The text as a packed tree (base/toml_pack.h), where that is known beforehand.
  std::string_view tree() const { return tree_; }
  LineColumn line_column(std::uint32_t byte) const;
  /// The byte at line and column (both from 1); past the end gives the end of the line or text.
  std::uint32_t byte_at(std::uint32_t line, std::uint32_t column) const;
  /// The line's own bytes without its line ending.
  std::string_view line(std::uint32_t number) const;
  std::uint32_t line_count() const { return static_cast<std::uint32_t>(starts_.size()); }

 private:
  std::string name_;
  std::string text_;
  std::string_view tree_;
  std::vector<std::uint32_t> starts_;
};

/// All the texts of one run. Spans refer to it by number, so they stay small and copyable.
class Sources {
 public:
  /// `name` is what messages show: the path as the user gave it.
  /// `tree`: the same text packed, of a part of the program.
  SourceId add(std::string name, std::string text, std::string_view tree = {});
  const SourceText& get(SourceId id) const { return texts_.at(id - 1); }
  std::string_view slice(Span span) const;
  std::size_t size() const { return texts_.size(); }

 private:
  std::vector<SourceText> texts_;
};

}  // namespace ohmleaf
