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
    objects_.put_name(dict, "S", std::string(role_name(node.role)));
    objects_.put(dict, "P", index == 0 ? root : elements_[static_cast<std::size_t>(node.parent)]);
    if (element.page) objects_.put(dict, "Pg", pages_[*element.page]);
    if (!node.alt.empty()) objects_.put(dict, "Alt", objects_.text(one_line(node.alt)));
    if (node.role == layout::Role::note) {
      // Every note has an identifier of its own; numbers of one length stay sorted in the tree.
      const std::string id = fmt::format("note-{:08}", index);
      objects_.put(dict, "ID", objects_.text(id));
      objects_.push(notes, objects_.text(id));
      objects_.push(notes, dict);
    }
    if (is_seal(index)) write_field(dict);
    write_attributes(dict, node, element);
    if (element.kids.size() == 1) {
      objects_.put(dict, "K", kid(element.kids[0], element));
    } else if (!element.kids.empty()) {
      Object* kids = objects_.array();
      objects_.put(dict, "K", kids);
      for (const Kid& k : element.kids) objects_.push(kids, kid(k, element));
    }
  }

  bool is_seal(std::size_t index) const {
    return widget_ != nullptr && parts_.document.seal &&
           static_cast<std::size_t>(parts_.document.seal->form) == index;
  }

  /// A form field's element has its widget and nothing else in it (ISO 32000-1, 14.8.4.5).
  void write_field(Object* dict) {
    Object* reference = objects_.dictionary();
    objects_.put_name(reference, "Type", "OBJR");
    objects_.put(reference, "Obj", widget_);
    objects_.put(dict, "K", reference);
    if (const auto place = place_of(parts_.document, parts_.document.seal->line))
      objects_.put(dict, "Pg", pages_[place->page]);
  }

  /// The short form, a bare number, serves for sequences on the element's own page.
  Object* kid(const Kid& kid, const Element& element) {
    if (!objects_.ok()) return nullptr;
    if (kid.element) return elements_[kid.index];
    if (kid.page == element.page) {
      return objects_.number(static_cast<std::int64_t>(kid.index));
    }
    Object* reference = objects_.dictionary();
    objects_.put_name(reference, "Type", "MCR");
    objects_.put(reference, "Pg", pages_[kid.page]);
    objects_.put_number(reference, "MCID", static_cast<std::int64_t>(kid.index));
    return reference;
  }

  void write_attributes(Object* dict, const layout::Node& node, const Element& element) {
    if (element.box) {
      Object* attributes = objects_.dictionary();
      objects_.put(dict, "A", attributes);
      objects_.put_name(attributes, "O", "Layout");
      Object* box = objects_.array();
      objects_.put(attributes, "BBox", box);
      // Whole points, outwards: what is inside stays inside.
      for (const std::int64_t side :
           {floor_points(element.box->left), floor_points(element.box->bottom),
            -floor_points(-element.box->right), -floor_points(-element.box->top)}) {
        objects_.push_number(box, side);
      }
      return;
    }
    const bool header = node.role == layout::Role::header_cell;
    if (!header && node.role != layout::Role::cell) return;
    if (!header && node.column_span == 1 && node.row_span == 1) return;
    Object* attributes = objects_.dictionary();
    objects_.put(dict, "A", attributes);
    objects_.put_name(attributes, "O", "Table");
    if (header) objects_.put_name(attributes, "Scope", scope_name(node.scope));
    if (node.column_span != 1) objects_.put_number(attributes, "ColSpan", node.column_span);
    if (node.row_span != 1) objects_.put_number(attributes, "RowSpan", node.row_span);
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
};

}  // namespace

void write_structure(Objects& objects, const Parts& parts, const std::vector<Object*>& pages,
                     Object* widget) {
  StructureWriter(objects, parts, pages, widget).write();
}

}  // namespace ohmleaf::pdf
