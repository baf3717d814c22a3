#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <filesystem>

#include "layout/support.h"
#include "layout/translation.h"
#include "places.h"

using namespace ohmleaf;
using namespace ohmleaf::layout;
using namespace ohmleaf::layout::test;

namespace {

/// The names of the files in forms/ that begin so, or of the documents.
std::vector<std::string> files_of(std::string_view prefix) {
  std::vector<std::string> out;
  for (const auto& entry :
       std::filesystem::directory_iterator(std::string(source_root()) + "/forms")) {
    const std::string name = entry.path().stem().string();
    const bool document = !name.starts_with("theme-") && !name.starts_with("words-");
    if (prefix.empty() ? document : name.starts_with(prefix)) out.push_back(name);
  }
  std::sort(out.begin(), out.end());
  return out;
}

Form form_in(const std::string& name, const Theme& theme) {
  Sources sources;
  Diagnostics found;
  const SourceId id = sources.add(name + ".toml", read_form(name));
  auto form = load_form(sources, id, found, theme);
  REQUIRE(form);
  return *form;
}

std::vector<Theme> themes() {
  std::vector<Theme> out{Theme{}};
  for (const std::string& name : files_of("theme-")) {
    Sources sources;
    Diagnostics found;
    const auto theme = load_theme(sources, sources.add(name + ".toml", read_form(name)), found);
    REQUIRE(theme);
    out.push_back(*theme);
  }
  return out;
}

std::shared_ptr<const Translation> welsh() {
  Sources sources;
  Diagnostics found;
  const SourceId id = sources.add("words-cymraeg.toml", read_form("words-cymraeg"));
  auto words = load_translation(sources, id, found);
  REQUIRE(words);
  return std::make_shared<const Translation>(std::move(*words));
}

/// How many random records each form is tried with: a slice by default, more in tests/long.
std::uint64_t seeds() {
  const char* asked = std::getenv("OHMLEAF_BOXES");
  return asked ? std::stoull(asked) : 48;
}

int circuits_for(std::uint64_t seed) {
  constexpr std::array sizes{0, 1, 2, 3, 5, 8, 17};
  if (seed > 48 && seed % 25 == 0) return static_cast<int>(seed * 37 % 401);
  return sizes[seed % sizes.size()];
}

}  // namespace

TEST_CASE("every form lays out the plain case without a fault") {
  const Case c = plain_case();
  for (const std::string& name : files_of("")) {
    CAPTURE(name);
    const Form form = form_from(read_form(name), name + ".toml");
    const Document d = lay_out_or_fail(form, c.view());
    for (const std::string& fault : faults_of(d, form.page)) FAIL_CHECK(fault);
    CHECK(d.pages.size() >= 1);
    CHECK(page_says(d.pages.front(), "Brindle Cross"));
  }
}

TEST_CASE("boxes: nothing overlaps, nothing leaves the margins, whatever the record says") {
  const std::vector<Theme> all = themes();
  const auto words = welsh();
  for (const std::string& name : files_of("")) {
    for (std::uint64_t seed = 1; seed <= seeds(); ++seed) {
      Form form = form_in(name, all[seed % all.size()]);
      if (seed % 5 == 0) form = translated(form, words);
      const int circuits = circuits_for(seed);
      CAPTURE(name);
      CAPTURE(seed);
      CAPTURE(circuits);
      const Document d = lay_out_or_fail(form, random_case(seed, circuits).view());
      for (const std::string& fault : faults_of(d, form.page)) FAIL_CHECK(fault);
    }
  }
}

TEST_CASE("boxes: four hundred circuits") {
  for (const std::string name : {"schedule", "installation"}) {
    const Form form = form_from(read_form(name), name + ".toml");
    const Document d = lay_out_or_fail(form, random_case(99, 400).view());
    CHECK(d.pages.size() > 20);
    for (const std::string& fault : faults_of(d, form.page)) FAIL_CHECK(fault);
  }
}

TEST_CASE("the inspector sees what it is for") {
  const Form form = form_from(read_form("schedule"));
  Document d = lay_out_or_fail(form, plain_case().view());
  REQUIRE(faults_of(d, form.page).empty());
  Document moved = d;
  for (Frame& f : moved.pages[0].frames)
    if (auto* t = std::get_if<TextFrame>(&f); t && t->text == "Schedule of tests") t->x += 900_pt;
  CHECK(!faults_of(moved, form.page).empty());
  Document doubled = d;
  doubled.pages[0].frames.push_back(doubled.pages[0].frames.back());
  CHECK(!faults_of(doubled, form.page).empty());
  Document across = d;
  RectFrame box{60_pt, 60_pt, 400_pt, 400_pt, {}, Color{}, 1_pt, {}, kArtifact};
  for (const Frame& f : d.pages[0].frames)
    if (const auto* t = std::get_if<TextFrame>(&f); t && t->text == "Schedule of tests") {
      box.x = t->x + 10_pt;
      box.y = t->baseline - 12_pt;
    }
  across.pages[0].frames.emplace_back(box);
  CHECK(!faults_of(across, form.page).empty());
  Document turned = d;
  NodeId first = kArtifact, second = kArtifact;
  for (Frame& f : turned.pages[0].frames)
    if (auto* t = std::get_if<TextFrame>(&f); t && t->node != kArtifact) {
      if (first == kArtifact) first = t->node;
      if (t->node != first && second == kArtifact &&
          turned.nodes[static_cast<std::size_t>(t->node)].parent ==
              turned.nodes[static_cast<std::size_t>(first)].parent)
        second = t->node;
    }
  REQUIRE(second != kArtifact);
  for (Frame& f : turned.pages[0].frames)
    if (auto* t = std::get_if<TextFrame>(&f)) {
      if (t->node == first)
        t->node = second;
      else if (t->node == second)
        t->node = first;
    }
  CHECK(!faults_of(turned, form.page).empty());
}
