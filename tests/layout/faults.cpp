#include <fmt/format.h>

#include <algorithm>

#include "layout/support.h"

namespace ohmleaf::layout::test {
namespace {

struct Box {
  std::int64_t left, top, right, bottom;
  const TextFrame* text;
};

/// Rounding may move a fragment by less than this.
constexpr std::int64_t kSlack = 60;

Box box_of(const TextFrame& t) {
  const FixedMetrics m;
  const std::int64_t along = m.width(t.face, t.size, t.text).milli;
  const std::int64_t up = m.cap_height(t.face, t.size).milli;
  const std::int64_t down = m.descent(t.face, t.size).milli;
  if (t.rotated)
    return {t.x.milli - up, t.baseline.milli - along, t.x.milli + down, t.baseline.milli, &t};
  return {t.x.milli, t.baseline.milli - up, t.x.milli + along, t.baseline.milli + down, &t};
}

bool overlap(const Box& a, const Box& b) {
  return a.left + kSlack < b.right && b.left + kSlack < a.right && a.top + kSlack < b.bottom &&
         b.top + kSlack < a.bottom;
}

class Inspector {
 public:
  Inspector(const Document& document, const PageSetup& setup) : d_(document), setup_(setup) {}

  std::vector<std::string> run() {
    nodes();
    for (std::size_t i = 0; i < d_.pages.size(); ++i) page(i);
    reading_order();
    return std::move(faults_);
  }

 private:
  void say(std::string fault) {
    if (faults_.size() < 12) faults_.push_back(std::move(fault));
  }

  void nodes() {
    for (std::size_t i = 1; i < d_.nodes.size(); ++i) {
      const Node& n = d_.nodes[i];
      if (n.parent < 0 || static_cast<std::size_t>(n.parent) >= i)
        say(fmt::format("node {} stands before its parent", i));
      if (n.role == Role::figure && n.alt.empty()) say(fmt::format("figure {} says nothing", i));
    }
  }

  void page(std::size_t i) {
    const Page& p = d_.pages[i];
    std::vector<Box> boxes;
    for (const Frame& f : p.frames) {
      const NodeId node = std::visit([](const auto& x) { return x.node; }, f);
      if (node >= static_cast<NodeId>(d_.nodes.size())) say("a frame names no node");
      if (const auto* t = std::get_if<TextFrame>(&f)) boxes.push_back(box_of(*t));
      if (const auto* r = std::get_if<RectFrame>(&f))
        inside(i, {r->x.milli, r->y.milli, (r->x + r->width).milli, (r->y + r->height).milli,
                   nullptr});
      if (const auto* l = std::get_if<LineFrame>(&f))
        inside(i, {std::min(l->x1, l->x2).milli, std::min(l->y1, l->y2).milli,
                   std::max(l->x1, l->x2).milli, std::max(l->y1, l->y2).milli, nullptr});
    }
    for (const Box& b : boxes) {
      inside(i, b);
      if (b.text->size < kSmallestText)
        say(fmt::format("page {}: text of {}", i + 1, b.text->size.milli));
      if (b.text->text.empty()) say(fmt::format("page {}: an empty text", i + 1));
    }
    for (const Frame& f : p.frames)
      if (const auto* r = std::get_if<RectFrame>(&f); r && r->height > 6_pt)
        boxed(i,
              {r->x.milli, r->y.milli, (r->x + r->width).milli, (r->y + r->height).milli, nullptr},
              boxes);
    std::sort(boxes.begin(), boxes.end(), [](const Box& a, const Box& b) { return a.top < b.top; });
    for (std::size_t a = 0; a < boxes.size(); ++a)
      for (std::size_t b = a + 1; b < boxes.size() && boxes[b].top < boxes[a].bottom; ++b)
        if (overlap(boxes[a], boxes[b]))
          say(fmt::format("page {}: \"{}\" over \"{}\"", i + 1, boxes[a].text->text,
                          boxes[b].text->text));
  }

  /// Text stands inside a box or outside of it, never across its edge.
  void boxed(std::size_t i, const Box& rect, const std::vector<Box>& texts) {
    for (const Box& t : texts) {
      if (!overlap(rect, t)) continue;
      const bool in = t.left >= rect.left - kSlack && t.right <= rect.right + kSlack &&
                      t.top >= rect.top - kSlack && t.bottom <= rect.bottom + kSlack;
      if (!in) say(fmt::format("page {}: \"{}\" crosses the edge of a box", i + 1, t.text->text));
    }
  }

  /// Where a node's first words stand.
  struct Start {
    std::size_t page = 0;
    std::int64_t top = 0, left = 0;
    bool known = false;
  };

  /// Whoever hears the page goes through the nodes: of two neighbours the later one stands on a
  /// later page, or lower, or further to the right.
  void reading_order() {
    std::vector<Start> starts(d_.nodes.size());
    for (std::size_t i = 0; i < d_.pages.size(); ++i)
      for (const Frame& f : d_.pages[i].frames)
        if (const auto* t = std::get_if<TextFrame>(&f)) {
          const Box b = box_of(*t);
          for (NodeId n = t->node; n > 0; n = d_.nodes[static_cast<std::size_t>(n)].parent)
            begin(starts[static_cast<std::size_t>(n)], {i, b.top, b.left, true});
        }
    std::vector<std::size_t> last(d_.nodes.size(), 0);
    for (std::size_t n = 1; n < d_.nodes.size(); ++n) {
      if (!starts[n].known) continue;
      std::size_t& before = last[static_cast<std::size_t>(d_.nodes[n].parent)];
      if (before > 0 && !follows(starts[before], starts[n]))
        say(fmt::format("page {}: node {} is read after node {}, and stands before it",
                        starts[n].page + 1, n, before));
      before = n;
    }
  }
  static void begin(Start& s, const Start& at) {
    if (!s.known) s = at;
    if (s.page != at.page) return;  // frames come page by page
    s.top = std::min(s.top, at.top);
    s.left = std::min(s.left, at.left);
  }
  static bool follows(const Start& a, const Start& b) {
    if (a.page != b.page) return a.page < b.page;
    return a.top <= b.top + kSlack || a.left < b.left;
  }

  void inside(std::size_t i, const Box& b) {
    const Page& p = d_.pages[i];
    const bool in = b.left >= setup_.left.milli - kSlack && b.top >= setup_.top.milli - kSlack &&
                    b.right <= p.width.milli - setup_.right.milli + kSlack &&
                    b.bottom <= p.height.milli - setup_.bottom.milli + kSlack;
    if (!in)
      say(fmt::format("page {}: {} leaves the margins ({} {} {} {})", i + 1,
                      b.text ? "\"" + b.text->text + "\"" : "a drawing", b.left, b.top, b.right,
                      b.bottom));
  }

  const Document& d_;
  const PageSetup& setup_;
  std::vector<std::string> faults_;
};

}  // namespace

std::vector<std::string> faults_of(const Document& document, const PageSetup& setup) {
  return Inspector(document, setup).run();
}

}  // namespace ohmleaf::layout::test
