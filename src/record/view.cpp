#include "record/view.h"

#include <algorithm>

#include "base/text.h"

namespace ohmleaf::record {

View View::group() {
  View v;
  v.kind = Kind::group;
  return v;
}

View View::list() {
  View v;
  v.kind = Kind::list;
  return v;
}

View::Later::~Later() = default;

std::size_t View::Later::index(std::string_view wanted) const {
  std::size_t i = 0;
  while (i < count() && name(i) != wanted) ++i;
  return i;
}

const View* View::Later::member(std::string_view wanted) const {
  const std::size_t i = index(wanted);
  if (i == count()) return nullptr;
  made_.resize(count());
  if (!made_[i]) made_[i] = std::make_unique<View>(make(i));
  return made_[i].get();
}

View View::group(std::shared_ptr<const Later> members) {
  View v = group();
  v.later = std::move(members);
  return v;
}

View View::list(std::shared_ptr<const Later> items) {
  View v = list();
  v.later = std::move(items);
  return v;
}

View View::of_text(std::string text, std::string unit, Span span) {
  View v;
  v.kind = Kind::text;
  v.text = std::move(text);
  v.unit = std::move(unit);
  v.span = span;
  return v;
}

View View::of_flag(bool value, Span span) {
  View v;
  v.kind = Kind::flag;
  v.text = value ? "true" : "false";
  v.span = span;
  return v;
}

bool View::present() const {
  switch (kind) {
    case Kind::none:
      return false;
    case Kind::text:
    case Kind::date:
      return !text.empty();
    case Kind::flag:
      return true;
    case Kind::group:
      if (std::any_of(members.begin(), members.end(),
                      [](const auto& m) { return m.second.present(); }))
        return true;
      for (std::size_t i = 0; later && i < later->count(); ++i)
        if (later->member(later->name(i))->present()) return true;
      return false;
    case Kind::list:
      return !items.empty() || (later && later->count() > 0);
  }
  return false;
}

bool View::truthy() const {
  return kind == Kind::flag ? text == "true" : present();
}

const View* View::find(std::string_view name) const {
  for (const auto& [member, view] : members)
    if (member == name) return &view;
  return later && kind == Kind::group ? later->member(name) : nullptr;
}

void View::each(const std::function<void(const View&)>& use) const {
  for (const View& item : items) use(item);
  for (std::size_t i = 0; later && i < later->count(); ++i) use(later->make(i));
}

View View::whole() const {
  View out = *this;
  out.later.reset();
  for (auto& [name, view] : out.members) view = view.whole();
  for (View& item : out.items) item = item.whole();
  for (std::size_t i = 0; later && i < later->count(); ++i) {
    if (kind == Kind::group)
      out.members.push_back({std::string(later->name(i)), later->make(i).whole()});
    else
      out.items.push_back(later->make(i).whole());
  }
  return out;
}

const View* View::at(std::string_view path) const {
  const View* here = this;
  for (;;) {
    const std::size_t dot = path.find('.');
    here = here->find(path.substr(0, dot));
    if (here == nullptr || dot == std::string_view::npos) return here;
    path.remove_prefix(dot + 1);
  }
}

View& View::set(std::string name, View value) {
  for (auto& [member, view] : members)
    if (member == name) return view = std::move(value);
  members.push_back({std::move(name), std::move(value)});
  return members.back().second;
}

ShapeMembers::ShapeMembers(std::vector<Shape> own)
    : own_(std::make_shared<const std::vector<Shape>>(std::move(own))) {}

const std::vector<Shape>& ShapeMembers::all() const {
  static const std::vector<Shape> none;
  return table_ != nullptr ? table_() : own_ ? *own_ : none;
}

bool ShapeMembers::empty() const {
  return all().empty();
}

void ShapeMembers::push_back(Shape member) {
  std::vector<Shape> longer = all();
  longer.push_back(std::move(member));
  *this = ShapeMembers(std::move(longer));
}

const Shape* Shape::find(std::string_view name) const {
  const Shape* any = nullptr;
  for (const Shape& m : members) {
    if (m.name == name) return &m;
    if (m.name == "*") any = &m;
  }
  return any;
}

const Shape* Shape::at(std::string_view path) const {
  const Shape* here = this;
  for (const std::string_view step : split(path, '.')) {
    here = here->find(step);
    if (here == nullptr) return nullptr;
  }
  return here;
}

}  // namespace ohmleaf::record
