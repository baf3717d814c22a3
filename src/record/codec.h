#pragma once
#include <algorithm>
#include <concepts>
#include <functional>

#include "base/text.h"
#include "record/codec_scalar.h"

// Lists, tables, and the line of a table of keys: `key<&Supply::ze>(…)`, where the type of the
// member chooses the codec.

namespace ohmleaf::record {

/// Far beyond any job, near enough to keep a hostile file from costing hours.
inline constexpr std::size_t kMostTables = 1000, kMostTexts = 200;
/// A schedule of circuits may be that of a whole estate.
template <class R>
inline constexpr std::size_t most_tables = kMostTables;
template <>
inline constexpr std::size_t most_tables<Circuit> = 10'000;

/// A list of texts; one text alone is a list of one.
template <>
struct Codec<Texts> {
  static void read(Reader& in, const Value& value, Texts& out);
  static View view(const Texts& texts);
  static void shape(Shape& s, const Rule& rule);
};
template <>
struct Codec<std::vector<InspectionItem>> {
  static void read(Reader& in, const Value& value, std::vector<InspectionItem>& out);
  static View view(const std::vector<InspectionItem>& items);
  static void shape(Shape& s, const Rule& rule);
};
template <>
struct Codec<std::vector<Extra>> {
  static void read(Reader& in, const Value& value, std::vector<Extra>& out);
  static View view(const std::vector<Extra>& extra);
  static void shape(Shape& s, const Rule& rule);
};

/// The places of a three-phase circuit that a table may name, each with its reading.
template <class Q, class Set>
struct Codec<Split<Q, Set>> {
  using One = Codec<Measured<Q>>;

  static void read(Reader& in, const Value& value, Split<Q, Set>& out) {
    if (!value.node.is_table()) {
      if (value.node.is_array())
        in.wrong_type(value, "a reading, or " + std::string(Set::form), example(value));
      else
        One::read(in, value, out);
      return;
    }
    in.enter(value.name, false);
    for (const TomlNode& child : value.node.children) {
      const auto it = std::find(Set::names.begin(), Set::names.end(), child.key);
      if (it == Set::names.end())
        in.unknown_key(child, {Set::names.begin(), Set::names.end()});
      else if (!child.mended)
        One::read(in, {child, *it, value.rule},
                  out.parts[static_cast<std::size_t>(it - Set::names.begin())]);
    }
    in.leave();
    out.divide(value.node.span, value.node.key_span);
  }
  static View view(const Split<Q, Set>& split) {
    View out = One::view(split);
    for (std::size_t i = 0; i < Set::names.size(); ++i)
      if (split.parts[i]) out.set(std::string(Set::names[i]), One::view(split.parts[i]));
    return out;
  }
  static void shape(Shape& s, const Rule& rule) {
    One::shape(s, rule);
    Shape part = s;
    part.help = Set::help;
    for (const std::string_view name : Set::names) {
      part.name = name;
      s.members.push_back(part);
    }
    s.type += ", or " + std::string(Set::form);
  }

 private:
  static std::string example(const Value& value) {
    std::string out = "Write " + std::string(value.name) + " = { ";
    for (const std::string_view name : Set::names)
      out += std::string(name == Set::names.front() ? "" : ", ") + std::string(name) + " = …";
    return out + " }, or the worst of them alone.";
  }
};

/// Reads every child of a table by the record's keys; what is unknown or missing is said.
template <class R>
void read_table(Reader& in, const TomlNode& table, Span header, R& record) {
  const auto table_keys = keys<R>();
  std::vector<bool> seen(table_keys.size());
  for (const TomlNode& child : table.children) {
    if (in.flooded()) return;
    const auto it = std::find_if(table_keys.begin(), table_keys.end(),
                                 [&](const Key<R>& k) { return k.name == child.key; });
    if (it == table_keys.end()) {
      std::vector<std::string_view> known;
      for (const Key<R>& k : table_keys) known.push_back(k.name);
      in.unknown_key(child, known);
      continue;
    }
    const bool empty = child.kind == TomlKind::string && trim(child.text).empty();
    seen[static_cast<std::size_t>(it - table_keys.begin())] = true;
    if (child.mended) continue;
    if (empty && it->required == Required::yes)
      in.error("missing-key", child.span, std::string(it->name) + " is still empty",
               "Fill it in: " + std::string(it->help) + ".");
    else
      it->read(in, {child, it->name, it->rule}, record);
  }
  for (std::size_t i = 0; i < seen.size(); ++i) {
    if (seen[i] || table_keys[i].required == Required::no) continue;
    Shape shape;
    shape.help = table_keys[i].help;
    table_keys[i].shape(shape, table_keys[i].rule);
    in.missing_key(table_keys[i].name, shape, header);
  }
}

template <class R>
View view_table(const R& record, const std::function<bool(std::string_view)>& wanted = {}) {
  View out = View::group();
  if constexpr (requires { record.span; }) out.span = record.span;
  for (const Key<R>& k : keys<R>()) {
    if (wanted && !wanted(k.name)) continue;
    View member = k.view(record);
    if (member.present()) out.members.push_back({std::string(k.name), std::move(member)});
  }
  return out;
}

template <class R>
std::vector<Shape> shape_table() {
  std::vector<Shape> out;
  for (const Key<R>& k : keys<R>()) {
    Shape member;
    member.name = k.name;
    member.required = k.required == Required::yes;
    member.help = k.help;
    k.shape(member, k.rule);
    out.push_back(std::move(member));
  }
  return out;
}

template <class R>
concept Record = requires(R r) {
  { r.span } -> std::same_as<Span&>;
  {keys<R>()};
}
&&!requires(R r) {
  r.key_span;
};

template <class R>
concept Keyed = Record<R> && requires(R r) {
  { r.id } -> std::same_as<std::string&>;
};

/// A table within a table.
template <Record R>
struct Codec<R> {
  static void read(Reader& in, const Value& value, R& record) {
    record.span = value.node.key_span.valid() ? value.node.key_span : value.node.span;
    if (!value.node.is_table()) {
      in.wrong_type(value, "a table",
                    value.node.is_array() && !value.node.children.empty() &&
                            value.node.children.front().is_table()
                        ? "It stands once only: write its heading with single brackets."
                        : "");
      return;
    }
    in.enter(value.name, false);
    read_table(in, value.node, record.span, record);
    in.leave();
  }
  static View view(const R& record) { return view_table(record); }
  static void shape(Shape& s, const Rule&) {
    s.kind = View::Kind::group;
    s.type = "table";
    s.written = Written::table;
    s.members = table_of<shape_table<R>>;
  }
};

/// [[circuit]]: a list of tables.
template <Record R>
struct Codec<std::vector<R>> {
  static void read(Reader& in, const Value& value, std::vector<R>& out) {
    const TomlNode& node = value.node;
    if (node.is_table()) {
      in.error("wrong-type", node.key_span,
               std::string(value.name) + " is a list, even where there is only one",
               "Write its heading with double brackets: [[…]].");
      read_one(in, value, node, out);
    } else if (!node.is_array()) {
      in.wrong_type(value, "a list of tables", "Write its heading with double brackets: [[…]].");
    } else if (!too_many(in, value, most_tables<R>)) {
      out.reserve(node.children.size());  // a circuit is large: none is moved about
      for (const TomlNode& element : node.children)
        if (element.is_table())
          read_one(in, value, element, out);
        else if (!element.mended)
          in.wrong_type({element, value.name, value.rule}, "tables");
    }
  }
  static View view(const std::vector<R>& records) {
    View out = View::list();
    for (const R& r : records) out.items.push_back(view_table(r));
    return out;
  }
  static void shape(Shape& s, const Rule&) {
    s.kind = View::Kind::list;
    s.type = "list of tables";
    s.written = Written::tables;
    s.members = table_of<shape_table<R>>;
  }

 private:
  static void read_one(Reader& in, const Value& value, const TomlNode& element,
                       std::vector<R>& out) {
    R& record = out.emplace_back();
    record.span = element.span;
    in.enter(value.name, true);
    read_table(in, element, element.span, record);
    in.leave();
  }
};

/// A key that others name stays safe in a file name and in a message.
void check_record_key(Reader& in, const TomlNode& child);

/// [person.rh]: tables that a key names.
template <Keyed R>
struct Codec<std::vector<R>> {
  static void read(Reader& in, const Value& value, std::vector<R>& out) {
    if (!value.node.is_table()) {
      in.wrong_type(value, "a table for each",
                    "Write [" + std::string(value.name) + ".key] above it.");
      return;
    }
    if (too_many(in, value, kMostTables)) return;
    in.enter(value.name, false);
    for (const TomlNode& child : value.node.children) {
      if (child.mended) continue;
      R& record = out.emplace_back();
      record.id = child.key;
      record.span = child.key_span;
      check_record_key(in, child);
      const Rule none;
      Codec<R>::read(in, {child, record.id, none}, record);
    }
    in.leave();
  }
  static View view(const std::vector<R>& records) {
    View out = View::list();
    for (const R& r : records) {
      View item = view_table(r);
      View id = View::of_text(r.id, {}, r.span);
      item.members.insert(item.members.begin(), {"id", std::move(id)});
      out.items.push_back(std::move(item));
    }
    return out;
  }
  static void shape(Shape& s, const Rule&) {
    s.kind = View::Kind::list;
    s.type = "tables named by a key";
    s.written = Written::keyed;
    Shape id;
    id.name = "id";
    id.kind = View::Kind::text;
    id.type = "text";
    id.required = true;
    id.help = "the key itself, as jobs name it";
    std::vector<Shape> members{std::move(id)};
    for (Shape& m : shape_table<R>()) members.push_back(std::move(m));
    s.members = std::move(members);
  }
};

template <auto Member>
struct MemberOf;
template <class R, class T, T R::*Member>
struct MemberOf<Member> {
  using record = R;
  using type = T;
};

/// One line of a table of keys.
template <auto Member>
constexpr auto key(std::string_view name, Required required, std::string_view help,
                   Rule rule = {}) {
  using R = typename MemberOf<Member>::record;
  using C = Codec<typename MemberOf<Member>::type>;
  Key<R> out;
  out.name = name;
  out.required = required;
  out.help = help;
  out.rule = rule;
  out.read = [](Reader& in, const Value& value, R& record) { C::read(in, value, record.*Member); };
  out.view = [](const R& record) { return C::view(record.*Member); };
  out.shape = [](Shape& shape, const Rule& r) { C::shape(shape, r); };
  return out;
}

}  // namespace ohmleaf::record
