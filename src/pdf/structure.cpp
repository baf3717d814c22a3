#include "pdf/structure.h"

#include <algorithm>
#include <array>
#include <limits>

#include "pdf/by_node.h"
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
  void operator()(const layout::SymbolFrame& f) {
    corner(f.x, f.y);
    corner(f.x + f.size, f.y + f.size);
  }
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

bool is_boxed(Role role) {
  return role == Role::figure || role == Role::table;
}

/// A sequence of an element, with the place at which it is drawn.
struct Own {
  std::int32_t page, mcid;
  std::uint32_t place;
};

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

Boxes boxes_of(const Document& document) {
  constexpr std::int32_t kNone = -1, kSeveral = -2;
  std::vector<Extent> extents(document.nodes.size());
  std::vector<std::int32_t> pages(document.nodes.size(), kNone);
  const auto merge_page = [&](std::size_t node, std::int32_t page) {
    if (page == kNone) return;
    pages[node] = pages[node] == kNone || pages[node] == page ? page : kSeveral;
  };
  std::vector<bool> inside(document.nodes.size());  // of a figure or a table
  for (std::size_t i = 1; i < inside.size(); ++i)  // the document itself has no parent
    inside[i] = is_boxed(document.nodes[i].role) ||
                inside[static_cast<std::size_t>(document.nodes[i].parent)];
  for (std::size_t page = 0; page < document.pages.size(); ++page) {
    for (const layout::Frame& frame : document.pages[page].frames) {
      if (node_of(frame) == layout::kArtifact) continue;
      const auto node = static_cast<std::size_t>(node_of(frame));
      if (!inside[node]) continue;
      Measure measure{document.pages[page].height.milli};
      std::visit(measure, frame);
      if (measure.extent.empty()) continue;
      extents[node].add(measure.extent.box());
      merge_page(node, static_cast<std::int32_t>(page));
    }
  }
  for (std::size_t i = document.nodes.size(); i-- > 1;) {
    const auto parent = static_cast<std::size_t>(document.nodes[i].parent);
    if (!extents[i].empty()) extents[parent].add(extents[i].box());
    merge_page(parent, pages[i]);
  }
  Boxes boxes;
  for (std::size_t i = 0; i < document.nodes.size(); ++i) {
    if (is_boxed(document.nodes[i].role) && pages[i] >= 0)
      boxes.emplace_hint(boxes.end(), static_cast<NodeId>(i), extents[i].box());
  }
  return boxes;
}

Structure build_structure(const std::vector<Node>& nodes, const std::vector<Sequences>& pages) {
  constexpr std::uint32_t kNever = std::numeric_limits<std::uint32_t>::max();
  const std::size_t count = nodes.size();
  const ByNode<Own> own(count, [&](const auto& take) {
    std::uint32_t place = 0;
    for (std::size_t page = 0; page < pages.size(); ++page)
      for (std::size_t mcid = 0; mcid < pages[page].size(); ++mcid, ++place)
        take(pages[page][mcid],
             Own{static_cast<std::int32_t>(page), static_cast<std::int32_t>(mcid), place});
  });
  const Children children = children_of(nodes);
  std::vector<std::uint32_t> first(count, kNever);  // where each is first drawn, its children too
  for (std::size_t i = count; i-- > 1;) {  // the document itself has no parent
    if (!own.of(i).empty()) first[i] = std::min(first[i], own.of(i).front().place);
    auto& above = first[static_cast<std::size_t>(nodes[i].parent)];
    above = std::min(above, first[i]);
  }
  Structure out;
  out.elements.resize(count);
  out.kids.reserve(count);
  for (std::size_t i = 0; i < count; ++i) {
    // An element's own sequences go before the first child that is drawn after them; the children
    // keep the order of the nodes, which is the reading order. A child that draws nothing has no
    // place of its own: it follows what stands before it.
    Structure::Element& element = out.elements[i];
    element.kids_begin = static_cast<std::uint32_t>(out.kids.size());
    const auto sequences = own.of(i);
    if (!sequences.empty()) element.page = sequences.front().page;
    std::size_t next = 0;
    std::uint32_t last = 0;
    for (const std::int32_t child : children.of(i)) {
      const std::uint32_t drawn = first[static_cast<std::size_t>(child)];
      if (drawn != kNever) last = drawn;
      for (; next < sequences.size() && sequences[next].place < last; ++next)
        out.kids.push_back({sequences[next].page, sequences[next].mcid});
      out.kids.push_back({Kid::kElement, child});
    }
    for (; next < sequences.size(); ++next)
      out.kids.push_back({sequences[next].page, sequences[next].mcid});
    element.kids_end = static_cast<std::uint32_t>(out.kids.size());
  }
  return out;
}

}  // namespace ohmleaf::pdf
