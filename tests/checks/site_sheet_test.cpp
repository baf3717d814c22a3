#include <fstream>
#include <set>
#include <sstream>

#include "bench.h"
#include "checks/order_of_work.h"
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
  using ohmleaf::checks::step_of;
  for (std::size_t i = 1; i < todo.size(); ++i) CHECK(step_of(*todo[i - 1]) <= step_of(*todo[i]));
  std::vector<std::string> cells;
  for (const Finding* f : todo)
    if (f->circuit <= 0) cells.push_back(f->cell);
  CHECK(cells == std::vector<std::string>{
                     "isolation.point", "isolation.locked", "isolation.indicator",
                     "isolation.proving_unit", "isolation.proved_dead",
                     "bonding.earthing_conductor", "bonding.water", "bonding.gas", "supply.ze",
                     "supply.pfc", "accessory[0].box_mm", "accessory[1].box_mm",
                     "accessory[3].box_mm", "dead.r1", "dead.rn", "dead.r2", "dead.ring_crossed",
                     "dead.R1R2", "dead.insulation.electronics", "dead.insulation.live_live",
                     "dead.insulation.live_earth", "dead.polarity", "live.polarity", "live.zs",
                     "live.rcd.trip_ms", "live.rcd.test_button", "network.closed",
                     "network.tried", "network.accounts_with_client"});
}

TEST_CASE("no step is offered before what must come first") {
  using ohmleaf::checks::Step;
  using ohmleaf::checks::stop_before;
  const auto cell = [](const Report& r, Step step) {
    const Finding* f = stop_before(r, step);
    return f ? f->cell : std::string("-");
  };
  record::Job j = sample("sewing-workshop");
  for (const Step s : {Step::look, Step::isolate, Step::origin, Step::fit, Step::dead,
                       Step::inspect, Step::live, Step::set_up, Step::hand_over, Step::paper})
    CHECK(cell(report_of(j), s) == "-");
  SUBCASE("not proved dead: nothing but to look and to isolate") {
    j.isolation.proved_dead = {};
    const Report r = report_of(j);
    for (const Step s : {Step::look, Step::isolate, Step::hand_over, Step::paper})
      CHECK(cell(r, s) == "-");
    for (const Step s : {Step::origin, Step::fit, Step::dead, Step::inspect, Step::live})
      CHECK(cell(r, s) == "isolation.proved_dead");
  }
  SUBCASE("a missing dead test of one circuit stops every live test") {
    j.circuits[1].dead.polarity = {};
    const Report r = report_of(j);
    CHECK(cell(r, Step::dead) == "-");
    CHECK(cell(r, Step::inspect) == "-");
    CHECK(cell(r, Step::live) == "dead.polarity");
    CHECK(cell(r, Step::set_up) == "dead.polarity");
  }
  SUBCASE("a failed one goes before a missing one") {
    j.circuits[0].dead.r1 = {};
    j.circuits[1].dead.polarity.value = false;
    CHECK(cell(report_of(j), Step::live) == "dead.polarity");
  }
  SUBCASE("bonding too small, an earth not back, a device that fails") {
    j.bonding.water = reading<ohmleaf::SquareMm>("4");
    CHECK(cell(report_of(j), Step::live) == "bonding.water");
    j = sample("sewing-workshop");
    j.supply.reconnected = {};
    CHECK(cell(report_of(j), Step::live) == "supply.reconnected");
    CHECK(cell(report_of(j), Step::dead) == "-");
    j = sample("sewing-workshop");
    j.circuits[0].device = device("MCB B32, 6 kA");
    CHECK(cell(report_of(j), Step::live) == "rcd");
  }
  SUBCASE("a failed live test or an open paper stops no other live test") {
    j.circuits[0].live.polarity.value = false;
    j.client = {};
    CHECK(cell(report_of(j), Step::live) == "-");
  }
}

}  // namespace bench
