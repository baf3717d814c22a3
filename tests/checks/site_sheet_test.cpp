#include <fstream>
#include <set>
#include <sstream>

#include "bench.h"
#include "checks/site_sheet.h"
#include "places.h"

namespace bench {
namespace {

using ohmleaf::checks::missing_in_order;
using ohmleaf::checks::site_sheet_place;

/// A job in which nothing was recorded but what it is about.
Report bare_report() {
  record::Job j = sample("sewing-workshop");
  j.isolation = {};
  j.bonding = {};
  j.supply.ze = {};
  j.supply.pfc = {};
  for (record::Circuit& c : j.circuits) {
    c.dead = {};
    c.live = {};
    for (record::Accessory& a : c.accessories) a.box_mm = {};
  }
  j.network = {};
  return report_of(j);
}

}  // namespace

TEST_CASE("a missing reading names its place on the site sheet, in the sheet's own headings") {
  std::ifstream in(std::string(source_root()) + "/forms/site-sheet.toml");
  std::ostringstream form;
  form << in.rdbuf();
  std::set<std::string> places;
  for (const Finding& f : bare_report().findings) {
    const bool asked = f.verdict == Verdict::missing && f.stage != ohmleaf::checks::Stage::paper;
    if (!asked) continue;
    CAPTURE(f.cell);
    const std::string place = site_sheet_place(f);
    CHECK_FALSE(place.empty());
    places.insert(place);
  }
  CHECK(places.size() >= 6);
  for (const std::string& place : places) {
    CAPTURE(place);
    const auto table = place.find(" (");
    CHECK(form.str().find("\"" + place.substr(0, table) + "\"") != std::string::npos);
    if (table == std::string::npos) continue;
    const std::string caption = place.substr(table + 2, place.size() - table - 3);
    CHECK(form.str().find("caption = \"" + caption + "\"") != std::string::npos);
  }
}

TEST_CASE("what is missing is named in the safe order: no live test before every dead test") {
  const Report r = bare_report();
  const auto todo = missing_in_order(r);
  CHECK(todo.size() == r.count(Verdict::missing));
  REQUIRE(todo.size() > 10);
  for (std::size_t i = 1; i < todo.size(); ++i) CHECK(todo[i - 1]->stage <= todo[i]->stage);
}

}  // namespace bench
