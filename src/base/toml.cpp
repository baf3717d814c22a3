#include "base/toml.h"

#define TOML_HEADER_ONLY 1
#define TOML_EXCEPTIONS 0
#define TOML_ENABLE_FORMATTERS 0
#include <toml++/toml.h>

#include <algorithm>

#include "base/text.h"
#include "base/toml_fence.h"
#include "base/toml_mend.h"

// The only file that sees toml++. What it gives is turned at once into our own nodes, with byte
// spans into the user's text, so that nothing else depends on the library or its columns.

namespace ohmleaf {
namespace {

class Converter {
 public:
  Converter(const Sources& sources, SourceId id, const TomlMender& mender, Diagnostics& out)
      : sources_(sources), text_(sources.get(id)), id_(id), mender_(mender), out_(out) {}

  TomlNode table(const toml::table& t) {
    TomlNode node;
    node.kind = TomlKind::table;
    node.span = span(t.source());
    for (auto&& [key, value] : t) {
      TomlNode child = convert(value);
      child.key = std::string(key.str());
      child.key_span = span(key.source());
      node.children.push_back(std::move(child));
    }
    std::stable_sort(node.children.begin(), node.children.end(), [](const auto& a, const auto& b) {
      return a.key_span.begin < b.key_span.begin;
    });
    return node;
  }

 private:
  Span span(const toml::source_region& r) const {
    // Columns of toml++ count code points from 1; the end is exclusive.
    Span s{id_, text_.byte_at(r.begin.line, r.begin.column),
           text_.byte_at(r.end.line, r.end.column)};
    s.end = std::max(s.end, s.begin);
    return s;
  }

  TomlNode convert(const toml::node& n) {
    if (const auto* t = n.as_table()) return table(*t);
    TomlNode node;
    node.span = span(n.source());
    if (const auto* a = n.as_array()) {
      node.kind = TomlKind::array;
      for (const toml::node& element : *a) node.children.push_back(convert(element));
      return node;
    }
    node.text = std::string(trim(sources_.slice(node.span)));
    node.mended = mender_.touched(node.span);
    if (const auto* s = n.as_string()) {
      node.kind = TomlKind::string;
      node.text = s->get();
    } else if (n.is_integer()) {
      node.kind = TomlKind::integer;
    } else if (n.is_floating_point()) {
      node.kind = TomlKind::floating;
      refuse_non_number(node);
    } else if (n.is_boolean()) {
      node.kind = TomlKind::boolean;
    } else if (n.is_date()) {
      node.kind = TomlKind::date;
    } else if (n.is_time()) {
      node.kind = TomlKind::time;
    } else {
      node.kind = TomlKind::date_time;
    }
    return node;
  }

  void refuse_non_number(TomlNode& node) {
    if (node.mended) return;
    if (node.text.find("nan") == std::string::npos && node.text.find("inf") == std::string::npos)
      return;
    node.mended = true;
    out_.error("not-a-number", node.span, "\"" + visible(node.text) + "\" is no reading",
               {"For a reading beyond the instrument's range write \">999\"."});
  }

  const Sources& sources_;
  const SourceText& text_;
  SourceId id_;
  const TomlMender& mender_;
  Diagnostics& out_;
};

}  // namespace

std::string_view describe(TomlKind kind) {
  switch (kind) {
    case TomlKind::table:
      return "a table";
    case TomlKind::array:
      return "a list";
    case TomlKind::string:
      return "text";
    case TomlKind::integer:
      return "a whole number";
    case TomlKind::floating:
      return "a number";
    case TomlKind::boolean:
      return "true or false";
    case TomlKind::date:
      return "a date";
    case TomlKind::time:
      return "a time";
    case TomlKind::date_time:
      return "a date and time";
  }
  return "a value";
}

const TomlNode* TomlNode::find(std::string_view name) const {
  for (const TomlNode& c : children)
    if (c.key == name) return &c;
  return nullptr;
}

std::optional<TomlNode> parse_toml(const Sources& sources, SourceId source, Diagnostics& out) {
  Diagnostics found;
  auto root = parse_toml_mending(sources, source, found);
  found.sort();
  for (const Diagnostic& d : found.all()) out.add(d);
  return found.ok() ? std::move(root) : std::nullopt;
}

std::optional<TomlNode> parse_toml_mending(const Sources& sources, SourceId source,
                                           Diagnostics& out) {
  if (!toml_fence(sources, source, out)) return std::nullopt;
  const SourceText& text = sources.get(source);
  TomlMender mender(text, source, out);
  toml::parse_result result = toml::parse(std::string_view(mender.text()));
  while (!result) {
    const auto where = result.error().source().begin;
    const std::uint32_t line = std::max<std::uint32_t>(where.line, 1);
    if (!mender.mend(line, text.byte_at(line, where.column), result.error().description()))
      return std::nullopt;
    result = toml::parse(std::string_view(mender.text()));
  }
  return Converter(sources, source, mender, out).table(result.table());
}

}  // namespace ohmleaf
