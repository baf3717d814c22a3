// Nothing in the file acts, calls or hides: every object is walked by two unrelated tools, and
// the walkers are shown to see what they look for.
#include <doctest/doctest.h>

#include <algorithm>
#include <iterator>

#include "support.h"

using namespace ohmleaf::pdf::test;
using nlohmann::json;

namespace {

constexpr std::string_view kHarmful[] = {
    "/AA",         "/OpenAction", "/JavaScript", "/JS",        "/Launch",     "/URI",
    "/SubmitForm", "/GoToR",      "/GoToE",      "/XFA",       "/Encrypt",    "/FFilter",
    "/RichMedia",  "/Movie",      "/Sound",      "/Rendition",
    "/LZWDecode",  "/Ref",        "/OPI",        "/PS",        "/Alternates", "/OCProperties"};

/// The field of a signature is the one form and annotation that a file may have; archival_test.cpp
/// says what it must be then.
bool is_harmful(std::string_view name) {
  if (name == "/AcroForm" || name == "/Annots") return !subject_is_signed();
  return std::find(std::begin(kHarmful), std::end(kHarmful), name) != std::end(kHarmful);
}

void collect(const json& value, std::vector<std::string>& names) {
  if (value.is_string() && value.get<std::string>().starts_with("/")) names.push_back(value);
  if (value.is_object()) {
    for (const auto& [key, part] : value.items()) names.push_back(key);
  }
  if (value.is_structured()) {
    for (const json& part : value) collect(part, names);
  }
}

/// The first harmful name that qpdf's view of the file holds.
std::string harm_seen_by_qpdf(std::string_view pdf) {
  std::vector<std::string> names;
  collect(json::parse(look("qpdf --json=2 {}", pdf)), names);
  for (const std::string& name : names) {
    if (is_harmful(name)) return name;
  }
  return {};
}

/// The same, in the objects as mutool prints them, one a line.
std::string harm_seen_by_mutool(std::string_view pdf) {
  const std::string text = look("mutool show {} grep", pdf) + look("mutool show {} trailer", pdf);
  std::vector<std::string_view> wanted(std::begin(kHarmful), std::end(kHarmful));
  for (const std::string_view form : {"/AcroForm", "/Annots"})
    if (is_harmful(form)) wanted.push_back(form);
  for (const std::string_view harmful : wanted) {
    for (std::size_t at = text.find(harmful); at != std::string::npos;
         at = text.find(harmful, at + 1)) {
      const char next = at + harmful.size() < text.size() ? text[at + harmful.size()] : ' ';
      const bool longer = (next >= 'a' && next <= 'z') || (next >= 'A' && next <= 'Z');
      if (!longer) return std::string(harmful);
    }
  }
  return {};
}

/// The file with one entry overwritten in place, so that no offset changes.
std::string planted(std::string_view entry, std::string harm) {
  std::string pdf = rendered_sample();
  const std::size_t at = pdf.find(entry);
  REQUIRE(at != std::string::npos);
  REQUIRE(harm.size() <= entry.size());
  harm.resize(entry.size(), ' ');
  return pdf.replace(at, entry.size(), harm);
}

}  // namespace

TEST_CASE("no object of the file acts, calls or hides") {
  CHECK(harm_seen_by_qpdf(subject()).empty());
  CHECK(harm_seen_by_mutool(subject()).empty());
}

TEST_CASE("both walkers see what is planted") {
  const std::string_view preferences = "/ViewerPreferences <<\n/DisplayDocTitle true\n>>";
  for (const auto& [harm, name] : {std::pair{"/AA <</O 1>>", "/AA"},
                                   {"/OpenAction <</S/JavaScript/JS(1)>>", "/OpenAction"},
                                   {"/X <</S /Launch>>", "/Launch"},
                                   {"/X <</S /URI /URI (a)>>", "/URI"},
                                   {"/AcroForm <<>>", "/AcroForm"}}) {
    CAPTURE(harm);
    const std::string pdf = planted(preferences, harm);
    CHECK_FALSE(harm_seen_by_qpdf(pdf).empty());
    CHECK(harm_seen_by_mutool(pdf).find(name) == 0);
  }
  CHECK(harm_seen_by_qpdf(planted("/Tabs /S", "/AA 1")) == "/AA");
  CHECK(harm_seen_by_mutool(planted("/Tabs /S", "/AA 1")) == "/AA");
}
