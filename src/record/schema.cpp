#include "record/schema.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"

namespace ohmleaf::record {
namespace {

// What a text may be, as regular expressions that ECMA-262 and most others read alike.
#define OHMLEAF_REASON "([Ll][Ii][Mm]|[Nn]/[Aa])[: ]\\s*\\S.*"
constexpr std::string_view kReading = "^\\s*([<>]?\\s*[0-9]+(\\.[0-9]+)?|" OHMLEAF_REASON ")\\s*$";
constexpr std::string_view kFaultCurrent =
    "^\\s*([<>]?\\s*[0-9]+(\\.[0-9]+)?\\s*[Kk]?[Aa]|" OHMLEAF_REASON ")\\s*$";
constexpr std::string_view kAnswer = "^\\s*" OHMLEAF_REASON "$";
#undef OHMLEAF_REASON
constexpr std::string_view kSize = "^\\s*[Nn]/[Aa][: ]\\s*\\S.*$";
constexpr std::string_view kDate = "^[0-9]{4}-[0-9]{2}-[0-9]{2}$";
constexpr std::string_view kDateTime =
    "^[0-9]{4}-[0-9]{2}-[0-9]{2}[Tt ][0-9]{2}:[0-9]{2}(:[0-9]{2})?$";
constexpr std::string_view kKey = "^[A-Za-z0-9._-]{1,64}$";

Json list(std::initializer_list<std::string_view> words) {
  Json out = Json::array();
  for (const std::string_view w : words) out.push(w);
  return out;
}

template <class Words>
Json list_of(const Words& words) {
  Json out = Json::array();
  for (const auto& w : words) out.push(w);
  return out;
}

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 32);
  return text;
}

/// How the value is written, where that is not plain from its type.
std::string how(const Shape& s) {
  switch (s.written) {
    case Written::reading:
      return "A reading as the instrument shows it: 0.42, \">999\", \"<0.05\", \"LIM: why\" or "
             "\"N/A: why\".";
    case Written::fault_current:
      return "With its unit: \"1.1 kA\", \"1100 A\", or \"LIM: why\", \"N/A: why\".";
    case Written::size:
      return "A number, or \"N/A: why\".";
    case Written::device:
      return "As on its label, such as \"RCBO B32, 30 mA type A, 6 kA\", or a table with the same "
             "facts.";
    case Written::answer:
      return "true, false, \"N/A: why\" or \"LIM: why\".";
    case Written::date:
      return "A date: 2026-11-20.";
    case Written::date_time:
      return "Date and time on the wall: 2026-11-20T09:12:00.";
    default:
      return s.allowed.form.empty() ? std::string() : capital(std::string(s.allowed.form)) + ".";
  }
}

void set_number(Json& j, const Shape& s) {
  if (!s.allowed.numbers.empty()) {
    j.set("enum", list_of(s.allowed.numbers));
    return;
  }
  if (s.allowed.zero)
    j.set("minimum", s.allowed.least);
  else
    j.set("exclusiveMinimum", s.allowed.least);
  if (s.allowed.most > 0) j.set("maximum", s.allowed.most);
}

/// A text of the file: a word of a few, or of a certain form.
void set_text(Json& j, const Shape& s) {
  if (!s.words.empty())
    j.set("enum", list_of(s.words));
  else if (!s.allowed.pattern.empty())
    j.set("pattern", s.allowed.pattern);
  else if (s.required)
    j.set("pattern", "\\S");
  if (s.words.empty()) j.set("maxLength", 4000);
}

void set_texts(Json& j, const Shape& s) {
  Json one = Json::object();
  one.set("type", "string");
  set_text(one, s);
  Json many = Json::object();
  many.set("type", "array").set("items", one);
  j.set("anyOf", Json(Json::Array{std::move(many), std::move(one)}));
}

/// A reading may be divided: a table with one for each line.
void set_type(Json& j, const Shape& s, std::initializer_list<std::string_view> types) {
  Json all = list(types);
  if (!s.members.empty()) {
    all.push("object");
    set_members(j, s.members.all());
  }
  j.set("type", all.as_array()->size() == 1 ? all.as_array()->front() : all);
}

void set_table(Json& j, const Shape& s) {
  if (s.written == Written::tables) {
    Json one = Json::object();
    one.set("type", "object");
    set_members(one, s.members.all());
    j.set("type", "array").set("items", std::move(one));
    return;
  }
  j.set("type", "object");
  if (s.written == Written::table) set_members(j, s.members.all());
  if (s.written == Written::keyed) {
    Json one = Json::object();
    one.set("type", "object").set("description", sentences_of(s));
    std::vector<Shape> members = s.members.all();
    std::erase_if(members, [](const Shape& m) { return m.name == "id"; });  // the key itself
    set_members(one, members);
    j.set("additionalProperties", std::move(one));
  }
  if (s.written == Written::own)
    j.set("additionalProperties",
          Json::object().set("type", list({"string", "number", "boolean"})));
  if (s.written == Written::keyed || s.written == Written::own)
    j.set("propertyNames", Json::object().set("pattern", kKey));
}

void set_value(Json& j, const Shape& s) {
  switch (s.written) {
    case Written::unwritten:
      break;
    case Written::table:
    case Written::tables:
    case Written::keyed:
    case Written::any_table:
    case Written::own:
      return set_table(j, s);
    case Written::text:
      j.set("type", "string");
      return set_text(j, s);
    case Written::texts:
      return set_texts(j, s);
    case Written::flag:
      j.set("type", "boolean");
      return;
    case Written::date:
      j.set("type", "string").set("pattern", kDate);
      return;
    case Written::date_time:
      j.set("type", "string").set("pattern", kDateTime);
      return;
    case Written::whole:
      j.set("type", "integer");
      return set_number(j, s);
    case Written::number:
      j.set("type", "number");
      return set_number(j, s);
    case Written::reading:
      set_type(j, s, {"number", "string"});
      j.set("pattern", kReading);
      return set_number(j, s);
    case Written::fault_current:
      set_type(j, s, {"string"});
      j.set("pattern", kFaultCurrent);
      return;
    case Written::size:
      j.set("type", list({"number", "string"})).set("pattern", kSize);
      return set_number(j, s);
    case Written::device:
      set_type(j, s, {"string"});
      j.set("pattern", "\\S");
      return;
    case Written::answer:
      j.set("type", list({"boolean", "string"})).set("pattern", kAnswer);
      return;
  }
}

}  // namespace

std::string sentences_of(const Shape& s) {
  std::string out = capital(s.help);
  if (!s.unit.empty() && s.written != Written::fault_current) out += ", in " + s.unit;
  out += ".";
  if (const std::string more = how(s); !more.empty()) out += " " + more;
  return out;
}

void set_members(Json& j, const std::vector<Shape>& members) {
  Json properties = Json::object(), required = Json::array();
  for (const Shape& m : members) {
    properties.set(m.name, schema_of(m));
    if (m.required) required.push(m.name);
  }
  j.set("properties", std::move(properties));
  if (!required.as_array()->empty()) j.set("required", std::move(required));
  j.set("additionalProperties", false);
}

Json schema_of(const Shape& s) {
  Json j = Json::object();
  j.set("description", sentences_of(s));
  set_value(j, s);
  return j;
}

Json json_schema(const Shape& root, std::string_view title) {
  Json j = Json::object();
  j.set("$schema", "http://json-schema.org/draft-07/schema#").set("title", title);
  j.set("type", "object");
  set_members(j, root.members.all());
  return j;
}

}  // namespace ohmleaf::record
