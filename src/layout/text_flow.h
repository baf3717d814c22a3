#pragma once
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

/// True only where `break_lines` would give one line: cheaper to ask, and most cells hold little.
bool surely_one_line(const Rich& text, Pt size, Pt width, const FontMetrics& metrics);

/// Width of the text without any break except its line feeds.
Pt natural_width(const Rich& text, Pt size, const FontMetrics& metrics);
/// Width of the longest piece that is only broken in need.
Pt longest_word(const Rich& text, Pt size, const FontMetrics& metrics);

/// The text without characters that may not be printed: tabs and returns become spaces, other
/// controls vanish; NFC.
std::string printable(std::string_view text);

}  // namespace ohmleaf::layout
