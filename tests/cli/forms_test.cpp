#include <doctest/doctest.h>

#include "base/json.h"
#include "cli/world.h"
#include "places.h"

using ohmleaf::Json;
using ohmleaf::test::World;
namespace fs = std::filesystem;

namespace {

Json parsed(const std::string& text) {
  std::string error;
  const auto json = ohmleaf::parse_json(text, error);
  REQUIRE_MESSAGE(json, error);
  return *json;
}

const Json* named(const Json& list, const char* key, const std::string& value) {
  REQUIRE(list.as_array() != nullptr);
  for (const Json& j : *list.as_array())
    if (j.text(key) == value) return &j;
  return nullptr;
}

/// forms/ of the installer with a copy of one of ours, changed.
fs::path own_form(const World& w, const std::string& name, const std::string& from,
                  const std::string& to) {
  fs::create_directories(w.root / "forms");
  const fs::path path = w.root / "forms" / (name + ".toml");
  fs::copy_file(fs::path(source_root()) / "forms" / (name + ".toml"), path,
                fs::copy_options::overwrite_existing);
  std::string text = ohmleaf::test::slurp(path);
  const auto at = text.find(from);
  REQUIRE(at != std::string::npos);
  ohmleaf::test::spit(path, text.replace(at, from.size(), to));
  return path;
}

}  // namespace

TEST_CASE("forms lists documents, themes and languages, the installer's own marked") {
  World w;
  own_form(w, "minor-works", "\"Minor works certificate\"", "\"Our own certificate\"");
  own_form(w, "client-page", "type ", "tipe ");
  CHECK(w.run({"forms", "--installer", w.path("installer.toml")}) == 0);
  CHECK(w.err.empty());
  CHECK(w.out.find("Documents\n") == 0);
  CHECK(w.out.find("minor-works         Our own certificate  (yours)\n") != std::string::npos);
  CHECK(w.out.find("client-page         does not load: ohmleaf forms --check ") !=
        std::string::npos);
  CHECK(w.out.find("schedule            Schedule of tests\n") != std::string::npos);
  CHECK(w.out.find("Themes\n") != std::string::npos);
  CHECK(w.out.find("  clay") != std::string::npos);
  CHECK(w.out.find("Languages\n  english             English  (built in)\n  cymraeg             "
                   "Cymraeg (cy)\n") != std::string::npos);
}

TEST_CASE("forms --json says the same and where each file stands") {
  World w;
  own_form(w, "minor-works", "\"Minor works certificate\"", "\"Our own certificate\"");
  CHECK(w.run({"forms", "--json", "--installer", w.path("installer.toml")}) == 0);
  const Json j = parsed(w.out);
  const Json* form = named(*j.find("documents"), "name", "minor-works");
  REQUIRE(form != nullptr);
  CHECK(form->text("title") == "Our own certificate");
  CHECK(form->text("language") == "en-GB");
  CHECK(*form->find("own")->as_bool());
  CHECK(form->text("file") == (w.root / "forms" / "minor-works.toml").string());
  const Json* welsh = named(*j.find("languages"), "name", "cymraeg");
  REQUIRE(welsh != nullptr);
  CHECK(welsh->text("language") == "cy");
  CHECK(!*welsh->find("own")->as_bool());
  CHECK(j.find("paths") == nullptr);
}

TEST_CASE("forms --paths gives every path with its meaning and its unit") {
  World w;
  CHECK(w.run({"forms", "--paths", "--json"}) == 0);
  const Json all = parsed(w.out);
  const Json& paths = *all.find("paths");
  CHECK(paths.as_array()->size() > 400);
  const Json* ze = named(paths, "path", "supply.ze");
  REQUIRE(ze != nullptr);
  CHECK(ze->text("type") == "reading");
  CHECK(ze->text("unit") == "Ω");
  CHECK(ze->text("help") == "external earth fault loop impedance");
  const Json* premises = named(paths, "path", "job.premises");
  REQUIRE(premises != nullptr);
  CHECK(*premises->find("own_words")->as_bool());
  bool zs = false, insulation = false;
  for (const Json& j : *paths.as_array()) {
    if (j.text("repeat") != "circuits") continue;
    zs = zs || (j.text("path") == ".zs" && j.text("unit") == "Ω");
    insulation = insulation || (j.text("path") == ".insulation_live" && j.text("unit") == "MΩ");
  }
  CHECK(zs);
  CHECK(insulation);

  CHECK(w.run({"forms", "--paths"}) == 0);
  CHECK(w.out.find("Of the record itself\n") != std::string::npos);
  CHECK(w.out.find("Inside repeat = \"circuits\"\n") != std::string::npos);
  CHECK(w.out.find("  .zs                           reading in Ω: earth fault loop impedance\n") !=
        std::string::npos);
}

TEST_CASE("every path that forms --paths lists can be bound") {
  World w;
  CHECK(w.run({"forms", "--paths", "--json"}) == 0);
  std::string text = "format = 1\ntitle = \"All\"\n";
  const Json listed = parsed(w.out);
  for (const Json& j : *listed.find("paths")->as_array()) {
    const std::string repeat = j.text("repeat");
    if (repeat.starts_with(".")) continue;  // two deep: their lists are bound below
    text += "[[block]]\ntype = \"group\"\n";
    if (!repeat.empty()) text += "repeat = \"" + repeat + "\"\n";
    std::string path = j.text("path");
    if (path.ends_with(".*")) path.replace(path.size() - 1, 1, "of-his-own");  // any name at all
    text += "[[block.block]]\ntype = \"rule\"\nwhen = \"" + path + "\"\n";
  }
  ohmleaf::test::spit(w.root / "all.toml", text);
  CHECK(w.run({"forms", "--check", w.path("all.toml")}) == 0);
  CHECK_MESSAGE(w.err.empty(), w.err.substr(0, 400));
}

TEST_CASE("forms --check says of a form, a theme and a language what loading would say") {
  World w;
  const fs::path form = own_form(w, "minor-works", "\"job.client\"", "\"job.clint\"");
  CHECK(w.run({"forms", "--check", form.string()}) == 2);
  CHECK(w.err.find(form.string() + ":") == 0);
  CHECK(w.err.find("the record has no \"job.clint\"") != std::string::npos);
  CHECK(w.err.find("Did you mean \"job.client\"?") != std::string::npos);
  CHECK(w.out.empty());

  own_form(w, "theme-clay", "#241C17", "#D9CDC2");
  CHECK(w.run({"forms", "--check", (w.root / "forms/theme-clay.toml").string()}) == 2);
  CHECK(w.err.find("ink has a contrast of") != std::string::npos);

  const fs::path words = own_form(w, "words-cymraeg", "{0} yn fyr", "yn fyr");
  CHECK(w.run({"forms", "--check", words.string()}) == 2);
  CHECK(w.err.find("a hole of the English text is lost in the translation") != std::string::npos);

  CHECK(w.run({"forms", "--check", w.path("nowhere.toml")}) == 2);
  CHECK(w.run({"forms", "--check", words.string(), "--json"}) == 2);
  CHECK(w.out.find("\"words-hole\"") != std::string::npos);
}

TEST_CASE("forms --check of what is right says so, and what a language still lacks") {
  World w;
  const fs::path ours = fs::path(source_root()) / "forms";
  for (const auto& entry : fs::directory_iterator(ours)) {
    CAPTURE(entry.path().string());
    CHECK(w.run({"forms", "--check", entry.path().string()}) == 0);
    CHECK(w.err.empty());
    CHECK(w.out.find("nothing wrong\n") != std::string::npos);
    CHECK(w.out.find("stay English") == std::string::npos);
  }
  const fs::path words = own_form(w, "words-cymraeg", "\"Danger notice\" =", "\"Danger note\" =");
  CHECK(w.run({"forms", "--check", words.string()}) == 0);
  CHECK(w.out.find("that have no line yet and stay English: 1\n") != std::string::npos);
  CHECK(w.out.find("\"Danger notice\" = \"\"") != std::string::npos);
}
