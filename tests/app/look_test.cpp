#include <doctest/doctest.h>

#include "cli/world.h"
#include "places.h"

// The installer's own design without touching C++: themes, forms of his own, fields of his own; and
// the documents that a job leads to by itself.

using namespace ohmleaf;
using namespace ohmleaf::test;

namespace {

const fs::path kForms = fs::path(source_root()) / "forms";

/// A theme changes how the pages look, never what they say.
bool same_text(World& w, const char* a, const char* b) {
  return w.pdf_text(w.path(a)) == w.pdf_text(w.path(b));
}

}  // namespace

TEST_CASE("a theme is chosen in the profile or by a flag, and travels with the certificate") {
  World w;
  REQUIRE(w.run({"draft", w.path("tt-cottage"), "-o", w.path("plain.pdf")}) == 0);
  REQUIRE(w.run({"draft", w.path("tt-cottage"), "--theme", "harbour", "-o", w.path("flag.pdf")}) == 0);
  CHECK(same_text(w, "plain.pdf", "flag.pdf"));
  CHECK(slurp(w.path("plain.pdf")) != slurp(w.path("flag.pdf")));

  CHECK(w.run({"draft", w.path("tt-cottage"), "--theme", "harbor", "-o", w.path("no.pdf")}) == 2);
  CHECK(w.err.find("there is no theme \"harbor\"") != std::string::npos);
  CHECK(w.err.find("clay, harbour, large, plain") != std::string::npos);
  CHECK_FALSE(fs::exists(w.path("no.pdf")));

  REQUIRE(replace_once(w.root / "installer.toml", "[look]\n", "[look]\ntheme = \"harbour\"\n"));
  REQUIRE(w.run({"issue", w.path("tt-cottage"), "--copy", w.path("issued.pdf")}) == 0);
  CHECK(slurp(w.root / "archive/hl-0001/v1/content/theme-harbour.toml") ==
        slurp(kForms / "theme-harbour.toml"));
}

TEST_CASE("a theme of the installer's own, beside his profile, is read and checked") {
  World w;
  std::string theme = slurp(kForms / "theme-clay.toml");
  spit(w.root / "dusk.toml", theme);
  REQUIRE(replace_once(w.root / "installer.toml", "[look]\n", "[look]\ntheme = \"dusk.toml\"\n"));
  CHECK(w.run({"draft", w.path("tt-cottage"), "-o", w.path("dusk.pdf")}) == 0);
  spit(w.root / "dusk.toml", "format = 1\n[theme]\nmuted = \"#C0C0C0\"\n");
  CHECK(w.run({"draft", w.path("tt-cottage"), "-o", w.path("pale.pdf")}) == 2);
  CHECK(w.err.find("dusk.toml:3:") != std::string::npos);
  CHECK(w.err.find("4.50:1 is needed") != std::string::npos);
}

TEST_CASE("a form copied, reordered, renamed, with a field of one's own, needs no C++") {
  World w;
  fs::create_directory(w.root / "forms");
  std::string form = slurp(kForms / "handover.toml");
  const auto first = form.find("[[block]]");
  REQUIRE(first != std::string::npos);
  // New words and fields of his own before everything else.
  form.insert(first,
              "[[block]]\ntype = \"heading\"\nlevel = 1\ntext = \"Left in good hands\"\n\n"
              "[[block]]\ntype = \"paragraph\"\ntext = [ \"Van \", { path = \"extra.van\" }, "
              "\", paint \", { path = \"extra.paint\", empty = \"not noted\" } ]\n\n");
  spit(w.root / "forms/goodbye.toml", form);
  spit(w.job("sewing-workshop"), slurp(w.job("sewing-workshop")) + "\n[extra]\nvan = 7\n");
  REQUIRE(w.run({"draft", w.path("sewing-workshop"), "--document", "goodbye", "-o",
                 w.path("own.pdf")}) == 0);
  const std::string text = w.pdf_text(w.path("own.pdf"));
  CHECK(text.find("Left in good hands") != std::string::npos);
  CHECK(text.find("Van 7, paint not noted") != std::string::npos);
  CHECK(text.find("Left in good hands") < text.find("Accessory"));
}

TEST_CASE("a condition report is issued although something fails, a danger's notice first") {
  World w;
  REQUIRE(w.run({"issue", w.path("old-house"), "--copy", w.path("r.pdf")}) == 0);
  const std::string text = w.pdf_text(w.path("r.pdf"));
  const auto notice = text.find("Danger: please read this now"),
             report = text.find("Condition report of an electrical installation"),
             client = text.find("What was found, in plain words");
  CHECK(notice < report);
  CHECK(report < client);
  CHECK(client != std::string::npos);
  CHECK(text.find("Unsatisfactory") != std::string::npos);
  CHECK(text.find("proposed") == std::string::npos);  // each was classed
}

TEST_CASE("the notice of a danger is printed even where no certificate can be issued") {
  World w;
  spit(w.job("tired-day"), slurp(w.job("tired-day")) +
                               "\n[[danger]]\nwhat = \"The cover is off the main switch.\"\n"
                               "made_safe = false\ntold = \"Jorun Applegarth\"\n");
  CHECK(w.run({"issue", w.path("tired-day")}) == 1);
  REQUIRE(w.run({"notice", w.path("tired-day"), "-o", w.path("n.pdf")}) == 0);
  const std::string text = w.pdf_text(w.path("n.pdf"));
  for (const char* words : {"The cover is off the main switch.", "Not made safe", "Jorun Applegarth"})
    CHECK_MESSAGE(text.find(words) != std::string::npos, words);
  CHECK(text.find("DRAFT") == std::string::npos);
}
