#include <algorithm>
#include <array>
#include <string_view>

#include "base/text.h"
#include "layout/marks.h"

// The frames know upright text and text that reads upwards. A draft needs a word that runs across
// the page and cannot be cropped or overlooked, so it is drawn: each letter is a few strokes on a
// grid of 4 by 6, each stroke a slanted bar.

namespace ohmleaf::layout {
namespace {

/// A to Z: strokes as grid points "xy" one after another, a space between those that do not join.
constexpr std::array<std::string_view, 26> kStrokes{"062046 1434",
                                                    "0006 003041423303 3344453606",
                                                    "4130100105163645",
                                                    "0006 002042442606",
                                                    "40000646 0333",
                                                    "400006 0333",
                                                    "41301001051636454323",
                                                    "0006 4046 0343",
                                                    "2026",
                                                    "4045361605",
                                                    "0006 400346",
                                                    "000646",
                                                    "0600234046",
                                                    "06004640",
                                                    "100105163645413010",
                                                    "06003041423303",
                                                    "100105163645413010 2446",
                                                    "06003041423303 2346",
                                                    "413010010213334445361605",
                                                    "0040 2026",
                                                    "000516364540",
                                                    "002640",
                                                    "0016233640",
                                                    "0046 4006",
                                                    "002340 2326",
                                                    "00400646"};

/// Sine and cosine of the slope, in thousandths: about 52 degrees, the page's own diagonal.
constexpr std::int64_t kCos = 616, kSin = 788;

struct Place {
  std::int64_t x, y;  ///< thousandths of a point along and across the word
};

class Word {
 public:
  Word(std::vector<PolygonFrame>& out, Pt width, Pt height, Color color, std::int64_t unit,
       std::int64_t length)
      : out_(out),
        cx_(width.milli / 2),
        cy_(height.milli / 2),
        color_(color),
        unit_(unit),
        length_(length) {}

  void letter(std::size_t index, std::int64_t left) {
    for (const std::string_view s : split(kStrokes[index], ' '))
      for (std::size_t i = 0; i + 3 < s.size(); i += 2) stroke(at(s, i, left), at(s, i + 2, left));
  }

 private:
  Place at(std::string_view s, std::size_t i, std::int64_t left) const {
    return {left + (s[i] - '0') * unit_, (s[i + 1] - '0') * unit_};
  }
  Point turned(std::int64_t x, std::int64_t y) const {
    const std::int64_t u = x - length_ / 2, v = y - 3 * unit_;
    return {Pt{static_cast<std::int32_t>(cx_ + (u * kCos + v * kSin) / 1000)},
            Pt{static_cast<std::int32_t>(cy_ + (v * kCos - u * kSin) / 1000)}};
  }
  void stroke(Place a, Place b) {
    const std::int64_t dx = b.x - a.x, dy = b.y - a.y;
    std::int64_t length = 1;
    while (length * length < dx * dx + dy * dy) length += std::max<std::int64_t>(1, unit_ / 64);
    const std::int64_t half = unit_ * 42 / 100;
    const std::int64_t ex = dx * half / length, ey = dy * half / length;
    PolygonFrame bar;
    bar.fill = color_;
    bar.points = {turned(a.x - ex - ey, a.y - ey + ex), turned(b.x + ex - ey, b.y + ey + ex),
                  turned(b.x + ex + ey, b.y + ey - ex), turned(a.x - ex + ey, a.y - ey - ex)};
    out_.push_back(std::move(bar));
  }

  std::vector<PolygonFrame>& out_;
  std::int64_t cx_, cy_;
  Color color_;
  std::int64_t unit_, length_;
};

}  // namespace

std::shared_ptr<const Symbol> draft_word(std::string_view word, Pt width, Pt height,
                                         const Theme& theme) {
  std::vector<std::size_t> letters;
  for (const char c : word)
    if (c >= 'A' && c <= 'Z') letters.push_back(static_cast<std::size_t>(c - 'A'));
  if (letters.empty()) return nullptr;
  const auto n = static_cast<std::int64_t>(letters.size());
  const std::int64_t steps = n * 6 - 2;  // each letter is 4 wide, 2 between them
  const std::int64_t shorter = std::min(width.milli, height.milli);
  const std::int64_t longest = shorter * 1150 / 1000;
  const std::int64_t unit = std::min(longest / steps, shorter / 20);
  auto symbol = std::make_shared<Symbol>();
  Word drawn(symbol->shapes, width, height, theme.draft, unit, steps * unit);
  for (std::size_t i = 0; i < letters.size(); ++i)
    drawn.letter(letters[i], static_cast<std::int64_t>(i) * 6 * unit);
  return symbol;
}

}  // namespace ohmleaf::layout
