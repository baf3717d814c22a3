#include "layout/marks.h"

#include <algorithm>

namespace ohmleaf::layout {
namespace {

using checks::Verdict;

using Shapes = std::vector<PolygonFrame>;

/// Points in hundredths of the mark's side.
struct Hundredths {
  int x, y;
};

constexpr Pt kSide = 1_pt;

PolygonFrame polygon(std::initializer_list<Hundredths> points, std::optional<Color> fill,
                     std::optional<Color> stroke) {
  PolygonFrame p;
  for (const Hundredths& at : points) p.points.push_back({kSide * at.x / 100, kSide * at.y / 100});
  p.fill = fill;
  p.stroke = stroke;
  p.stroke_width = kSide * 9 / 100;
  return p;
}

// A leaf: tip at the top right, stalk end at the bottom left.
#define LEAF                                                                                    \
  {8, 92}, {6, 70}, {9, 50}, {18, 32}, {32, 18}, {50, 9}, {70, 6}, {92, 8}, {94, 30}, {91, 50}, \
      {82, 68}, {68, 82}, {50, 91}, {                                                           \
    30, 94                                                                                      \
  }

void leaf_pass(Shapes& out, Color c, Color paper) {
  out.push_back(polygon({LEAF}, c, std::nullopt));
  // The vein is a tick.
  out.push_back(polygon({{27, 54}, {35, 46}, {45, 57}, {68, 30}, {76, 37}, {46, 72}}, paper,
                        std::nullopt));
}

void leaf_half(Shapes& out, Color c) {
  out.push_back(polygon({LEAF}, std::nullopt, c));
  out.push_back(
      polygon({{8, 92}, {92, 8}, {94, 30}, {91, 50}, {82, 68}, {68, 82}, {50, 91}, {30, 94}}, c,
              std::nullopt));
}

void leaf_torn(Shapes& out, Color c) {
  out.push_back(
      polygon({{8, 80}, {6, 62}, {9, 44}, {18, 28}, {32, 15}, {50, 7}, {68, 5}, {40, 34}, {50, 42}},
              c, std::nullopt));
  out.push_back(polygon(
      {{92, 20}, {94, 38}, {91, 56}, {82, 72}, {68, 85}, {50, 93}, {32, 95}, {60, 66}, {50, 58}},
      c, std::nullopt));
}

void cross(Shapes& out, Color c) {
  out.push_back(polygon({{8, 24},
                         {24, 8},
                         {50, 34},
                         {76, 8},
                         {92, 24},
                         {66, 50},
                         {92, 76},
                         {76, 92},
                         {50, 66},
                         {24, 92},
                         {8, 76},
                         {34, 50}},
                        c, std::nullopt));
}

Shapes shapes_of(Verdict verdict, Color c, Color paper) {
  Shapes out;
  switch (verdict) {
    case Verdict::pass:
      leaf_pass(out, c, paper);
      break;
    case Verdict::borderline:
      leaf_half(out, c);
      break;
    case Verdict::doubtful:
      leaf_torn(out, c);
      break;
    case Verdict::missing:
      out.push_back(polygon({{12, 12}, {88, 12}, {88, 88}, {12, 88}}, std::nullopt, c));
      break;
    case Verdict::fail:
      cross(out, c);
      break;
    case Verdict::note:
      out.push_back(polygon({{30, 30}, {70, 30}, {70, 70}, {30, 70}}, c, std::nullopt));
      break;
    case Verdict::not_applicable:
      out.push_back(polygon({{15, 44}, {85, 44}, {85, 56}, {15, 56}}, c, std::nullopt));
      break;
  }
  return out;
}
#undef LEAF

}  // namespace

Marks::Marks(const Theme& theme) {
  for (std::size_t i = 0; i < marks_.size(); ++i) {
    const auto verdict = static_cast<Verdict>(i);
    marks_[i] = std::make_shared<const Symbol>(
        Symbol{shapes_of(verdict, theme.of(verdict), theme.paper)});
  }
}

void Marks::draw(std::vector<Frame>& out, Verdict verdict, Pt x, Pt y, Pt size) const {
  out.emplace_back(SymbolFrame{x, y, size, marks_[static_cast<std::size_t>(verdict)], kArtifact});
}

void draw_bar(std::vector<Frame>& out, int used_permille, Verdict verdict, Pt x, Pt y, Pt width,
              const Theme& theme, NodeId node) {
  const auto part = [&](int permille) {
    return Pt{static_cast<std::int32_t>(std::int64_t{width.milli} * permille / 1250)};
  };
  const int used = std::clamp(used_permille, 0, 1250);
  RectFrame track{x, y, width, kBarHeight, theme.line, std::nullopt, {}, {}, node};
  out.push_back(track);
  RectFrame fill = track;
  fill.width = std::max(part(used), 800_pt / 1000);
  fill.fill = theme.of(verdict == Verdict::not_applicable ? Verdict::pass : verdict);
  out.push_back(fill);
  const Pt tick = x + part(1000);
  out.emplace_back(LineFrame{tick, y - 1500_pt / 1000, tick, y + kBarHeight + 1500_pt / 1000,
                             800_pt / 1000, theme.ink, node});
}

void draw_box(std::vector<Frame>& out, Pt x, Pt y, Pt width, Pt height, const Theme& theme,
              NodeId node) {
  RectFrame box;
  box.x = x;
  box.y = y;
  box.width = width;
  box.height = height;
  box.stroke = theme.muted;
  box.stroke_width = 700_pt / 1000;
  box.radius = 1_pt;
  box.node = node;
  out.push_back(box);
}

}  // namespace ohmleaf::layout
