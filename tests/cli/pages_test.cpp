#include <doctest/doctest.h>

#include <map>

#include "app/rebuild.h"
#include "base/text.h"
#include "cli/world.h"
#include "places.h"

// Pages by whole commands: input that is wrong gives a clear error and writes nothing; what comes
// out of the PDF is what went in, for two unrelated readers.

using ohmleaf::test::replace_once;
using ohmleaf::test::World;
namespace fs = std::filesystem;

namespace {

const fs::path kData = test_data();

struct Bad {
  const char* slip;
  const char* image;  ///< copied beside installer.toml as logo.png; null: none
  const char* says;
};

void copy_form(const World& w, const char* name) {
  fs::create_directories(w.root / "forms");
  fs::copy_file(fs::path(source_root()) / "forms" / name, w.root / "forms" / name,
                fs::copy_options::overwrite_existing);
}

/// The characters of a text without spaces, counted.
std::map<char32_t, int> characters(const std::string& text) {
  std::map<char32_t, int> out;
  for (const char32_t c : ohmleaf::decode_utf8(ohmleaf::to_nfc(text)))
    if (c > 0x20 && c != 0xA0) ++out[c];
  return out;
}

std::string by_mupdf(const fs::path& pdf) {
  return ohmleaf::test::tool("mutool draw -q -F text '" + pdf.string() + "' 2>/dev/null");
}

}  // namespace

TEST_CASE("a logo that is missing, damaged or too large is an error at its place") {
  const std::vector<Bad> all{
      {"missing", nullptr, "logo.png"},
      {"cut short", "images/truncated.png", "logo.png"},
      {"a wrong checksum", "images/bad-crc.png", "logo.png"},
      {"ten thousand pixels wide", "images/huge.png", "logo.png"},
      {"no image", "images/../hostile/bad.png", "logo.png"},
  };
  for (const Bad& bad : all) {
    CAPTURE(bad.slip);
    World w;
    REQUIRE(replace_once(w.root / "installer.toml", "[look]\n", "[look]\nlogo = \"logo.png\"\n"));
    if (bad.image) fs::copy_file(kData / bad.image, w.root / "logo.png");
    const auto before = w.files();
    for (const char* command : {"draft", "issue"}) {
      CHECK(w.run({command, w.job("sewing-workshop").string()}) == 2);
      CHECK_MESSAGE(w.err.find((w.root / "installer.toml").string() + ":") != std::string::npos,
                    w.err);
      CHECK(w.err.find(bad.says) != std::string::npos);
      CHECK(w.out.empty());
    }
    CHECK(w.files() == before);
  }
}

TEST_CASE("a character that no font has is shown, and nothing is written") {
  World fresh;
  const std::string text = ohmleaf::test::slurp(fresh.job("sewing-workshop"));
  const auto at = text.find("premises");
  const auto end = text.find('\n', at);
  ohmleaf::test::spit(fresh.job("sewing-workshop"),
                      text.substr(0, at) + "premises = \"4 Alder Rise 漢\"" + text.substr(end));
  const auto before = fresh.files();
  for (const char* command : {"draft", "issue"}) {
    CHECK(fresh.run({command, fresh.job("sewing-workshop").string()}) == 2);
    CHECK_MESSAGE(
        fresh.err.find("the fonts have no character \"漢\" (U+6F22)") != std::string::npos,
        fresh.err);
  }
  CHECK(fresh.files() == before);
}

TEST_CASE("a form that goes round in circles, and a theme that cannot be read, are refused") {
  World w;
  copy_form(w, "minor-works.toml");
  const fs::path form = w.root / "forms" / "minor-works.toml";
  const std::string sound = ohmleaf::test::slurp(form);
  ohmleaf::test::spit(form, sound +
                                "\n[[block]]\ntype = \"group\"\nrepeat = \"circuits\"\n"
                                "[[block.block]]\ntype = \"group\"\nrepeat = \"circuits\"\n"
                                "[[block.block.block]]\ntype = \"group\"\nrepeat = \"circuits\"\n");
  auto before = w.files();
  CHECK(w.run({"draft", w.job("sewing-workshop").string()}) == 2);
  CHECK(w.err.find("this is a repeat inside a repeat inside a repeat") != std::string::npos);
  CHECK(w.files() == before);

  ohmleaf::test::spit(form, sound + "\n[theme]\nink = \"#C0C0C0\"\n");
  before = w.files();
  CHECK(w.run({"draft", w.job("sewing-workshop").string()}) == 2);
  CHECK(w.err.find("ink has a contrast of 1.8") != std::string::npos);
  CHECK(w.err.find("4.50:1 is needed") != std::string::npos);
  CHECK(w.files() == before);
}

TEST_CASE("the text that comes out is the text that went in, in poppler and mupdf alike") {
  const std::vector<std::string> words{
      "Ŵyn",     "Siôn",   "Llŷr", "ŵyl",   "tŷ",   "ẁ",       "ẃ",       "ẅ",
      "Gŵyr",    "Łukasz", "Żółć", "Gęślą", "jaźń", "ŚWIĘTOŃ", "Pádraig", "Súilleabháin",
      "Ógánach", "ḃ",      "Ω",    "IΔn",   "≤",    "≥",       "½",       "mm²",
      "√"};
  World w;
  std::string premises;
  for (const std::string& word : words) premises += (premises.empty() ? "" : " ") + word;
  const std::string text = ohmleaf::test::slurp(w.job("sewing-workshop"));
  const auto at = text.find("premises");
  ohmleaf::test::spit(w.job("sewing-workshop"), text.substr(0, at) + "premises = \"" + premises +
                                                    "\"" + text.substr(text.find('\n', at)));
  for (const char* language : {"english", "cymraeg"}) {
    CAPTURE(language);
    const fs::path pdf = w.root / "page.pdf";
    REQUIRE_MESSAGE(w.run({"draft", w.job("sewing-workshop").string(), "--language", language, "-o",
                           pdf.string()}) == 0,
                    w.err);
    const std::string poppler = w.pdf_text(pdf), mupdf = by_mupdf(pdf);
    for (const std::string& word : words) {
      CAPTURE(word);
      CHECK(poppler.find(word) != std::string::npos);
      CHECK(mupdf.find(word) != std::string::npos);
    }
    CHECK(characters(poppler) == characters(mupdf));
  }
}

TEST_CASE("the language is the command's, else the job's, else the installer's") {
  World w;
  const auto printed = [&](const std::vector<std::string>& extra) {
    std::vector<std::string> args{"draft", w.job("sewing-workshop").string(), "-o",
                                  w.path("page.pdf")};
    args.insert(args.end(), extra.begin(), extra.end());
    REQUIRE_MESSAGE(w.run(args) == 0, w.err);
    return w.pdf_text(w.root / "page.pdf");
  };
  const auto welsh = [](const std::string& text) {
    return text.find("Tystysgrif mân waith") != std::string::npos &&
           text.find("tudalen 1 o ") != std::string::npos;
  };
  CHECK(!welsh(printed({})));
  CHECK(welsh(printed({"--language", "cymraeg"})));
  REQUIRE(replace_once(w.root / "installer.toml", "[look]\n", "[look]\nlanguage = \"cymraeg\"\n"));
  CHECK(welsh(printed({})));
  CHECK(!welsh(printed({"--language", "english"})));
  const std::string job = ohmleaf::test::slurp(w.job("sewing-workshop"));
  ohmleaf::test::spit(w.job("sewing-workshop"), "language = \"english\"\n" + job);
  CHECK(!welsh(printed({})));
  const std::string info = ohmleaf::test::tool("qpdf --json '" + w.path("page.pdf") + "'");
  CHECK(info.find("\"/Lang\": \"u:en-GB\"") != std::string::npos);
  printed({"--language", "cymraeg"});
  const std::string cymraeg = ohmleaf::test::tool("qpdf --json '" + w.path("page.pdf") + "'");
  CHECK(cymraeg.find("\"/Lang\": \"u:cy\"") != std::string::npos);

  const auto before = w.files();
  CHECK(w.run({"draft", w.job("sewing-workshop").string(), "--language", "cymreag"}) == 2);
  CHECK(w.err.find("there are no words for the language \"cymreag\"") != std::string::npos);
  CHECK(w.err.find("Did you mean \"cymraeg\"?") != std::string::npos);
  CHECK(w.files() == before);
}

TEST_CASE("a certificate in Welsh is made again from its own data") {
  World w;
  REQUIRE_MESSAGE(w.run({"issue", w.job("sewing-workshop").string(), "--language", "cymraeg",
                         "--copy", w.path("copy.pdf")}) == 0,
                  w.err);
  CHECK(w.pdf_text(w.root / "copy.pdf").find("Tystysgrif mân waith") != std::string::npos);
  CHECK(fs::file_size(w.root / "copy.pdf") < 200'000);
  ohmleaf::Sources sources;
  ohmleaf::Diagnostics out;
  fs::remove(w.root / "installer.toml");
  const auto again =
      ohmleaf::app::rebuild(ohmleaf::test::slurp(w.root / "copy.pdf"), w.root, sources, out);
  REQUIRE(again);
  CHECK(again->same_bytes);
}
