#include "record/reader.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"

namespace ohmleaf::record {
namespace {

std::string heading(const std::string& path, bool list) {
  return list ? "[[" + path + "]]" : "[" + path + "]";
}

/// "[a.b]" for every table of the shape that has this key.
void find_homes(const Shape& shape, std::string_view key, const std::string& path, bool list,
                std::vector<std::string>& out) {
  for (const Shape& m : shape.members) {
    if (m.name == key) {
      if (path.empty())
        out.push_back("at the top of the file, before the first [section]");
      else
        out.push_back("in " + heading(path, list));
    }
    const bool table = m.kind == View::Kind::group || m.kind == View::Kind::list;
    if (table && !m.members.empty())
      find_homes(m, key, path.empty() ? m.name : path + "." + m.name, m.kind == View::Kind::list,
                 out);
  }
}

std::string example_of(std::string_view name, const Shape& shape) {
  if (!shape.words.empty()) return fmt::format("{} = \"{}\"", name, shape.words.front());
  switch (shape.kind) {
    case View::Kind::date:
      return fmt::format("{} = 2026-11-20", name);
    case View::Kind::flag:
      return fmt::format("{} = true", name);
    default:
      return fmt::format("{} = \"…\"", name);
  }
}

}  // namespace

Diagnostic& Reader::error(std::string_view id, Span span, std::string message, std::string hint) {
  std::vector<std::string> hints;
  if (!hint.empty()) hints.push_back(std::move(hint));
  return out_.error(std::string(id), span, std::move(message), std::move(hints));
}

std::string Reader::where() const {
  if (path_.empty()) return "at the top of the file";
  std::string path;
  for (const Step& s : path_) path += (path.empty() ? "" : ".") + s.name;
  return "in " + heading(path, path_.back().list);
}

std::vector<std::string> Reader::homes_of(std::string_view key) const {
  std::vector<std::string> out;
  find_homes(root_(), key, {}, false, out);
  if (out.size() > 3) out.clear();  // a word like "name" is at home everywhere: no help
  return out;
}

void Reader::unknown_key(const TomlNode& node, const std::vector<std::string_view>& known) {
  Diagnostic& d = error("unknown-key", node.key_span,
                        fmt::format("the key \"{}\" is not known {}", visible(node.key), where()));
  const auto near = nearest(node.key, known);
  if (near) d.hints.push_back(fmt::format("Did you mean \"{}\"?", *near));
  const auto homes = homes_of(node.key);
  if (!homes.empty())
    d.hints.push_back(fmt::format("\"{}\" belongs {}.", visible(node.key), join(homes, " or ")));
  if (!d.hints.empty()) return;
  std::vector<std::string> names(known.begin(), known.end());
  d.hints.push_back("Known here: " + join(names, ", ") + ".");
}

void Reader::missing_key(std::string_view name, const Shape& shape, Span header) {
  error("missing-key", header,
        path_.empty() ? fmt::format("the file has no \"{}\"", name)
                      : fmt::format("\"{}\" is missing {}", name, where()),
        fmt::format("Add a line: {}   # {}", example_of(name, shape), shape.help));
}

void Reader::wrong_type(const Value& value, std::string_view needed, std::string hint) {
  error(
      "wrong-type", value.node.span,
      fmt::format("{} needs {}, and {} stands here", value.name, needed, describe(value.node.kind)),
      std::move(hint));
}

bool too_many(Reader& in, const Value& value, std::size_t most) {
  const std::size_t count = value.node.children.size();
  if (count <= most) return false;
  in.error("too-many",
           value.node.children[most].key_span.valid() ? value.node.children[most].key_span
                                                      : value.node.children[most].span,
           fmt::format("{} has {} entries", value.name, count),
           fmt::format("At most {} fit into one file. Is this the right file?", most));
  return true;
}

std::string list_words(std::span<const std::string_view> words) {
  std::string out;
  for (std::size_t i = 0; i < words.size(); ++i) {
    if (i > 0) out += i + 1 == words.size() ? " or " : ", ";
    out += fmt::format("\"{}\"", words[i]);
  }
  return out;
}

bool is_id(std::string_view text) {
  const auto plain = [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'); };
  return !text.empty() && text.size() <= 64 && plain(text.front()) &&
         std::all_of(text.begin(), text.end(),
                     [&](char c) { return plain(c) || c == '.' || c == '_' || c == '-'; });
}

}  // namespace ohmleaf::record
