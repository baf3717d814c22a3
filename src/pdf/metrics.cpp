#include <array>

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
  EmbeddedMetrics() {
    for (std::size_t i = 0; i < fonts_.size(); ++i) fonts_[i] = &font_file(static_cast<Face>(i));
  }
  Pt width(Face face, Pt size, std::string_view text) const override {
    const FontFile& of = font(face);
    std::int64_t sum = 0;
    for (const char& c : text) {
      const auto byte = static_cast<unsigned char>(c);
      if (byte >= 0x80) {  // from here on character by character
        const auto at = static_cast<std::size_t>(&c - text.data());
        for (const char32_t rest : code_points(text.substr(at))) sum += of.advance_of(rest);
        break;
      }
      sum += of.low_advance(byte);
    }
    return scaled(sum, size);
  }
  bool has_glyph(Face face, char32_t code_point) const override {
    return font(face).glyph(code_point) != 0;
  }
  Pt ascent(Face face, Pt size) const override {
    return scaled(font(face).shape().ascent, size);
  }
  Pt descent(Face face, Pt size) const override {
    return scaled(font(face).shape().descent, size);
  }
  Pt cap_height(Face face, Pt size) const override {
    return scaled(font(face).shape().cap_height, size);
  }

 private:
  const FontFile& font(Face face) const {
    return *fonts_[static_cast<std::size_t>(face) % fonts_.size()];
  }
  std::array<const FontFile*, layout::kFaceCount> fonts_{};
};

}  // namespace

const layout::FontMetrics& font_metrics() {
  static const EmbeddedMetrics metrics;
  return metrics;
}

}  // namespace ohmleaf::pdf
