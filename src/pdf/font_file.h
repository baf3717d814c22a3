#pragma once
#include <cstdint>
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "layout/frames.h"

namespace ohmleaf::pdf {

/// Number of a glyph in a font file; 0 is the glyph for "missing".
using GlyphId = std::uint16_t;

/// One of our own faces (fonts/make_fonts.py): TrueType, 1000 units an em, plain outlines only.
/// All lengths are in thousandths of an em.
class FontFile {
 public:
  /// Reads the tables; nothing if the bytes are no such font: a table absent or cut short, a
  /// composite glyph, another number of units. The bytes must outlive the result.
  static std::optional<FontFile> parse(std::string_view bytes);

  /// 0 if the font does not have the character.
  GlyphId glyph(char32_t code_point) const;
  /// The first character that the glyph stands for; 0 if none.
  char32_t character(GlyphId glyph) const;
  int glyph_count() const { return static_cast<int>(advances_.size()); }
  int advance(GlyphId glyph) const { return glyph < advances_.size() ? advances_[glyph] : 0; }
  /// Of the character's glyph.
  int advance_of(char32_t code_point) const {
    return code_point < low_advances_.size() ? low_advances_[code_point]
                                             : advance(glyph(code_point));
  }
  /// The same for a character below 0x80.
  int low_advance(unsigned char code) const { return low_advances_[code & 0x7F]; }
  int left_bearing(GlyphId glyph) const { return glyph < advances_.size() ? bearings_[glyph] : 0; }
  /// The glyph's own bytes in the glyf table; empty for a glyph that draws nothing.
  std::string_view outline(GlyphId glyph) const;
  /// The bytes of one table, as in the file; empty if absent.
  std::string_view table(std::string_view tag) const;

  struct Shape {
    int ascent = 0, descent = 0, cap_height = 0;  ///< all positive
    int x_min = 0, y_min = 0, x_max = 0, y_max = 0;
    int weight = 400;
    int italic_angle = 0;  ///< whole degrees anticlockwise from the vertical
  };
  const Shape& shape() const { return shape_; }

 private:
  /// Characters in a row whose glyphs are in a row too.
  struct Run {
    char32_t first = 0, last = 0;
    GlyphId glyph = 0;
  };
  bool read_shape();
  bool read_advances();
  bool read_outlines();
  bool read_characters();
  bool read_segments(std::string_view format4);
  bool add_character(char32_t code_point, unsigned glyph);

  std::string_view bytes_;
  Shape shape_;
  std::vector<int> advances_;
  std::vector<int> bearings_;
  std::vector<std::uint32_t> offsets_;  ///< one more than there are glyphs
  std::vector<Run> runs_;
  /// Most text: found without a search. Filled from the runs.
  std::array<GlyphId, 0x250> low_{};
  std::array<std::uint16_t, 0x250> low_advances_{};  ///< of the glyphs in `low_`
  std::vector<char32_t> characters_;
};

/// The embedded faces, read once. A face that cannot be read has no glyph at all, so that its
/// first use is reported as missing glyphs; a test reads all of them.
const FontFile& font_file(layout::Face face);

/// Name of the face as a PDF font name, without the subset's prefix.
std::string_view font_name(layout::Face face);

}  // namespace ohmleaf::pdf
