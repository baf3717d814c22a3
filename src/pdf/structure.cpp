#include "pdf/structure.h"

#include <algorithm>
#include <array>
#include <limits>

#include "pdf/pdf.h"

namespace ohmleaf::pdf {
namespace {

using layout::Document;
using layout::Node;
using layout::NodeId;
using layout::Role;

/// The smallest box around what has been added.
class Extent {
 public:
  void add(std::int64_t x, std::int64_t y) {
    box_.left = std::min(box_.left, x);
    box_.right = std::max(box_.right, x);
    box_.bottom = std::min(box_.bottom, y);
    box_.top = std::max(box_.top, y);
    empty_ = false;
  }
  void add(const Box& box) {
    add(box.left, box.bottom);
    add(box.right, box.top);
  }
  bool empty() const { return empty_; }
  const Box& box() const { return box_; }

 private:
  static constexpr std::int64_t kFar = std::numeric_limits<std::int64_t>::max();
  Box box_{kFar, kFar, -kFar, -kFar};
  bool empty_ = true;
};

struct Measure {
  std::int64_t height;  // of the page
  Extent extent{};

  void corner(layout::Pt x, layout::Pt y) { extent.add(x.milli, height - y.milli); }
  void operator()(const layout::TextFrame& f) {
    const auto& metrics = font_metrics();
    const layout::Pt up = metrics.ascent(f.face, f.size);
    const layout::Pt down = metrics.descent(f.face, f.size);
    const layout::Pt along = metrics.width(f.face, f.size, f.text);
    if (f.rotated) {
      corner(f.x - up, f.baseline - along);
      corner(f.x + down, f.baseline);
    } else {
      corner(f.x, f.baseline - up);
      corner(f.x + along, f.baseline + down);
    }
  }
  void operator()(const layout::RectFrame& f) { sized(f); }
  void operator()(const layout::ImageFrame& f) { sized(f); }
  void operator()(const layout::LineFrame& f) {
    corner(f.x1, f.y1);
    corner(f.x2, f.y2);
  }
  void operator()(const layout::PolygonFrame& f) {
    for (const layout::Point& p : f.points) corner(p.x, p.y);
  }
  template <typename F>
  void sized(const F& f) {
    corner(f.x, f.y);
    corner(f.x + f.width, f.y + f.height);
  }
};

/// Boxes of figures and tables, for those whose parts all stand on one page.
void add_boxes(const Document& document, std::vector<Element>& elements) {
  constexpr std::size_t kNone = std::numeric_limits<std::size_t>::max();
  constexpr std::size_t kSeveral = kNone - 1;
  std::vector<Extent> extents(elements.size());
  std::vector<std::size_t> pages(elements.size(), kNone);
  const auto merge_page = [&](std::size_t node, std::size_t page) {
    if (page == kNone) return;
    pages[node] = pages[node] == kNone || pages[node] == page ? page : kSeveral;
  };
  for (std::size_t page = 0; page < document.pages.size(); ++page) {
    for (const layout::Frame& frame : document.pages[page].frames) {
      if (node_of(frame) == layout::kArtifact) continue;
      const auto node = static_cast<std::size_t>(node_of(frame));
      Measure measure{document.pages[page].height.milli};
      std::visit(measure, frame);
      if (measure.extent.empty()) continue;
      extents[node].add(measure.extent.box());
      merge_page(node, page);
    }
  }
  for (std::size_t i = elements.size(); i-- > 1;) {
    const auto parent = static_cast<std::size_t>(document.nodes[i].parent);
    if (!extents[i].empty()) extents[parent].add(extents[i].box());
    merge_page(parent, pages[i]);
  }
  for (std::size_t i = 0; i < elements.size(); ++i) {
    const Role role = document.nodes[i].role;
    const bool wanted = role == Role::figure || role == Role::table;
    if (wanted && pages[i] < kSeveral) elements[i].box = extents[i].box();
  }
}

/// A sequence of an element, or a child, with the place at which it is first drawn.
struct Placed {
  Kid kid;
  std::size_t place;
};

/// An element's own sequences go before the first child that is drawn after them; the children
/// keep the order of the nodes, which is the reading order.
std::vector<Kid> merge(const std::vector<Placed>& own, const std::vector<Placed>& children) {
  std::vector<Kid> kids;
  std::size_t next = 0;
  for (const Placed& child : children) {
    while (next < own.size() && own[next].place < child.place) kids.push_back(own[next++].kid);
    kids.push_back(child.kid);
  }
  while (next < own.size()) kids.push_back(own[next++].kid);
  return kids;
}

}  // namespace

std::optional<Place> place_of(const Document& document, NodeId node) {
  for (std::size_t page = 0; page < document.pages.size(); ++page) {
    Measure measure{document.pages[page].height.milli};
    for (const layout::Frame& frame : document.pages[page].frames)
      if (node_of(frame) == node) std::visit(measure, frame);
    if (!measure.extent.empty()) return Place{page, measure.extent.box()};
  }
  return std::nullopt;
}

std::string_view role_name(Role role) {
  static constexpr std::array<std::string_view, 21> kNames = {
      "Document", "Sect",  "H1",    "H2", "H3", "P",  "L",      "LI",   "Lbl",     "LBody",
      "Table",    "THead", "TBody", "TR", "TH", "TD", "Figure", "Note", "Caption", "Span", "Form"};
  static_assert(kNames.size() == static_cast<std::size_t>(Role::form) + 1);
  return kNames[static_cast<std::size_t>(role) % kNames.size()];
}

std::vector<Element> build_structure(const Document& document,
                                     const std::vector<PageContent>& pages) {
  constexpr std::size_t kNever = std::numeric_limits<std::size_t>::max();
  const std::size_t count = document.nodes.size();
  std::vector<Element> elements(count);
  std::vector<std::vector<Placed>> own(count);
  std::vector<std::vector<Placed>> children(count);
  std::vector<std::size_t> first(count, kNever);
  std::size_t place = 0;
  for (std::size_t page = 0; page < pages.size(); ++page) {
    for (std::size_t mcid = 0; mcid < pages[page].sequences.size(); ++mcid, ++place) {
      const auto node = static_cast<std::size_t>(pages[page].sequences[mcid]);
      own[node].push_back({{false, page, mcid}, place});
      if (!elements[node].page) elements[node].page = page;
      first[node] = std::min(first[node], place);
    }
  }
  for (std::size_t i = count; i-- > 1;) {
    auto& above = first[static_cast<std::size_t>(document.nodes[i].parent)];
    above = std::min(above, first[i]);
  }
  for (std::size_t i = 1; i < count; ++i) {
    children[static_cast<std::size_t>(document.nodes[i].parent)].push_back(
        {{true, 0, i}, first[i]});
  }
  for (std::size_t i = 0; i < count; ++i) {
    // A child that draws nothing has no place of its own: it follows what stands before it.
    std::size_t last = 0;
    for (Placed& child : children[i]) {
      if (child.place == kNever) child.place = last;
      last = child.place;
    }
    elements[i].kids = merge(own[i], children[i]);
  }
  add_boxes(document, elements);
  return elements;
}

}  // namespace ohmleaf::pdf
