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
    std::sort(boxes.begin(), boxes.end(), [](const Box& a, const Box& b) { return a.top < b.top; });
    for (std::size_t a = 0; a < boxes.size(); ++a)
      for (std::size_t b = a + 1; b < boxes.size() && boxes[b].top < boxes[a].bottom; ++b)
        if (overlap(boxes[a], boxes[b]))
          say(fmt::format("page {}: \"{}\" over \"{}\"", i + 1, boxes[a].text->text,
                          boxes[b].text->text));
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
