#include <algorithm>
#include <array>
#include <string_view>
#include <utility>
#include <vector>

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
    for (const std::string_view s : split(kStrokes[index], ' ')) {
      const std::size_t last = s.size() / 2 - 1;  // of its points
      const bool ring = s.substr(0, 2) == s.substr(2 * last);
      std::vector<Stroke> strokes;
      for (std::size_t i = 0; i < last; ++i) strokes.push_back(stroke(at(s, i, left), at(s, i + 1, left)));
      for (std::size_t i = 0; i < strokes.size(); ++i) {
        const bool first = i == 0 && !ring, end = i + 1 == strokes.size() && !ring;
        bar(strokes[i], first && !on_another(kStrokes[index], s, 0),
            end && !on_another(kStrokes[index], s, last));
        if (!end) joint(strokes[i], strokes[(i + 1) % strokes.size()]);
      }
    }
  }

 private:
  struct Stroke {
    Place from, to;
    std::int64_t ex = 0, ey = 0;  ///< half its breadth, along it
  };

  /// Whether point i of one line lies within another of the letter, which then covers its end.
  static bool on_another(std::string_view letter, std::string_view line, std::size_t i) {
    const int x = line[2 * i], y = line[2 * i + 1];
    for (const std::string_view other : split(letter, ' ')) {
      if (other.data() == line.data()) continue;
      for (std::size_t k = 0; k + 3 < other.size(); k += 2) {
        const int ax = other[k] - x, ay = other[k + 1] - y, bx = other[k + 2] - x, by = other[k + 3] - y;
        if (ax * by == ay * bx && ax * bx + ay * by < 0) return true;
      }
    }
    return false;
  }
  Place at(std::string_view s, std::size_t i, std::int64_t left) const {
    return {left + (s[2 * i] - '0') * unit_, (s[2 * i + 1] - '0') * unit_};
  }
  Point turned(std::int64_t x, std::int64_t y) const {
    const std::int64_t u = x - length_ / 2, v = y - 3 * unit_;
    return {Pt{static_cast<std::int32_t>(cx_ + (u * kCos + v * kSin) / 1000)},
            Pt{static_cast<std::int32_t>(cy_ + (v * kCos - u * kSin) / 1000)}};
  }
  std::int64_t half() const { return unit_ * 42 / 100; }
  Stroke stroke(Place a, Place b) const {
    const std::int64_t dx = b.x - a.x, dy = b.y - a.y;
    std::int64_t length = 1;
    while (length * length < dx * dx + dy * dy) length += std::max<std::int64_t>(1, unit_ / 64);
    return {a, b, dx * half() / length, dy * half() / length};
  }
  void shape(std::vector<Point> points) {
    PolygonFrame out;
    out.fill = color_;
    out.points = std::move(points);
    out_.push_back(std::move(out));
  }
  /// Longer by half its breadth where nothing joins it.
  void bar(const Stroke& s, bool first, bool end) {
    const std::int64_t ax = s.from.x - (first ? s.ex : 0), ay = s.from.y - (first ? s.ey : 0);
    const std::int64_t bx = s.to.x + (end ? s.ex : 0), by = s.to.y + (end ? s.ey : 0);
    shape({turned(ax - s.ey, ay + s.ex), turned(bx - s.ey, by + s.ex), turned(bx + s.ey, by - s.ex),
           turned(ax + s.ey, ay - s.ex)});
  }
  /// What two bars leave open on the outside of where they meet: a corner, or the end of a sharp one.
  void joint(const Stroke& s, const Stroke& next) {
    const std::int64_t turn = s.ex * next.ey - s.ey * next.ex;
    const std::int64_t side = turn > 0 ? 1 : -1;
    const Place at = s.to;
    const std::int64_t n1x = side * s.ey, n1y = -side * s.ex;
    const std::int64_t n2x = side * next.ey, n2y = -side * next.ex;
    std::vector<Point> points = {turned(at.x, at.y), turned(at.x + n1x, at.y + n1y)};
    const std::int64_t square = half() * half();
    const std::int64_t even = square + n1x * n2x + n1y * n2y;  // 0 where the way goes straight back
    if (even > square / 2)
      points.push_back(
          turned(at.x + (n1x + n2x) * square / even, at.y + (n1y + n2y) * square / even));
    points.push_back(turned(at.x + n2x, at.y + n2y));
    shape(std::move(points));
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
