#include "layout/model_rows.h"

#include <array>

#include "base/text.h"

namespace ohmleaf::layout::model {
namespace {

/// Cells are named by the keys of the job file. What is judged line by line speaks for the whole
/// by its worst.
const checks::Finding* finding_for(const Context& c, int circuit, std::string_view path) {
  const checks::Finding* whole = checks::worst(c.cells.at(circuit, path));
  return whole ? whole : checks::worst(c.cells.below(circuit, path));
}

std::string other_limits(const Context& c, int circuit, std::string_view path,
                         const checks::Finding* shown) {
  std::string others;
  for (const checks::Finding* f : c.cells.at(circuit, path)) {
    if (f == shown || f->limit.empty() || (shown && f->limit == shown->limit)) continue;
    others += (others.empty() ? "" : "; ") + f->limit;
  }
  return others;
}

constexpr std::size_t kCellMembers = 13;

constexpr std::string_view kind_words(Type type) {
  switch (type) {
    case Type::text:
    case Type::own:
      return "text";
    case Type::flag:
      return "true or false";
    case Type::date:
      return "date";
    case Type::group:
      return "group";
    case Type::list:
      return "list";
    case Type::texts:
    case Type::own_texts:
      return "list of texts";
  }
  return "text";
}

}  // namespace

Shape leaf_shape(std::string_view name, Type type, std::string_view help) {
  Shape s;
  s.name = std::string(name);
  s.help = std::string(help);
  s.type = std::string(kind_words(type));
  switch (type) {
    case Type::text:
    case Type::own:
      s.kind = View::Kind::text;
      s.own = type == Type::own;
      break;
    case Type::flag:
      s.kind = View::Kind::flag;
      break;
    case Type::date:
      s.kind = View::Kind::date;
      break;
    case Type::group:
      s.kind = View::Kind::group;
      break;
    case Type::list:
    case Type::texts:
    case Type::own_texts:
      s.kind = View::Kind::list;
      s.own = type == Type::own_texts;
      break;
  }
  return s;
}

View text_view(const record::Text& text) {
  return text ? View::of_text(*text, {}, text.span) : View{};
}

View text_view(const std::string& text) {
  return text.empty() ? View{} : View::of_text(text);
}

View flag_view(const record::Flag& flag) {
  return flag ? View::of_flag(*flag, flag.span) : View{};
}

View date_view(const record::Field<Date>& date) {
  if (!date) return {};
  View v = View::of_text(date->iso(), {}, date.span);
  v.kind = View::Kind::date;
  return v;
}

View date_view(const record::Field<DateTime>& when) {
  if (!when) return {};
  View v = View::of_text(when->iso(), {}, when.span);
  v.kind = View::Kind::date;
  return v;
}

View texts_view(const record::Texts& texts) {
  View v = View::list();
  for (const record::Text& t : texts)
    if (t) v.items.push_back(text_view(t));
  return v;
}

std::string without_unit(const std::string& text, std::string_view unit) {
  if (unit.empty() || !text.ends_with(unit)) return text;
  return std::string(trim(std::string_view(text).substr(0, text.size() - unit.size())));
}

CellValue cell_value(const record::Flag& flag) {
  CellValue out;
  out.span = flag.span;
  if (flag) out.text = *flag ? "yes" : "no";
  return out;
}

View cell_view(const Context& c, int circuit, std::string_view path, const CellValue& value,
               const std::string& expected) {
  View out = View::group();
  out.span = value.span;
  const checks::Finding* f = finding_for(c, circuit, path);
  const bool says_something = f && f->verdict != checks::Verdict::not_applicable;
  if (value.text.empty() && !says_something && expected.empty()) return out;
  constexpr std::size_t kUsual = 6;  // of them say something, as a rule
  out.members.reserve(kUsual);
  const auto put = [&](const char* name, std::string_view text, std::string_view unit = {}) {
    if (text.empty()) return;
    auto& [first, view] = out.members.emplace_back();  // filled where it stands: there are many
    first = name;
    view.kind = View::Kind::text;
    view.text = text;
    view.unit = unit;
    view.span = value.span;
  };
  put("text", value.text, value.unit);
  put("unit", value.unit);
  put("note", value.note);
  if (f) {
    put("limit", f->limit);
    put("verdict", checks::name(f->verdict));
    if (f->used_permille) put("used_permille", std::to_string(*f->used_permille));
    const auto put_wanted = [&](const char* name, const std::string& text) {
      if (c.wanted.inner_step(name)) put(name, text);  // a reading as it is printed shows none of these
    };
    put_wanted("derivation", f->derivation);
    put_wanted("source", f->source);
    put_wanted("subject", f->subject);
    put_wanted("difference", f->difference);
    put_wanted("exact", f->exact);
  }
  put("other_limits", other_limits(c, circuit, path, f));
  put("expected", expected);
  return out;
}

std::vector<Shape> cell_members() {
  struct Item {
    const char* name;
    const char* help;
  };
  static constexpr std::array<Item, kCellMembers> items{{
      {"text", "the reading as it was written; yes or no for what is only confirmed"},
      {"unit", "unit of the reading"},
      {"note", "the reason, where the reading is LIM or N/A"},
      {"limit", "the limit as printed, with its unit"},
      {"verdict", "pass, borderline, doubtful, missing, fail, note, not applicable"},
      {"used_permille", "share of the limit that the reading uses, in thousandths"},
      {"derivation", "how the limit was worked out"},
      {"source", "where the limit comes from"},
      {"subject", "what was judged, in words"},
      {"difference", "how far the reading is from its limit"},
      {"exact", "the limit before it was rounded, without unit"},
      {"other_limits", "further limits of the same reading"},
      {"expected", "the value to expect, worked out beforehand"},
  }};
  std::vector<Shape> out;
  for (const Item& i : items) {
    const bool own = std::string_view(i.name) == "note";
    out.push_back(leaf_shape(i.name, own ? Type::own : Type::text, i.help));
  }
  return out;
}

std::vector<Shape> split_members(std::span<const std::string_view> names, std::string_view help) {
  std::vector<Shape> out = cell_members();
  for (const std::string_view name : names) {
    out.push_back(leaf_shape(name, Type::group, help));
    out.back().members = table_of<cell_members>;
  }
  return out;
}

}  // namespace ohmleaf::layout::model
