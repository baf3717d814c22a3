#pragma once
#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "pdf/font_file.h"

namespace ohmleaf::pdf {

/// The part of a face that one document uses, as the PDF wants it. Glyphs are numbered afresh in
/// the order of their characters; the number is the character code in content streams.
class Subset {
 public:
  explicit Subset(layout::Face face) : face_(face), font_(&font_file(face)) {}

  /// Marks a character as used; false where the face does not have it. Only before `number`.
  bool use(char32_t code_point) {
    return (code_point < low_used_.size() && low_used_[code_point]) || use_new(code_point);
  }
  bool empty() const { return glyphs_.empty(); }
  /// Numbers in the face of what was marked, ascending.
  const std::vector<GlyphId>& glyphs() const { return glyphs_; }
  /// The new number of a used character; 0 if it was not marked.
  GlyphId number(char32_t code_point) const {
    if (!numbered_) number_all();
    return code_point < low_numbers_.size() ? low_numbers_[code_point] : number_of(code_point);
  }

  /// "ABCDEF+OhmleafSans-Bold": the prefix follows from what is used.
  std::string name() const;
  const FontFile& font() const { return *font_; }
  layout::Face face() const { return face_; }
  /// Advances of glyphs 1, 2, 3 … in thousandths of an em.
  std::vector<int> widths() const;
  /// A TrueType file with the used glyphs and the tables that a CIDFontType2 needs.
  std::string file() const;
  /// The ToUnicode CMap.
  std::string to_unicode() const;

 private:
  bool use_new(char32_t code_point);
  void number_all() const;
  GlyphId number_of(char32_t code_point) const;
  std::string glyph_tables(std::string& loca, std::string& hmtx) const;

  layout::Face face_;
  const FontFile* font_;
  std::vector<GlyphId> glyphs_;  ///< numbers in the face, ascending
  std::vector<bool> used_;       ///< the same by number in the face; empty: none
  std::array<bool, 0x80> low_used_{};  ///< characters that were marked: most are, again and again
  // Made when first asked for.
  mutable bool numbered_ = false;
  mutable std::vector<GlyphId> numbers_;  ///< new number by number in the face
  mutable std::array<GlyphId, 0x80> low_numbers_{};  ///< by character
};

}  // namespace ohmleaf::pdf
