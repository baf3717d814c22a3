#include <fmt/format.h>

#include "pdf/write.h"

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
      : objects_(objects), parts_(parts), pages_(pages), widget_(widget) {}

  void write() {
    Object* root = objects_.indirect();
    objects_.put_name(root, "Type", "StructTreeRoot");
    objects_.put(objects_.catalog(), "StructTreeRoot", root);
    for (std::size_t i = 0; i < parts_.elements.size(); ++i)
      elements_.push_back(objects_.indirect());
    if (!objects_.ok()) return;
    for (Object* element : elements_) references_.push_back(objects_.reference(element));
    for (Object* page : pages_) page_references_.push_back(objects_.reference(page));
    objects_.put(root, "K", elements_[0]);
    Object* notes = objects_.array();
    for (std::size_t i = 0; i < elements_.size(); ++i) write_element(i, root, notes);
    write_parent_tree(root);
    Object* ids = objects_.dictionary();
    objects_.put(root, "IDTree", ids);
    objects_.put(ids, "Names", notes);
  }

 private:
  void write_element(std::size_t index, Object* root, Object* notes) {
    const layout::Node& node = parts_.document.nodes[index];
    const Element& element = parts_.elements[index];
    Object* dict = elements_[index];
    std::string entries = "/S/" + std::string(role_name(node.role)) + "/P ";
    entries += index == 0 ? objects_.reference(root)
                          : references_[static_cast<std::size_t>(node.parent)];
    if (const auto page = page_of(index)) entries += "/Pg " + page_references_[*page];
    if (!node.alt.empty()) entries += "/Alt" + written_text(one_line(node.alt));
    if (node.role == layout::Role::note) {
      // Every note has an identifier of its own; numbers of one length stay sorted in the tree.
      const std::string id = fmt::format("note-{:08}", index);
      entries += "/ID" + written_text(id);
      objects_.push(notes, objects_.text(id));
      objects_.push(notes, dict);
    }
    if (is_seal(index)) entries += field();
    entries += attributes(node, element);
    if (element.kids.size() == 1) {
      entries += "/K " + kid(element.kids[0], element);
    } else if (!element.kids.empty()) {
      entries += "/K[";
      for (const Kid& k : element.kids) entries += (entries.back() == '[' ? "" : " ") + kid(k, element);
      entries += "]";
    }
    objects_.set_entries(dict, entries + "\n");
  }

  /// An element's own page; a field's is that of its line.
  std::optional<std::size_t> page_of(std::size_t index) const {
    if (is_seal(index))
      if (const auto place = place_of(parts_.document, parts_.document.seal->line)) return place->page;
    return parts_.elements[index].page;
  }

  bool is_seal(std::size_t index) const {
    return widget_ != nullptr && parts_.document.seal &&
           static_cast<std::size_t>(parts_.document.seal->form) == index;
  }

  /// A form field's element has its widget and nothing else in it (ISO 32000-1, 14.8.4.5).
  std::string field() const {
    return "/K<</Type/OBJR/Obj " + objects_.reference(widget_) + ">>";
  }

  /// The short form, a bare number, serves for sequences on the element's own page.
  std::string kid(const Kid& kid, const Element& element) const {
    if (kid.element) return references_[kid.index];
    if (kid.page == element.page) return std::to_string(kid.index);
    return "<</Type/MCR/Pg " + page_references_[kid.page] + "/MCID " + std::to_string(kid.index) +
           ">>";
  }

  static std::string attributes(const layout::Node& node, const Element& element) {
    if (element.box) {
      std::string out = "/A<</O/Layout/BBox[";
      // Whole points, outwards: what is inside stays inside.
      for (const std::int64_t side :
           {floor_points(element.box->left), floor_points(element.box->bottom),
            -floor_points(-element.box->right), -floor_points(-element.box->top)}) {
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

  void write_parent_tree(Object* root) {
    Object* tree = objects_.indirect();
    objects_.put(root, "ParentTree", tree);
    const auto count = static_cast<std::int64_t>(parts_.pages.size());
    objects_.put_number(root, "ParentTreeNextKey", widget_ != nullptr ? count + 1 : count);
    Object* numbers = objects_.array();
    objects_.put(tree, "Nums", numbers);
    for (std::size_t i = 0; i < parts_.pages.size(); ++i) {
      Object* owners = objects_.array();
      objects_.push_number(numbers, static_cast<std::int64_t>(i));
      objects_.push(numbers, owners);
      for (const layout::NodeId node : parts_.pages[i].sequences) {
        objects_.push(owners, elements_[static_cast<std::size_t>(node)]);
      }
    }
    if (widget_ == nullptr) return;
    objects_.push_number(numbers, count);
    objects_.push(numbers, elements_[static_cast<std::size_t>(parts_.document.seal->form)]);
  }

  Objects& objects_;
  const Parts& parts_;
  const std::vector<Object*>& pages_;
  Object* widget_;
  std::vector<Object*> elements_;
  std::vector<std::string> references_;       ///< "12 0 R" of each element
  std::vector<std::string> page_references_;  ///< of each page
};

}  // namespace

void write_structure(Objects& objects, const Parts& parts, const std::vector<Object*>& pages,
                     Object* widget) {
  StructureWriter(objects, parts, pages, widget).write();
}

}  // namespace ohmleaf::pdf
