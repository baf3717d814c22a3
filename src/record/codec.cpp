#include "record/codec.h"

#include <fmt/format.h>

#include "record/read.h"

namespace ohmleaf::record {
namespace {

bool is_record_key(std::string_view text) {
  if (text.empty() || text.size() > 64) return false;
  return std::all_of(text.begin(), text.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '.' ||
           c == '_' || c == '-';
  });
}

const InspectionText* inspection_text(std::string_view key) {
  for (const InspectionText& item : inspection_items())
    if (item.key == key) return &item;
  return nullptr;
}

void read_answer(Reader& in, const Value& value, InspectionItem& item) {
  constexpr std::string_view hint = "Write true, false, \"N/A: why\" or \"LIM: why\".";
  if (value.node.kind == TomlKind::boolean) {
    item.done = value.node.text == "true";
    return;
  }
  if (value.node.kind != TomlKind::string) {
    in.wrong_type(value, "true, false or a reason", std::string(hint));
    return;
  }
  const std::string text = to_nfc(trim(value.node.text));
  if (!printable(in, value, text)) return;
  ReadingFault fault;
  const auto raw = parse_reading(text, fault);
  const std::string lower = ascii_lower(text);
  if (raw && raw->kind == ReadingKind::not_applicable)
    item.not_applicable = raw->reason;
  else if (raw && raw->kind == ReadingKind::limitation)
    item.limitation = raw->reason;
  else if (lower == "n/a" || lower == "lim" || lower == "n/a:" || lower == "lim:")
    in.error("not-a-reading", value.node.span, fmt::format("{}: {}", value.name, fault.message),
             fault.hint);
  else
    in.error("not-an-answer", value.node.span,
             fmt::format("{}: \"{}\" is no answer of the checklist", value.name, visible(text)),
             std::string(hint));
}

}  // namespace

void check_record_key(Reader& in, const TomlNode& child) {
  if (is_record_key(child.key)) return;
  in.error("wrong-form", child.key_span,
           fmt::format("\"{}\" cannot serve as a key", visible(child.key)),
           "A key is made of letters, digits, dots, hyphens and underscores, at most 64.");
}

void Codec<Texts>::read(Reader& in, const Value& value, Texts& out) {
  const auto one = [&](const TomlNode& node) {
    if (node.mended) return;
    Text text;
    Codec<Text>::read(in, {node, value.name, value.rule}, text);
    if (text) out.push_back(std::move(text));
  };
  if (value.node.kind == TomlKind::string) return one(value.node);
  if (!value.node.is_array()) {
    in.wrong_type(value, "a list of texts",
                  value.node.is_table()
                      ? ""
                      : fmt::format("Write {} = [\"{}\"].", value.name, visible(value.node.text)));
    return;
  }
  if (too_many(in, value, kMostTexts)) return;
  for (const TomlNode& element : value.node.children) one(element);
}

View Codec<Texts>::view(const Texts& texts) {
  View out = View::list();
  for (const Text& t : texts) out.items.push_back(Codec<Text>::view(t));
  return out;
}

void Codec<Texts>::shape(Shape& s, const Rule& rule) {
  s.kind = View::Kind::list;
  s.type = "list of texts";
  s.written = Written::texts;
  s.allowed.pattern = rule.pattern;
  s.allowed.form = rule.form;
  s.allowed.lines = rule.lines;
  s.words.assign(rule.words.begin(), rule.words.end());
  s.own = rule.words.empty();
}

void Codec<std::vector<InspectionItem>>::read(Reader& in, const Value& value,
                                              std::vector<InspectionItem>& out) {
  if (!value.node.is_table()) {
    in.wrong_type(value, "a table", "Write [inspection] above its items.");
    return;
  }
  std::vector<std::string_view> known;
  for (const InspectionText& item : inspection_items()) known.push_back(item.key);
  in.enter(value.name, false);
  for (const TomlNode& child : value.node.children) {
    if (in.flooded()) break;
    if (inspection_text(child.key) == nullptr) {
      in.unknown_key(child, known);
      continue;
    }
    if (child.mended) continue;
    InspectionItem& item = out.emplace_back();
    item.key = child.key;
    item.span = child.span;
    const Rule none;
    read_answer(in, {child, child.key, none}, item);
  }
  in.leave();
}

View Codec<std::vector<InspectionItem>>::view(const std::vector<InspectionItem>& items) {
  View out = View::group();
  for (const InspectionItem& item : items) {
    View v;
    if (item.done)
      v = View::of_flag(*item.done, item.span);
    else if (!item.not_applicable.empty())
      v = View::of_text("N/A: " + item.not_applicable, {}, item.span);
    else
      v = View::of_text("LIM: " + item.limitation, {}, item.span);
    out.set(item.key, std::move(v));
  }
  return out;
}

void Codec<std::vector<InspectionItem>>::shape(Shape& s, const Rule&) {
  s.kind = View::Kind::group;
  s.type = "table";
  s.written = Written::table;
  for (const InspectionText& item : inspection_items()) {
    Shape m;
    m.name = item.key;
    m.kind = View::Kind::flag;
    m.written = Written::answer;
    m.type = "true, false, \"N/A: why\" or \"LIM: why\"";
    m.help = item.words;
    s.members.push_back(std::move(m));
  }
}

void Codec<std::vector<Extra>>::read(Reader& in, const Value& value, std::vector<Extra>& out) {
  if (!value.node.is_table()) {
    in.wrong_type(value, "a table", "Write [extra] above your own fields.");
    return;
  }
  if (too_many(in, value, kMostTexts)) return;
  static constexpr Rule lines{.lines = true};
  for (const TomlNode& child : value.node.children) {
    if (child.mended) continue;
    check_record_key(in, child);
    const Value one{child, child.key, lines};
    if (child.is_table() || child.is_array()) {
      in.wrong_type(one, "text, a number, a date, or true or false");
      continue;
    }
    std::optional<std::string> text = child.text;
    if (child.kind == TomlKind::string) text = read_text(in, one);
    if (text) out.push_back({child.key, std::move(*text), child.span});
  }
}

View Codec<std::vector<Extra>>::view(const std::vector<Extra>& extra) {
  View out = View::group();
  for (const Extra& e : extra) out.set(e.key, View::of_text(e.text, {}, e.span));
  return out;
}

void Codec<std::vector<Extra>>::shape(Shape& s, const Rule&) {
  s.kind = View::Kind::group;
  s.type = "table";
  s.written = Written::own;
  Shape any;
  any.name = "*";
  any.kind = View::Kind::text;
  any.type = "text";
  any.help = "a field of the installer's own";
  s.members.push_back(std::move(any));
}

}  // namespace ohmleaf::record
