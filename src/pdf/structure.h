#pragma once
#include <cstdint>
#include <map>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "layout/frames.h"
#include "pdf/content.h"

namespace ohmleaf::pdf {

/// What stands inside a structure element: another element, or a marked-content sequence. A long
/// document has a hundred thousand of them.
struct Kid {
  std::int32_t page = kElement;  ///< of a sequence
  std::int32_t index = 0;        ///< of the element, or the sequence's MCID
  static constexpr std::int32_t kElement = -1;
};

/// In points from the bottom left corner of the page, in thousandths.
struct Box {
  std::int64_t left = 0, bottom = 0, right = 0, top = 0;
};
/// By node: figures and tables that stand on one page.
using Boxes = std::map<layout::NodeId, Box>;

/// The structure elements, ready to be written; one for each node, by its index.
struct Structure {
  struct Element {
    std::uint32_t kids_begin = 0, kids_end = 0;
    std::int32_t page = kNoPage;  ///< of its first own sequence
  };
  static constexpr std::int32_t kNoPage = -1;
  std::vector<Element> elements;
  std::vector<Kid> kids;

  std::span<const Kid> kids_of(const Element& element) const {
    return std::span(kids).subspan(element.kids_begin, element.kids_end - element.kids_begin);
  }
};

inline layout::NodeId node_of(const layout::Frame& frame) {
  return std::visit([](const auto& f) { return f.node; }, frame);
}

/// The standard structure type: "TD".
std::string_view role_name(layout::Role role);

/// Whether the nodes make a tree that PDF/UA allows: parents before children, rows in tables,
/// cells in rows, as many columns in every row of a table, headings that skip no level, figures
/// with a description. Reports each kind of fault once.
bool check_structure(const layout::Document& document, Diagnostics& out);

/// Where the frames of a node stand: the first page with any of them, and the box around those.
struct Place {
  std::size_t page = 0;
  Box box;
};
std::optional<Place> place_of(const layout::Document& document, layout::NodeId node);

Boxes boxes_of(const layout::Document& document);
Structure build_structure(const std::vector<layout::Node>& nodes,
                          const std::vector<Sequences>& pages);

}  // namespace ohmleaf::pdf
