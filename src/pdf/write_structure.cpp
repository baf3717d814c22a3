#include <fmt/format.h>

#include "pdf/write.h"
#include "pdf/text_string.h"

namespace ohmleaf::pdf {
namespace {

/// A header cell without a scope would leave its reach to each reader's guess.
std::string scope_name(layout::Scope scope) {
  switch (scope) {
    case layout::Scope::row:
      return "Row";
    case layout::Scope::both:
      return "Both";
    default:
      return "Column";
  }
}

/// Thousandths of a point as the whole point below.
std::int64_t floor_points(std::int64_t thousandths) {
  return thousandths / 1000 - (thousandths % 1000 < 0 ? 1 : 0);
}

class StructureWriter {
 public:
  StructureWriter(Objects& objects, const Parts& parts, const std::vector<Object*>& pages,
                  Object* widget)
      : objects_(objects), parts_(parts), widget_(widget) {
    for (Object* page : pages) pages_.push_back(objects_.reference(page));
    text_.reserve(256);
  }

  void write() {
    Object* root = objects_.indirect();
    objects_.put(objects_.catalog(), "StructTreeRoot", root);
    root_ = objects_.reference(root);
    first_ = objects_.begin_own();
    const Structure structure = build_structure(parts_.document.nodes, parts_.sequences);
    std::string notes;
    for (std::size_t i = 0; i < structure.elements.size() && objects_.ok(); ++i)
      write_element(i, structure, notes);
    write_parent_tree();
    const auto count = pages_.size() + (widget_ != nullptr ? 1 : 0);
    objects_.set_entries(
        root, fmt::format("/Type/StructTreeRoot/K {} 0 R/ParentTree {} 0 R/ParentTreeNextKey {}"
                          "/IDTree<</Names[{}]>>\n",
                          first_, number(structure.elements.size()), count, notes));
  }

 private:
  void write_element(std::size_t index, const Structure& structure, std::string& notes) {
    const layout::Node& node = parts_.document.nodes[index];
    const Structure::Element& element = structure.elements[index];
    text_ = "<</S/";
    text_ += role_name(node.role);
    text_ += "/P ";
    if (index == 0)
      text_ += root_;
    else
      refer(node.parent);
    if (const std::int32_t page = page_of(index, element); page != Structure::kNoPage) {
      text_ += "/Pg ";
      text_ += pages_[static_cast<std::size_t>(page)];
    }
    if (!node.alt.empty()) text_ += "/Alt" + written_text(one_line(node.alt));
    if (node.role == layout::Role::note) {
      // Every note has an identifier of its own; numbers of one length stay sorted in the tree.
      const std::string id = written_text(fmt::format("note-{:08}", index));
      text_ += "/ID" + id;
      notes += fmt::format("{} {} 0 R ", id, number(index));
    }
    if (is_seal(index)) text_ += field();
    text_ += attributes(static_cast<layout::NodeId>(index), node);
    write_kids(element, structure.kids_of(element));
    text_ += ">>";
    objects_.own(text_);
  }

  void write_kids(const Structure::Element& element, std::span<const Kid> kids) {
    if (kids.empty()) return;
    text_ += kids.size() == 1 ? "/K " : "/K[";
    for (const Kid& k : kids) {
      if (text_.back() != '[' && text_.back() != ' ') text_ += ' ';
      write_kid(k, element);
    }
    if (kids.size() > 1) text_ += ']';
  }

  /// The short form, a bare number, serves for sequences on the element's own page.
  void write_kid(const Kid& kid, const Structure::Element& element) {
    const fmt::format_int digits(kid.index);
    const std::string_view index(digits.data(), digits.size());
    if (kid.page == Kid::kElement)
      refer(kid.index);
    else if (kid.page == element.page)
      text_ += index;
    else
      text_ += fmt::format("<</Type/MCR/Pg {}/MCID {}>>",
                           pages_[static_cast<std::size_t>(kid.page)], index);
  }

  /// An element's own page; a field's is that of its line.
  std::int32_t page_of(std::size_t index, const Structure::Element& element) const {
    if (is_seal(index) && parts_.seal_place)
      return static_cast<std::int32_t>(parts_.seal_place->page);
    return element.page;
  }

  bool is_seal(std::size_t index) const {
    return widget_ != nullptr && parts_.document.seal &&
           static_cast<std::size_t>(parts_.document.seal->form) == index;
  }

  /// A form field's element has its widget and nothing else in it (ISO 32000-1, 14.8.4.5).
  std::string field() const { return "/K<</Type/OBJR/Obj " + objects_.reference(widget_) + ">>"; }

  std::string attributes(layout::NodeId index, const layout::Node& node) const {
    if (const auto box = parts_.boxes.find(index); box != parts_.boxes.end()) {
      std::string out = "/A<</O/Layout/BBox[";
      // Whole points, outwards: what is inside stays inside.
      const Box& b = box->second;
      for (const std::int64_t side : {floor_points(b.left), floor_points(b.bottom),
                                      -floor_points(-b.right), -floor_points(-b.top)}) {
        out += std::to_string(side) + " ";
      }
      return out + "]>>";
    }
    const bool header = node.role == layout::Role::header_cell;
    if (!header && node.role != layout::Role::cell) return {};
    if (!header && node.column_span == 1 && node.row_span == 1) return {};
    std::string out = "/A<</O/Table";
    if (header) out += "/Scope/" + scope_name(node.scope);
    if (node.column_span != 1) out += "/ColSpan " + std::to_string(node.column_span);
    if (node.row_span != 1) out += "/RowSpan " + std::to_string(node.row_span);
    return out + ">>";
  }

  void write_parent_tree() {
    text_ = "<</Nums[";
    for (std::size_t i = 0; i < parts_.sequences.size(); ++i) {
      text_ += fmt::format("{}[", i);
      for (const layout::NodeId node : parts_.sequences[i]) {
        refer(node);
        text_ += ' ';
      }
      text_ += "]\n";
    }
    if (widget_ != nullptr) {
      text_ += fmt::format("{} ", pages_.size());
      refer(parts_.document.seal->form);
    }
    text_ += "]>>";
    objects_.own(text_);
  }

  std::int64_t number(std::size_t index) const { return first_ + static_cast<std::int64_t>(index); }
  void refer(std::int32_t index) {
    const fmt::format_int digits(first_ + index);
    text_.append(digits.data(), digits.size());
    text_ += " 0 R";
  }

  Objects& objects_;
  const Parts& parts_;
  Object* widget_;
  std::vector<std::string> pages_;  ///< "12 0 R" of each
  std::string root_;
  std::int64_t first_ = 0;  ///< number of the document's element; the others follow
  std::string text_;        ///< of the object at hand
};

}  // namespace

void write_structure(Objects& objects, const Parts& parts, const std::vector<Object*>& pages,
                     Object* widget) {
  StructureWriter(objects, parts, pages, widget).write();
}

}  // namespace ohmleaf::pdf
