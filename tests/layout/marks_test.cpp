#include "layout/marks.h"

#include <doctest/doctest.h>

#include <set>
#include <string>

namespace ohmleaf::layout {
namespace {

using checks::Verdict;

/// The shapes of a symbol in words, without their colours.
std::string outline(const Symbol& symbol) {
  std::string out;
  for (const PolygonFrame& shape : symbol.shapes) {
    out += shape.fill ? "fill" : "line";
    for (const Point& p : shape.points)
      out += " " + std::to_string(p.x.milli) + "," + std::to_string(p.y.milli);
    out += "; ";
  }
  return out;
}

SymbolFrame drawn(const Theme& theme, Verdict verdict) {
  std::vector<Frame> out;
  Marks(theme).draw(out, verdict, 10_pt, 20_pt, 8_pt);
  REQUIRE(out.size() == 1);
  return std::get<SymbolFrame>(out.front());
}

TEST_CASE("every verdict has a shape of its own, in its own colour") {
  const Theme theme;
  std::set<std::string> shapes;
  for (std::size_t i = 0; i < checks::kVerdicts; ++i) {
    const auto verdict = static_cast<Verdict>(i);
    CAPTURE(checks::name(verdict));
    const SymbolFrame mark = drawn(theme, verdict);
    CHECK(mark.x == 10_pt);
    CHECK(mark.y == 20_pt);
    CHECK(mark.size == 8_pt);
    CHECK(mark.node == kArtifact);
    REQUIRE(mark.symbol);
    CHECK(shapes.insert(outline(*mark.symbol)).second);
    const PolygonFrame& first = mark.symbol->shapes.front();
    CHECK((first.fill ? *first.fill : *first.stroke) == theme.of(verdict));
    for (const PolygonFrame& shape : mark.symbol->shapes)
      for (const Point& p : shape.points) {
        CHECK((p.x >= Pt{} && p.x <= 1_pt));
        CHECK((p.y >= Pt{} && p.y <= 1_pt));
      }
  }
}

TEST_CASE("a fail is a cross and a pass is a leaf with a tick") {
  const Theme theme;
  const SymbolFrame fail = drawn(theme, Verdict::fail), pass = drawn(theme, Verdict::pass);
  REQUIRE(fail.symbol->shapes.size() == 1);
  CHECK(fail.symbol->shapes.front().points.size() == 12);  // four arms of three corners
  REQUIRE(pass.symbol->shapes.size() == 2);
  CHECK(pass.symbol->shapes.back().fill == theme.paper);
}

}  // namespace
}  // namespace ohmleaf::layout
