#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "pdf/by_node.h"
#include "pdf/structure.h"

namespace ohmleaf::pdf {
namespace {

using layout::Document;
using layout::Node;
using layout::NodeId;
using layout::Role;

constexpr int kWidestTable = 1000;

bool may_stand_in(Role role, Role parent) {
  switch (role) {
    case Role::document:
      return false;
    case Role::list_item:
      return parent == Role::list;
    case Role::list_label:
    case Role::list_body:
      return parent == Role::list_item;
    case Role::table_head:
    case Role::table_body:
      return parent == Role::table;
    case Role::row:
      return parent == Role::table || parent == Role::table_head || parent == Role::table_body;
    case Role::header_cell:
    case Role::cell:
      return parent == Role::row;
    case Role::caption:
      return parent == Role::table || parent == Role::list || parent == Role::figure;
    default:
      break;
  }
  const bool only_parts = parent == Role::table || parent == Role::table_head ||
                          parent == Role::table_body || parent == Role::row ||
                          parent == Role::list || parent == Role::list_item;
  return !only_parts || (role == Role::list && parent == Role::list);
}

/// Whether text and drawings may stand in the element itself, not only in its parts.
bool may_hold_content(Role role) {
  switch (role) {
    case Role::table:
    case Role::table_head:
    case Role::table_body:
    case Role::row:
    case Role::list:
    case Role::list_item:
    case Role::form:
      return false;
    default:
      return true;
  }
}

/// The first fault of a node, in words; empty if there is none.
std::string fault_of(const Document& document, std::size_t index) {
  const Node& node = document.nodes[index];
  if (node.role == Role::figure && node.alt.empty()) return "a figure has no description";
  if (node.column_span < 1 || node.row_span < 1) return "a cell spans less than one column or row";
  if (index == 0) return node.role == Role::document ? "" : "the first node is not the document";
  if (node.parent < 0 || static_cast<std::size_t>(node.parent) >= index) {
    return "a node does not stand after its parent";
  }
  const Role parent = document.nodes[static_cast<std::size_t>(node.parent)].role;
  if (may_stand_in(node.role, parent)) return "";
  return fmt::format("{} stands in {}", role_name(node.role), role_name(parent));
}

/// Headings begin with H1 and go down one level at a time (ISO 14289-1, 7.4.2).
std::string heading_fault(const Document& document, const Children& children) {
  int level = 0;
  std::vector<std::int32_t> stack = {0};
  while (!stack.empty()) {
    const auto node = static_cast<std::size_t>(stack.back());
    stack.pop_back();
    const int role = static_cast<int>(document.nodes[node].role) - static_cast<int>(Role::h1) + 1;
    if (role >= 1 && role <= 3) {
      if (role > level + 1) return fmt::format("H{} comes where H{} is due", role, level + 1);
      level = role;
    }
    const auto below = children.of(node);
    stack.insert(stack.end(), below.rbegin(), below.rend());
  }
  return "";
}

/// Rows of one table with the columns that each fills.
class Grid {
 public:
  /// Fills the next row. `open` holds, by column, how many more rows a cell above reaches down.
  void add_row(const Document& document, std::span<const std::int32_t> cells) {
    int column = 0;
    std::map<int, int> below;
    for (const auto& [at, rows] : open_) {
      if (rows > 1) below[at] = rows - 1;
    }
    int filled = static_cast<int>(open_.size());
    for (const std::int32_t cell : cells) {
      const Node& node = document.nodes[static_cast<std::size_t>(cell)];
      for (int i = 0; i < std::min(node.column_span, kWidestTable); ++i, ++column, ++filled) {
        while (open_.contains(column)) ++column;
        if (node.row_span > 1) below[column] = node.row_span - 1;
      }
    }
    open_ = std::move(below);
    if (width_ >= 0 && filled != width_) regular_ = false;
    width_ = filled;
  }
  /// A cell that reaches below the last row of its part makes the table irregular too.
  void end_part() {
    if (!open_.empty()) regular_ = false;
    open_.clear();
  }
  bool regular() const { return regular_; }

 private:
  std::map<int, int> open_;
  int width_ = -1;
  bool regular_ = true;
};

/// All rows fill the same number of columns, one head at most and a body with it (ISO 14289-1,
/// 7.2; ISO 32000-1, 14.8.4.3.4).
std::string table_fault(const Document& document, std::size_t table, const Children& children) {
  Grid grid;
  int heads = 0;
  int bodies = 0;
  const auto below = [&](std::int32_t node) { return children.of(static_cast<std::size_t>(node)); };
  for (const std::int32_t part : children.of(table)) {
    const Role role = document.nodes[static_cast<std::size_t>(part)].role;
    if (role == Role::row) grid.add_row(document, below(part));
    if (role != Role::table_head && role != Role::table_body) continue;
    grid.end_part();
    ++(role == Role::table_head ? heads : bodies);
    for (const std::int32_t row : below(part)) grid.add_row(document, below(row));
    grid.end_part();
  }
  grid.end_part();
  if (heads > 1) return "a table has two heads";
  if (heads == 1 && bodies == 0) return "a table has a head and no body";
  return grid.regular() ? "" : "the rows of a table fill different numbers of columns";
}

/// A caption is the first part, or in a table also the last (ISO 32000-1, 14.8.4.3).
bool caption_misplaced(const Document& document, std::size_t parent,
                       std::span<const std::int32_t> children) {
  const auto role = [&](std::int32_t node) {
    return document.nodes[static_cast<std::size_t>(node)].role;
  };
  for (std::size_t i = 0; i < children.size(); ++i) {
    if (role(children[i]) != Role::caption || i == 0) continue;
    const bool last_of_table = i + 1 == children.size() &&
                               document.nodes[parent].role == Role::table &&
                               role(children[0]) != Role::caption;
    if (!last_of_table) return true;
  }
  return false;
}

/// A tag of RFC 3066: letters, then parts of letters and digits, of at most eight each.
bool is_language_tag(std::string_view tag) {
  std::size_t length = 0;
  bool first = true;
  for (const char c : tag) {
    const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
    const bool digit = c >= '0' && c <= '9';
    if (c == '-') {
      if (length == 0) return false;
      length = 0;
      first = false;
    } else if ((!letter && (first || !digit)) || ++length > 8) {
      return false;
    }
  }
  return length > 0;
}

}  // namespace

bool check_structure(const Document& document, Diagnostics& out) {
  std::vector<std::string> faults;
  const auto report = [&](std::string fault) {
    if (fault.empty() || std::find(faults.begin(), faults.end(), fault) != faults.end()) return;
    out.system_error(
        "pdf-structure",
        fmt::format("the layout gave a page structure that cannot be tagged: {}", fault),
        {"this is a fault of the program; the document was not written"});
    faults.push_back(std::move(fault));
  };
  if (document.nodes.empty()) report("there is no document node");
  for (std::size_t i = 0; i < document.nodes.size(); ++i) report(fault_of(document, i));
  const auto count = static_cast<NodeId>(document.nodes.size());
  for (const layout::Page& page : document.pages) {
    for (const layout::Frame& frame : page.frames) {
      const NodeId node = node_of(frame);
      if (node < layout::kArtifact || node >= count) {
        report("a frame belongs to no node");
      } else if (node != layout::kArtifact) {
        const Role role = document.nodes[static_cast<std::size_t>(node)].role;
        if (!may_hold_content(role))
          report(fmt::format("{} holds a frame itself", role_name(role)));
      }
      const auto* image = std::get_if<layout::ImageFrame>(&frame);
      if (image != nullptr && image->image >= document.images.size()) {
        report("a frame shows no image");
      }
    }
  }
  if (!is_language_tag(document.language)) report("the language is not a language tag");
  if (!faults.empty()) return false;
  const Children children = children_of(document.nodes);
  report(heading_fault(document, children));
  for (std::size_t i = 0; i < document.nodes.size(); ++i) {
    if (document.nodes[i].role == Role::table) report(table_fault(document, i, children));
    if (caption_misplaced(document, i, children.of(i))) report("a caption stands in the middle");
  }
  return faults.empty();
}

}  // namespace ohmleaf::pdf
