#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "layout/frames.h"

namespace ohmleaf::layout {

/// A stretch of text in one face and colour.
struct Chunk {
  std::string text;
  Face face = Face::regular;
  Color color;
};
using Rich = std::vector<Chunk>;

struct Fragment {
  Pt x;  ///< from the line's left end
  std::string text;
  Face face = Face::regular;
  Color color;
};

struct TextLine {
  std::vector<Fragment> fragments;
  Pt width;
};

/// Breaks text into lines no wider than `width`: at spaces, after hyphens, dashes and slashes, and
/// inside a word only where the word alone is wider than the line. A line feed starts a new line.
/// Never empty: no text gives one empty line.
std::vector<TextLine> break_lines(const Rich& text, Pt size, Pt width, const FontMetrics& metrics);

/// How many they are.
int count_lines(const Rich& text, Pt size, Pt width, const FontMetrics& metrics);

/// What a text asks for, measured once: cells are asked for it again and again.
struct TextExtent {
  Pt longest_word;  ///< the widest piece that is only broken in need
  Pt natural;       ///< the width without any break except its line feeds
  int lines = 1;    ///< in that width
};
TextExtent text_extent(const Rich& text, Pt size, const FontMetrics& metrics);

/// The one line that `break_lines` gives in a width that the text fits in, where that is the text as it
/// stands; nothing where it is not (several chunks, spaces at an end or in a row, a line feed).
std::optional<TextLine> whole_line(const Rich& text, const TextExtent& extent);

/// The text without characters that may not be printed: tabs and returns become spaces, other
/// controls vanish; NFC.
std::string printable(std::string_view text);

}  // namespace ohmleaf::layout
