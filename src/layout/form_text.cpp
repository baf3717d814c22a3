#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"
#include "layout/form_reader.h"
#include "layout/word_rules.h"
#include "quantity/decimal.h"

namespace ohmleaf::layout {
void FormReader::wrong(std::string id, const TomlNode& node, std::string message,
                       std::string hint) {
  std::vector<std::string> hints;
  if (!hint.empty()) hints.push_back(std::move(hint));
  const Span span = node.span.valid() ? node.span : node.key_span;
  out_.error(std::move(id), span, std::move(message), std::move(hints));
}

std::string FormReader::line_of(Span span) const {
  if (!span.valid()) return {};
  return std::to_string(sources_.get(span.source).line_column(span.begin).line);
}

void FormReader::only(const TomlNode& node, std::string_view what, FormPart part) {
  const auto known = form_keys(part);
  for (const TomlNode& child : node.children) {
    if (std::any_of(known.begin(), known.end(), [&](const FormKey& k) { return k.name == child.key; }))
      continue;
    std::vector<std::string_view> keys;
    for (const FormKey& key : known) keys.push_back(key.name);
    const auto near = nearest(child.key, keys);
    std::vector<std::string> hints;
    if (near) hints.push_back("Did you mean \"" + *near + "\"?");
    out_.error("form-unknown-key", child.key_span,
               fmt::format("{} has no key \"{}\"", what, visible(child.key)), std::move(hints));
  }
}

bool FormReader::flag(const TomlNode& node, std::string_view key, bool otherwise) {
  const TomlNode* n = node.find(key);
  if (!n) return otherwise;
  if (n->kind == TomlKind::boolean) return n->text == "true";
  wrong("form-type", *n, fmt::format("\"{}\" is true or false", key));
  return otherwise;
}

int FormReader::whole(const TomlNode& node, std::string_view key, int least, int most,
                      int otherwise) {
  const TomlNode* n = node.find(key);
  if (!n) return otherwise;
  int value = 0;
  bool digits = n->kind == TomlKind::integer && !n->text.empty() && n->text.size() <= 4;
  for (const char c : n->text) {
    if (c < '0' || c > '9') digits = false;
    if (digits) value = value * 10 + (c - '0');
  }
  if (digits && value >= least && value <= most) return value;
  wrong("form-number", *n, fmt::format("\"{}\" is a whole number from {} to {}", key, least, most));
  return otherwise;
}

Pt FormReader::millimetres(const TomlNode& node, int most) {
  const auto value = node.is_number() ? Decimal::parse(node.text) : std::nullopt;
  if (!value || value->is_negative() || *value > Decimal::integer(most)) {
    wrong("form-length", node, fmt::format("a length is a number of millimetres up to {}", most));
    return {};
  }
  // 1 mm = 72 / 25.4 pt
  const Decimal milli =
      Decimal::divide(*value * Decimal::integer(72'000), Decimal(254, 1), 0, Round::half_up);
  return {static_cast<std::int32_t>(milli.mantissa())};
}

Pt FormReader::millimetres(const TomlNode& table, std::string_view key, int most) {
  const TomlNode* n = table.find(key);
  return n ? millimetres(*n, most) : Pt{};
}

std::string FormReader::text(const TomlNode& node) {
  if (node.kind == TomlKind::string) return to_nfc(node.text);
  wrong("form-type", node, "this is text, in quotation marks");
  return {};
}

WordMap FormReader::words(const TomlNode& node) {
  WordMap out;
  if (!node.is_table()) {
    wrong("form-words", node, "words are a table: the value, and what is printed for it",
          "Write words = { true = \"yes\", false = \"no\" }.");
    return out;
  }
  for (const TomlNode& child : node.children) out[child.key] = text(child);
  if (const auto fault = fault_in_map(out))
    wrong("form-words-" + fault->id, *node.find(fault->key), fault->what, fault->hint);
  return out;
}

void FormReader::run_key(const TomlNode& c, Run& run) {
  if (c.key == "text") run.text = text(c);
  if (c.key == "path") run.binding = bind(c, Want::printable);
  if (c.key == "format") run.format = choice(c, kFormatWords, Format::plain);
  if (c.key == "tone") run.tone = choice(c, kToneWords, Tone::normal);
  if (c.key == "empty") run.empty = text(c);
  if (c.key == "join") run.join = text(c);
  if (c.key == "before") run.before = text(c);
  if (c.key == "after") run.after = text(c);
  if (c.key == "words") run.words = words(c);
}

Run FormReader::run(const TomlNode& node) {
  Run out;
  if (node.kind == TomlKind::string) {
    out.text = to_nfc(node.text);
    return out;
  }
  if (!node.is_table()) {
    wrong("form-run", node, "a text is made of strings and of { path = … }");
    return out;
  }
  only(node, "a piece of text", FormPart::run);
  for (const TomlNode& c : node.children) run_key(c, out);
  if (!node.find("text") && !node.find("path"))
    wrong("form-run", node, "a piece of text needs \"text\" or \"path\"");
  return out;
}

Runs FormReader::runs(const TomlNode& node) {
  Runs out;
  if (!node.is_array()) {
    out.push_back(run(node));
    return out;
  }
  for (const TomlNode& child : node.children) out.push_back(run(child));
  return out;
}

void FormReader::shown(const TomlNode& node, Runs& value, Show& show,
                       std::optional<Binding>& source, WordMap& map) {
  if (const TomlNode* n = node.find("show")) show = choice(*n, kShowWords, Show::text);
  const TomlNode* path = node.find("path");
  const TomlNode* whole_value = node.find("value");
  if (path && whole_value)
    wrong("form-value", *whole_value, "\"path\" and \"value\" both say what is shown",
          "Keep one of them.");
  if (const TomlNode* w = node.find("words")) map = words(*w);
  if (show == Show::box || show == Show::tick) return;
  if (show == Show::text) {
    if (whole_value) value = runs(*whole_value);
    if (!path) {
      if (!whole_value) wrong("form-value", node, "\"path\" or \"value\" is needed");
      return;
    }
    Run run;
    for (const TomlNode& c : node.children)
      if (c.key != "text") run_key(c, run);
    value.push_back(std::move(run));
    return;
  }
  if (!path) {
    wrong("form-value", node, "\"path\" is needed");
    return;
  }
  source = bind(*path, show == Show::reading ? Want::cell : Want::verdict);
}

FieldSpec FormReader::field(const TomlNode& node) {
  FieldSpec out;
  if (!node.is_table()) {
    wrong("form-field", node, "a field is a table: { label = …, path = … }");
    return out;
  }
  only(node, "a field", FormPart::field);
  if (const TomlNode* n = node.find("label")) out.label = runs(*n);
  if (const TomlNode* n = node.find("when")) out.when = bind(*n, Want::condition);
  shown(node, out.value, out.show, out.source, out.words);
  out.span = whole(node, "span", 1, 6, 1);
  out.height = millimetres(node, "height", 100);
  out.hide_empty = flag(node, "hide_empty", false);
  return out;
}

ColumnSpec FormReader::column(const TomlNode& node) {
  ColumnSpec out;
  if (!node.is_table()) {
    wrong("form-column", node, "a column is a table: { heading = …, path = … }");
    return out;
  }
  only(node, "a column", FormPart::column);
  if (const TomlNode* n = node.find("heading"))
    out.heading = runs(*n);
  else
    wrong("form-column", node, "a column needs a heading");
  if (const TomlNode* n = node.find("group")) out.group = text(*n);
  shown(node, out.value, out.show, out.source, out.words);
  if (const TomlNode* n = node.find("align")) out.align = choice(*n, kAlignWords, Align::left);
  out.min = millimetres(node, "min", 250);
  out.max = millimetres(node, "max", 250);
  out.key = flag(node, "key", false);
  out.height = millimetres(node, "height", 100);
  out.rotate = flag(node, "rotate", false);
  out.hide_empty = flag(node, "hide_empty", false);
  return out;
}

}  // namespace ohmleaf::layout
