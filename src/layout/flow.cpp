#include "layout/flow.h"

namespace ohmleaf::layout {

void shift(Frame& frame, Pt dx, Pt dy) {
  struct Move {
    Pt dx, dy;
    void operator()(TextFrame& f) const { f.x += dx, f.baseline += dy; }
    void operator()(RectFrame& f) const { f.x += dx, f.y += dy; }
    void operator()(ImageFrame& f) const { f.x += dx, f.y += dy; }
    void operator()(SymbolFrame& f) const { f.x += dx, f.y += dy; }
    void operator()(LineFrame& f) const {
      f.x1 += dx, f.x2 += dx;
      f.y1 += dy, f.y2 += dy;
    }
    void operator()(PolygonFrame& f) const {
      for (Point& p : f.points) p.x += dx, p.y += dy;
    }
  };
  std::visit(Move{dx, dy}, frame);
}

void make_artifact(Frame& frame) {
  std::visit([](auto& f) { f.node = kArtifact; }, frame);
}

}  // namespace ohmleaf::layout
