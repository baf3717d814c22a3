#include <string>

#include "layout/form_keys.h"
#include "layout/model.h"
#include "layout/theme.h"

// The schemas for editors of forms and themes, made from the tables that their readers use.

namespace ohmleaf::layout {
namespace {

using record::Shape;
using record::View;

Json object() {
  return Json::object();
}

Json typed(std::string_view type) {
  return object().set("type", type);
}

Json one_of(Json::Array schemas) {
  return object().set("anyOf", Json(std::move(schemas)));
}

Json ref(std::string_view name) {
  return object().set("$ref", "#/definitions/" + std::string(name));
}

Json words(std::span<const std::string_view> all) {
  Json list = Json::array();
  for (const std::string_view w : all) list.push(w);
  return object().set("enum", std::move(list));
}

std::string sentence(std::string_view help) {
  std::string out(help);
  if (!out.empty() && out[0] >= 'a' && out[0] <= 'z') out[0] = static_cast<char>(out[0] - 32);
  return out + ".";
}

/// Every path that starts at the record itself. What stands in a list is reached by a repeat.
void collect(const Shape& shape, const std::string& prefix, Json& out) {
  for (const Shape& m : shape.members) {
    if (m.name == "*") continue;
    const std::string path = prefix.empty() ? m.name : prefix + "." + m.name;
    out.push(path);
    if (m.kind == View::Kind::group) collect(m, path, out);
  }
}

/// A path is one of the record's, or starts at the item of a repeat, or names a field of the
/// installer's own.
Json path_schema() {
  Json known = Json::array();
  collect(document_shape(), "", known);
  return one_of({object().set("enum", std::move(known)),
                 typed("string").set("pattern", "^\\.+([^.]+(\\.[^.]+)*)?$"),
                 typed("string").set("pattern", "^job\\.extra\\.[A-Za-z0-9._-]{1,64}$")});
}

/// The keys of [theme], in a form or in a file of its own.
Json theme_keys_schema() {
  Json properties = object();
  properties.set("grid", typed("number")
                             .set("description", "Step of all heights, in points.")
                             .set("minimum", Json::number("0.5"))
                             .set("maximum", 6));
  for (const ThemeKey& key : theme_keys()) {
    Json value = object();
    value.set("description", sentence(key.help));
    if (key.color)
      value.set("type", "string").set("pattern", "^#[0-9a-fA-F]{6}$");
    else
      value.set("type", "array")
          .set("items", typed("number").set("exclusiveMinimum", 0).set("maximum", 60))
          .set("minItems", 2)
          .set("maxItems", 2);
    properties.set(std::string(key.name), std::move(value));
  }
  Json j = typed("object");
  j.set("properties", std::move(properties)).set("additionalProperties", false);
  return j;
}

Json table(FormPart part);

Json value_schema(const FormKey& key) {
  switch (key.value) {
    case FormValue::format:
      return object().set("enum", Json(Json::Array{1}));
    case FormValue::text:
      return typed("string");
    case FormValue::runs:
      return ref("runs");
    case FormValue::path:
      return ref("path");
    case FormValue::flag:
      return typed("boolean");
    case FormValue::whole:
      return typed("integer").set("minimum", key.least).set("maximum", key.most);
    case FormValue::length:
      return typed("number").set("minimum", 0).set("maximum", key.most);
    case FormValue::choice:
      return words(key.words);
    case FormValue::map:
      return typed("object").set("additionalProperties", typed("string"));
    case FormValue::margins:
      return typed("array")
          .set("items", typed("number").set("minimum", 4).set("maximum", 60))
          .set("minItems", 4)
          .set("maxItems", 4);
    case FormValue::fields:
      return typed("array").set("items", ref("field"));
    case FormValue::columns:
      return typed("array").set("items", ref("column")).set("minItems", 1);
    case FormValue::blocks:
      return typed("array").set("items", ref("block"));
    case FormValue::page:
      return table(FormPart::page);
    case FormValue::theme:
      return theme_keys_schema();
    case FormValue::engine_words:
      break;
  }
  Json properties = object();
  for (const EngineWord& w : engine_words())
    properties.set(std::string(w.key),
                   typed("string").set("description", "In English: " + std::string(w.english)));
  return typed("object")
      .set("properties", std::move(properties))
      .set("additionalProperties", false);
}

void set_keys(Json& j, FormPart part) {
  Json properties = object(), required = Json::array();
  for (const FormKey& key : form_keys(part)) {
    Json value = object();
    value.set("description", sentence(key.help));
    // Beside a $ref nothing else is read in draft 7: the reference stands one level deeper.
    Json schema = value_schema(key);
    if (schema.find("$ref") != nullptr)
      value.set("allOf", Json(Json::Array{std::move(schema)}));
    else
      for (const auto& m : *schema.as_object()) value.set(m.first, m.second);
    properties.set(std::string(key.name), std::move(value));
    if (key.required) required.push(key.name);
  }
  j.set("type", "object").set("properties", std::move(properties));
  if (!required.as_array()->empty()) j.set("required", std::move(required));
  j.set("additionalProperties", false);
}

Json table(FormPart part) {
  Json j = object();
  set_keys(j, part);
  return j;
}

Json block_schema() {
  Json::Array kinds;
  for (const auto& [word, kind] : kBlockWords) {
    Json one = table(part_of(kind));
    Json properties = *one.find("properties");
    const std::string_view name[]{word};
    properties.set("type", words(name).set("description", "What the block is."));
    one.set("properties", std::move(properties));
    kinds.push_back(std::move(one));
  }
  return one_of(std::move(kinds));
}

Json head(std::string_view title) {
  return object().set("$schema", "http://json-schema.org/draft-07/schema#").set("title", title);
}

}  // namespace

Json form_schema() {
  Json piece = table(FormPart::run);
  piece.set("anyOf", Json(Json::Array{object().set("required", Json(Json::Array{"text"})),
                                      object().set("required", Json(Json::Array{"path"}))}));
  Json definitions = object();
  definitions.set("path", path_schema());
  definitions.set("run", one_of({typed("string"), std::move(piece)}));
  definitions.set("runs", one_of({ref("run"), typed("array").set("items", ref("run"))}));
  definitions.set("field", table(FormPart::field));
  definitions.set("column", table(FormPart::column));
  definitions.set("block", block_schema());
  Json j = head("ohmleaf: a form");
  set_keys(j, FormPart::form);
  j.set("definitions", std::move(definitions));
  return j;
}

Json theme_schema() {
  Json properties = object();
  properties.set(
      "format",
      object().set("description", "Format of the file: 1.").set("enum", Json(Json::Array{1})));
  properties.set("name", typed("string").set("description", "Name of the theme."));
  Json theme = object();
  theme.set("description", "Colours, and sizes of type.");
  const Json keys = theme_keys_schema();
  for (const auto& m : *keys.as_object()) theme.set(m.first, m.second);
  properties.set("theme", std::move(theme));
  Json j = head("ohmleaf: a theme");
  j.set("type", "object").set("properties", std::move(properties));
  j.set("required", Json(Json::Array{"format", "theme"}));
  return j.set("additionalProperties", false);
}

}  // namespace ohmleaf::layout
