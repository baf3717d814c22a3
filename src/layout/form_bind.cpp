#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"
#include "layout/form_reader.h"

namespace ohmleaf::layout {
namespace {

using record::Shape;
using record::View;

/// Every path below a shape, for the nearest one. Lists are not stepped into: what stands in them
/// is reached by a repeat.
void collect(const Shape& shape, const std::string& prefix, std::vector<std::string>& out) {
  for (const Shape& m : shape.members) {
    const std::string path = prefix.empty() ? m.name : prefix + "." + m.name;
    out.push_back(path);
    if (m.kind == View::Kind::group) collect(m, path, out);
  }
}

const Shape* step_by_step(const Shape& from, std::string_view path) {
  const Shape* at = &from;
  bool first = true;
  for (const std::string_view step : split(path, '.')) {
    if (!first && at->kind == View::Kind::list) return nullptr;
    first = false;
    const Shape* next = step == "*" ? nullptr : at->find(step);
    if (!next) return nullptr;
    at = next;
  }
  return at;
}

bool is_cell(const Shape& s) {
  return s.kind == View::Kind::group && s.find("text") && s.find("limit") && s.find("verdict");
}

std::string_view wanted_words(bool list, bool cell) {
  if (list) return "a list, one element after the other";
  if (cell) return "a reading with its limit";
  return "a value that can be printed";
}

}  // namespace

const Shape* FormReader::shape_of(const Binding& b) const {
  const Shape* from = &root_;
  if (b.up > 0) {
    if (static_cast<std::size_t>(b.up) > scopes_.size()) return nullptr;
    from = scopes_[scopes_.size() - static_cast<std::size_t>(b.up)];
  }
  return b.path.empty() ? from : step_by_step(*from, b.path);
}

bool FormReader::suits(const Shape& s, Want want) const {
  using Kind = View::Kind;
  const bool leaf = s.kind == Kind::text || s.kind == Kind::flag || s.kind == Kind::date;
  switch (want) {
    case Want::condition:
      return true;
    case Want::list:
      return s.kind == Kind::list && !s.members.empty();
    case Want::cell:
      return is_cell(s);
    case Want::verdict:
      return leaf || is_cell(s);
    case Want::image:
      return s.kind == Kind::text;
    case Want::printable:
      return leaf || is_cell(s) || (s.kind == Kind::list && s.members.empty());
  }
  return false;
}

void FormReader::unknown_path(const TomlNode& node, const Binding& b) {
  if (static_cast<std::size_t>(b.up) > scopes_.size()) {
    wrong("form-path", node,
          fmt::format("\"{}\" starts at a repeat's item, and there is no such repeat around it",
                      visible(node.text)),
          "A path without a leading dot starts at the record itself.");
    return;
  }
  const Shape* from = b.up > 0 ? scopes_[scopes_.size() - static_cast<std::size_t>(b.up)] : &root_;
  std::vector<std::string> paths;
  collect(*from, "", paths);
  const auto near = nearest(b.path, {paths.begin(), paths.end()});
  std::string hint = "`ohmleaf forms` lists every path.";
  if (near) {
    hint = "Did you mean \"" + std::string(static_cast<std::size_t>(b.up), '.') + *near + "\"?";
  } else if (b.up == 0 && !scopes_.empty() && step_by_step(*scopes_.back(), b.path)) {
    hint = "Inside a repeat the item's own values start with a dot: \"." + b.path + "\".";
  }
  wrong("form-path", node, fmt::format("the record has no \"{}\"", visible(node.text)), hint);
}

std::optional<Binding> FormReader::bind(const TomlNode& node, Want want) {
  if (node.kind != TomlKind::string) {
    wrong("form-path", node, "a path into the record is text", "Write path = \"job.premises\".");
    return std::nullopt;
  }
  Binding b;
  b.span = node.span;
  std::string_view rest = node.text;
  while (!rest.empty() && rest.front() == '.') {
    rest.remove_prefix(1);
    ++b.up;
  }
  b.path = std::string(rest);
  const Shape* shape = b.up == 0 && b.path.empty() ? nullptr : shape_of(b);
  if (!shape) {
    unknown_path(node, b);
    return std::nullopt;
  }
  b.own = shape->own;
  if (!suits(*shape, want)) {
    wrong("form-path-kind", node,
          fmt::format("\"{}\" is {}, and {} is needed here", visible(node.text),
                      shape->kind == View::Kind::group  ? "a group of values"
                      : shape->kind == View::Kind::list ? "a list"
                                                        : "a single value",
                      wanted_words(want == Want::list, want == Want::cell)));
    return std::nullopt;
  }
  bound_.push_back(b);
  return b;
}

}  // namespace ohmleaf::layout
