#include "layout/support.h"

#include <fstream>
#include <iterator>

#include "base/text.h"
#include "places.h"

namespace ohmleaf::layout::test {

record::Text text(std::string words) {
  record::Text out;
  out.value = std::move(words);
  return out;
}

std::string read_form(std::string_view name) {
  std::ifstream in(std::string(source_root()) + "/forms/" + std::string(name) + ".toml");
  REQUIRE(in);
  return {std::istreambuf_iterator<char>(in), {}};
}

Form form_from(std::string source, std::string_view name) {
  Sources sources;
  Diagnostics found;
  const SourceId id = sources.add(std::string(name), std::move(source));
  auto form = load_form(sources, id, found);
  for (const std::string& line : described(sources, found)) FAIL_CHECK(line);
  REQUIRE(form);
  return *form;
}

Document lay_out_or_fail(const Form& form, const record::View& view) {
  Diagnostics found;
  auto document = lay_out(form, view, FixedMetrics(), {}, found);
  for (const Diagnostic& d : found.all()) FAIL_CHECK(d.message);
  REQUIRE(document);
  return *document;
}

std::vector<std::string> described(const Sources& sources, const Diagnostics& found) {
  std::vector<std::string> out;
  for (const Diagnostic& d : found.all()) {
    std::string line;
    if (d.span.valid()) {
      const SourceText& source = sources.get(d.span.source);
      const LineColumn at = source.line_column(d.span.begin);
      line = source.name() + ":" + std::to_string(at.line) + ":" + std::to_string(at.column) + " ";
    }
    line += d.id + " " + d.message;
    for (const std::string& hint : d.hints) line += " | " + hint;
    out.push_back(line);
  }
  return out;
}

std::vector<std::string> texts_of(const Page& page) {
  std::vector<std::string> out;
  for (const Frame& f : page.frames)
    if (const auto* t = std::get_if<TextFrame>(&f)) out.push_back(t->text);
  return out;
}

bool page_says(const Page& page, std::string_view words) {
  for (const std::string& t : texts_of(page))
    if (t.find(words) != std::string::npos) return true;
  return false;
}

}  // namespace ohmleaf::layout::test
