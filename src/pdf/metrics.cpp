#include "base/text.h"
#include "pdf/font_file.h"
#include "pdf/pdf.h"

namespace ohmleaf::pdf {
namespace {

using layout::Face;
using layout::Pt;

/// `thousandths` of an em at this size, rounded to the nearest thousandth of a point.
Pt scaled(std::int64_t thousandths, Pt size) {
  return {static_cast<std::int32_t>((thousandths * size.milli + 500) / 1000)};
}

class EmbeddedMetrics final : public layout::FontMetrics {
 public:
  Pt width(Face face, Pt size, std::string_view text) const override {
    const FontFile& font = font_file(face);
    std::int64_t sum = 0;
    for (const char32_t c : code_points(text)) sum += font.advance_of(c);
    return scaled(sum, size);
  }
  bool has_glyph(Face face, char32_t code_point) const override {
    return font_file(face).glyph(code_point) != 0;
  }
  Pt ascent(Face face, Pt size) const override {
    return scaled(font_file(face).shape().ascent, size);
  }
  Pt descent(Face face, Pt size) const override {
    return scaled(font_file(face).shape().descent, size);
  }
  Pt cap_height(Face face, Pt size) const override {
    return scaled(font_file(face).shape().cap_height, size);
  }
};

}  // namespace

const layout::FontMetrics& font_metrics() {
  static const EmbeddedMetrics metrics;
  return metrics;
}

}  // namespace ohmleaf::pdf
