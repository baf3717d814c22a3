#pragma once
#include <optional>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "layout/frames.h"
#include "pdf/content.h"

namespace ohmleaf::pdf {

/// What stands inside a structure element: another element, or a marked-content sequence.
struct Kid {
  bool element = false;
  std::size_t page = 0;   ///< of a sequence
  std::size_t index = 0;  ///< of the element, or the sequence's MCID
};

/// In points from the bottom left corner of the page, in thousandths.
struct Box {
  std::int64_t left = 0, bottom = 0, right = 0, top = 0;
};

/// One structure element, ready to be written. Same index as the node.
struct Element {
  std::vector<Kid> kids;
  std::optional<std::size_t> page;  ///< of its first own sequence
  std::optional<Box> box;           ///< figures and tables that stand on one page
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

std::vector<Element> build_structure(const layout::Document& document,
                                     const std::vector<PageContent>& pages);

}  // namespace ohmleaf::pdf
