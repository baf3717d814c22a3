#include "base/text.h"
#include "layout/support.h"

namespace ohmleaf::layout::test {

Pt FixedMetrics::width(Face, Pt size, std::string_view text) const {
  return {static_cast<std::int32_t>(code_point_count(text)) * size.milli / 2};
}

bool FixedMetrics::has_glyph(Face, char32_t c) const {
  return c < 0x2E80;
}

}  // namespace ohmleaf::layout::test
