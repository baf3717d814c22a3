#include "pdf/write.h"

namespace ohmleaf::pdf {
namespace {

/// Links the items from `begin` that stand at `level`, and what is under them; only the
/// outermost level is unfolded. Returns the end of the group.
std::size_t write_kids(Objects& objects, const std::vector<layout::Bookmark>& bookmarks,
                       Object* parent, const std::vector<Object*>& items, std::size_t begin,
                       int level) {
  Object* last = nullptr;
  int count = 0;
  std::size_t i = begin;
  while (i < items.size() && bookmarks[i].level >= level) {
    objects.put(items[i], "Parent", parent);
    if (last == nullptr) {
      objects.put(parent, "First", items[i]);
    } else {
      objects.put(last, "Next", items[i]);
      objects.put(items[i], "Prev", last);
    }
    last = items[i];
    ++count;
    const std::size_t next = i + 1;
    const bool has_kids = next < items.size() && bookmarks[next].level > level;
    i = has_kids ? write_kids(objects, bookmarks, items[i], items, next, level + 1) : next;
  }
  objects.put(parent, "Last", last);
  objects.put_number(parent, "Count", level == 0 ? count : -count);
  return i;
}

}  // namespace

void write_bookmarks(Objects& objects, const layout::Document& document,
                     const std::vector<Object*>& pages) {
  const auto& bookmarks = document.bookmarks;
  if (bookmarks.empty()) return;
  Object* root = objects.indirect();
  objects.put_name(root, "Type", "Outlines");
  objects.put(objects.catalog(), "Outlines", root);
  std::vector<Object*> items;
  for (std::size_t i = 0; i < bookmarks.size(); ++i) items.push_back(objects.indirect());
  if (!objects.ok()) return;
  write_kids(objects, bookmarks, root, items, 0, 0);
  for (std::size_t i = 0; i < bookmarks.size(); ++i) {
    objects.put(items[i], "Title", objects.text(one_line(bookmarks[i].title)));
    Object* place = objects.array();
    objects.put(items[i], "Dest", place);
    objects.push(place, pages[bookmarks[i].page]);
    objects.push_name(place, "XYZ");
    objects.push(place, objects.null());
    const std::int64_t height = document.pages[bookmarks[i].page].height.milli;
    objects.push_thousandths(place, height - bookmarks[i].y.milli);
    objects.push(place, objects.null());
  }
}

}  // namespace ohmleaf::pdf
