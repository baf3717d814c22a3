#include <fmt/format.h>

#include "layout/support.h"

using namespace ohmleaf;
using namespace ohmleaf::layout;
using namespace ohmleaf::layout::test;

namespace {

const std::vector<std::string> kForms{"minor-works", "installation", "schedule",      "client-page",
                                      "handover",    "site-sheet",   "danger-notice", "inspection"};

}  // namespace

TEST_CASE("every form lays out the plain case without a fault") {
  const Case c = plain_case();
  for (const std::string& name : kForms) {
    CAPTURE(name);
    const Form form = form_from(read_form(name), name + ".toml");
    const Document d = lay_out_or_fail(form, c.view());
    for (const std::string& fault : faults_of(d, form.page)) FAIL_CHECK(fault);
    CHECK(d.pages.size() >= 1);
    CHECK(page_says(d.pages.front(), "Brindle Cross"));
  }
}

TEST_CASE("boxes: nothing overlaps, nothing leaves the margins, whatever the record says") {
  const std::vector<int> sizes{0, 1, 2, 3, 5, 8, 17};
  for (const std::string& name : kForms) {
    const Form form = form_from(read_form(name), name + ".toml");
    for (std::uint64_t seed = 1; seed <= 48; ++seed) {
      const int circuits = sizes[seed % sizes.size()];
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
}
