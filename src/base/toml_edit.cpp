#include "base/toml_edit.h"

#include <algorithm>

#include "base/text.h"
#include "base/toml.h"

namespace ohmleaf {
namespace {

using Kind = TomlLine::Kind;

std::optional<TomlNode> tree_of(const std::string& text, Sources& sources) {
  Diagnostics quiet;
  return parse_toml(sources, sources.add("text", text), quiet);
}

/// The same keys and values, in whatever order and wherever they stand.
bool same(const TomlNode& a, const TomlNode& b) {
  if (a.kind != b.kind || a.text != b.text || a.children.size() != b.children.size()) return false;
  if (a.is_array())
    return std::equal(a.children.begin(), a.children.end(), b.children.begin(), same);
  return std::all_of(a.children.begin(), a.children.end(), [&](const TomlNode& child) {
    const TomlNode* other = b.find(child.key);
    return other != nullptr && same(child, *other);
  });
}

TomlNode* child_of(TomlNode& node, const std::string& key) {
  for (TomlNode& child : node.children)
    if (child.key == key) return &child;
  return nullptr;
}

/// The child that a step means; null where there is none or a step leads through a plain value.
TomlNode* step_into(TomlNode& node, const TomlStep& step) {
  TomlNode* next = node.is_table() ? child_of(node, step.key) : nullptr;
  if (next == nullptr || step.index < 0) return next;
  const auto index = static_cast<std::size_t>(step.index);
  return next->is_array() && index < next->children.size() ? &next->children[index] : nullptr;
}

/// Sets the value in the tree, which is what the text must come to. False: there is no such place.
bool set(TomlNode& root, const TomlPath& path, TomlNode value) {
  TomlNode* here = &root;
  for (std::size_t i = 0; i + 1 < path.size(); ++i) {
    if (!here->is_table()) return false;
    TomlNode* next = step_into(*here, path[i]);
    if (next == nullptr) {
      if (path[i].index >= 0 || child_of(*here, path[i].key) != nullptr) return false;
      TomlNode table;
      table.key = path[i].key;
      here->children.push_back(std::move(table));
      next = &here->children.back();
    }
    here = next;
  }
  if (!here->is_table() || path.back().index >= 0) return false;  // a value has a key of its own
  value.key = path.back().key;
  if (TomlNode* there = child_of(*here, value.key))
    *there = std::move(value);
  else
    here->children.push_back(std::move(value));
  return true;
}

/// As a comment line would be written: "# R1R2 =    # Ω, limit 0.9 Ω". Nothing unless the blank
/// after the sign is still empty.
struct Blank {
  std::vector<std::string> keys;
  std::string indent;      ///< before the number sign
  std::string name;        ///< "R1R2 ="
  std::string behind;      ///< "# Ω, limit 0.9 Ω"
  std::size_t column = 0;  ///< where that begins
};
std::optional<Blank> blank_of(std::string_view line) {
  Blank out;
  const auto mark = line.find('#');
  out.indent = std::string(line.substr(0, mark));
  std::size_t at = mark + 1;
  while (at < line.size() && line[at] == ' ') ++at;
  const std::size_t name = at;
  out.keys = toml_dotted_key(line, at);
  if (out.keys.empty()) return std::nullopt;
  while (at < line.size() && line[at] == ' ') ++at;
  if (at >= line.size() || line[at] != '=') return std::nullopt;
  out.name = std::string(line.substr(name, ++at - name));
  while (at < line.size() && line[at] == ' ') ++at;
  if (at < line.size() && line[at] != '#') return std::nullopt;
  out.column = code_point_count(line.substr(0, at));
  out.behind = std::string(line.substr(at));
  return out;
}

class Editor {
 public:
  Editor(const std::string& text, TomlPath path, std::string_view value, const TomlOrder& order)
      : text_(text),
        path_(std::move(path)),
        value_(value),
        order_(order),
        lines_(toml_outline(text)) {}

  std::optional<std::string> run(TomlNode& root) {
    TomlNode* here = &root;
    std::size_t depth = 0;  // how many steps of the path are there
    for (; depth < path_.size(); ++depth) {
      TomlNode* next = step_into(*here, path_[depth]);
      if (next == nullptr) break;
      here = next;
    }
    if (depth == path_.size()) return replaced(here->span);
    const std::string_view braces = slice(here->span);
    if (depth > 0 && braces.starts_with('{') && braces.ends_with('}'))
      return in_braces(here->span, depth);
    return under_header(depth);
  }

 private:
  std::string_view slice(Span span) const {
    return std::string_view(text_).substr(span.begin, span.end - span.begin);
  }
  std::string spliced(std::size_t begin, std::size_t end, const std::string& by) const {
    return text_.substr(0, begin) + by + text_.substr(end);
  }
  std::optional<std::string> replaced(Span span) const {
    return spliced(span.begin, span.end, value_);
  }

  /// The keys from `depth` on, as one dotted key.
  std::string dotted(std::size_t depth) const {
    std::string out;
    for (std::size_t i = depth; i < path_.size(); ++i) out += (i > depth ? "." : "") + path_[i].key;
    return out;
  }
  /// The last key with the tables between in braces: "insulation = { live_live = 1 }".
  std::string braced(std::size_t depth) const {
    std::string out = value_;
    for (std::size_t i = path_.size(); i > depth; --i) {
      out = path_[i - 1].key + " = " + out;
      if (i - 1 > depth) out = "{ " + out + " }";
    }
    return out;
  }

  std::optional<std::string> in_braces(Span span, std::size_t depth) const {
    std::size_t at = span.end - 1;
    while (at > span.begin + 1 && text_[at - 1] == ' ') --at;
    const bool empty = trim(slice({span.source, span.begin + 1, span.end - 1})).empty();
    return spliced(at, span.end - 1, (empty ? " " : ", ") + braced(depth) + " ");
  }

  /// Index of the header line of the deepest table on the path that has one; none for the root.
  std::optional<std::size_t> header(std::size_t& depth) const {
    for (; depth > 0; --depth) {
      const TomlPath table(path_.begin(), path_.begin() + static_cast<std::ptrdiff_t>(depth));
      for (std::size_t i = 0; i < lines_.size(); ++i)
        if (lines_[i].kind == Kind::header && lines_[i].path == table) return i;
    }
    return std::nullopt;
  }

  std::optional<std::string> under_header(std::size_t depth) const {
    const auto found = header(depth);  // depth is now that of the table with the header
    const std::size_t first = found ? *found + 1 : 0;
    std::size_t last = first;
    while (last < lines_.size() && lines_[last].kind != Kind::header) ++last;
    if (auto filled = fill_blank(first, last, depth)) return filled;
    const bool table_wanted = path_.size() - depth > 1 && !dotted_there(first, last, depth);
    if (table_wanted && (depth == 0 || path_[depth - 1].index >= 0)) return new_table(depth);
    return new_line(found, first, last, table_wanted ? braced(depth) : with_dots(depth));
  }

  std::string with_dots(std::size_t depth) const { return dotted(depth) + " = " + value_; }

  /// Whether a table further down is written with dots here: "insulation.volts = 500".
  bool dotted_there(std::size_t first, std::size_t last, std::size_t depth) const {
    return std::any_of(lines_.begin() + static_cast<std::ptrdiff_t>(first),
                       lines_.begin() + static_cast<std::ptrdiff_t>(last), [&](const TomlLine& l) {
                         return l.kind == Kind::entry && l.path.size() > depth + 1 &&
                                std::equal(path_.begin(),
                                           path_.begin() + static_cast<std::ptrdiff_t>(depth) + 1,
                                           l.path.begin());
                       });
  }

  std::optional<std::string> fill_blank(std::size_t first, std::size_t last,
                                        std::size_t depth) const {
    const std::string wanted = dotted(depth);
    for (std::size_t i = first; i < last; ++i) {
      if (lines_[i].kind != Kind::comment) continue;
      const auto blank = blank_of(
          std::string_view(text_).substr(lines_[i].begin, lines_[i].end - lines_[i].begin));
      if (!blank || join(blank->keys, ".") != wanted) continue;
      std::string line = blank->indent + blank->name + " " + value_;
      if (!blank->behind.empty()) {
        const std::size_t width = code_point_count(line);
        line.append(width < blank->column ? blank->column - width : 1, ' ');
        line += blank->behind;
      }
      return spliced(lines_[i].begin, lines_[i].end, line);
    }
    return std::nullopt;
  }

  std::string newline() const { return text_.find("\r\n") == std::string::npos ? "\n" : "\r\n"; }
  std::string indent_of(const TomlLine& line) const {
    std::size_t end = line.begin;
    while (end < line.end && (text_[end] == ' ' || text_[end] == '\t')) ++end;
    return text_.substr(line.begin, end - line.begin);
  }
  /// `what` as lines of its own behind line `i`.
  std::string behind(std::size_t i, const std::string& what) const {
    const TomlLine& line = lines_[i];
    const bool open = line.next == text_.size() && !text_.ends_with('\n');
    return spliced(line.next, line.next, (open ? newline() : "") + what);
  }

  /// Behind the last entry of the table's own lines, else below its header.
  std::string new_line(std::optional<std::size_t> header, std::size_t first, std::size_t last,
                       const std::string& entry) const {
    std::optional<std::size_t> after = header;
    std::string indent = header ? indent_of(lines_[*header]) : "";
    for (std::size_t i = first; i < last; ++i) {
      if (lines_[i].kind != Kind::entry) continue;
      after = i;
      indent = indent_of(lines_[i]);
    }
    const std::string line = indent + entry + newline();
    if (after) return behind(*after, line);
    const std::size_t top = text_.starts_with("\xEF\xBB\xBF") ? 3 : 0;
    return spliced(top, top, line);
  }

  /// The place of `key` among the keys that `table` usually has; the end where it is not known.
  static std::size_t rank(const std::vector<std::string>& keys, const std::string& key) {
    return static_cast<std::size_t>(std::find(keys.begin(), keys.end(), key) - keys.begin());
  }

  /// A table of its own, behind the tables of its parent that usually come before it.
  std::string new_table(std::size_t depth) const {
    const TomlPath parent(path_.begin(), path_.begin() + static_cast<std::ptrdiff_t>(depth));
    const auto keys = order_ ? order_(parent) : std::vector<std::string>{};
    const std::size_t own = rank(keys, path_[depth].key);
    std::size_t after = lines_.size();
    bool inside = depth == 0, taken = inside;
    std::string indent;
    for (std::size_t i = 0; i < lines_.size(); ++i) {
      const TomlLine& line = lines_[i];
      if (line.kind == Kind::header) {
        inside = line.path.size() >= depth &&
                 std::equal(parent.begin(), parent.end(), line.path.begin());
        taken = inside && (line.path.size() == depth || rank(keys, line.path[depth].key) <= own);
        if (inside && line.path.size() > depth) indent = indent_of(line);
      }
      // Comments just above a header belong to what comes behind it.
      const bool told = line.kind == Kind::header || line.kind == Kind::entry || own_comment(i);
      if (taken && told) after = i;
    }
    std::string name;
    for (std::size_t i = 0; i <= depth; ++i) name += (i > 0 ? "." : "") + path_[i].key;
    const std::string block =
        newline() + indent + "[" + name + "]" + newline() + indent + braced(depth + 1) + newline();
    if (text_.empty()) return block.substr(newline().size());
    return behind(std::min(after, lines_.size() - 1), block);
  }

  /// A comment that follows an entry or a header without an empty line between.
  bool own_comment(std::size_t i) const {
    if (lines_[i].kind != Kind::comment) return false;
    std::size_t above = i, below = i;
    while (above > 0 && lines_[above].kind == Kind::comment) --above;
    while (below < lines_.size() && lines_[below].kind == Kind::comment) ++below;
    if (below < lines_.size() && lines_[below].kind == Kind::header &&
        lines_[above].kind == Kind::empty)
      return false;
    return lines_[above].kind == Kind::entry || lines_[above].kind == Kind::header;
  }

  const std::string& text_;
  TomlPath path_;
  std::string value_;
  const TomlOrder& order_;
  std::vector<TomlLine> lines_;
};

}  // namespace

std::optional<std::string> edit_toml(const std::string& text, const TomlPath& path,
                                     std::string_view value, const TomlOrder& order) {
  Sources sources;
  auto before = tree_of(text, sources);
  if (!before || path.empty() || value.find('\n') != std::string_view::npos) return std::nullopt;
  const auto holder = tree_of("v = " + std::string(value) + "\n", sources);
  if (!holder || holder->children.size() != 1) return std::nullopt;
  TomlNode wanted = *before;
  if (!set(wanted, path, holder->children.front())) return std::nullopt;
  auto out = Editor(text, path, value, order).run(*before);
  if (!out) return std::nullopt;
  const auto after = tree_of(*out, sources);
  if (!after || !same(wanted, *after)) return std::nullopt;
  return out;
}

}  // namespace ohmleaf
