#include <fstream>
#include <sstream>

#include "bench.h"
#include "places.h"

// A class of accessories is data: the program's own and the installer's are judged alike.

namespace bench {
namespace {

std::string samples_installer() {
  std::ifstream in(std::string(source_root()) + "/samples/installer.toml");
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

record::Installer with(const std::string& more) {
  ohmleaf::Sources sources;
  ohmleaf::Diagnostics out;
  const auto id = sources.add("installer.toml", samples_installer() + more);
  auto read = record::read_installer(sources, id, out);
  for (const auto& d : out.all()) INFO(d.message);
  REQUIRE(read.has_value());
  return *read;
}

/// A job whose first lighting accessory is this item, tried and joined, and nothing else said.
Report fitted(const record::Installer& firm, const char* item) {
  record::Job j = sample("sewing-workshop");
  record::Accessory a;
  a.item = text(item);
  a.where = text("landing");
  a.function_tested = field(true);
  j.circuits[kLighting].accessories = {a};
  return ohmleaf::checks::check(j, firm);
}

constexpr const char* kAlarm = R"(
[class.smoke-alarm]
needs_neutral = true
needs_earth   = false
electronics   = true

[accessory.alarm-1]
class = "smoke-alarm"
name  = "Mains smoke alarm"

[accessory.alarm-2]
class = "smoke-alarm"
name  = "Alarm by battery alone"
needs_neutral = false
)";

}  // namespace

TEST_CASE("an installer's own class is judged by its facts, and an item's own key goes before") {
  const record::Installer firm = with(kAlarm);
  CHECK(verdict_of(fitted(firm, "alarm-1"), "neutral", kLighting) == Verdict::missing);
  CHECK(verdict_of(fitted(firm, "alarm-2"), "neutral", kLighting) == Verdict::not_applicable);
  record::Job j = sample("sewing-workshop");
  j.circuits[kLighting].accessories[0].item = text("alarm-1");
  j.circuits[kLighting].dead.insulation.electronics = {};
  CHECK(verdict_of(ohmleaf::checks::check(j, firm), "insulation-electronics", kLighting) ==
        Verdict::missing);
}

TEST_CASE("an own class that is like a known one is judged as that") {
  const record::Installer firm = with(R"(
[class.floor-box]
like = "socket-outlet"

[accessory.floor-1]
class = "floor-box"
name  = "Floor box, two outlets"
)");
  const Report r = fitted(firm, "floor-1");
  CHECK(verdict_of(r, "earth-at-point", kLighting) == Verdict::missing);  // as each socket-outlet
  record::Job ring = sample("sewing-workshop");
  ring.circuits[kRing].accessories[0].item = text("floor-1");
  ring.circuits[kRing].accessories[0].connection = {};
  CHECK(verdict_of(ohmleaf::checks::check(ring, firm), "connection", kRing) == Verdict::missing);
}

TEST_CASE("every known class brings the questions that its makers ask") {
  struct Row {
    const char *name, *check;
  };
  for (const Row& row : std::vector<Row>{{"dimmer", "dimmable"},
                                         {"hub", "neutral"},
                                         {"hub", "accessory-set-up"},
                                         {"blind control", "neutral"},
                                         {"module", "neutral"},
                                         {"socket-outlet", "earth-at-point"},
                                         {"battery control", "accessory-set-up"}}) {
    CAPTURE(row.name);
    CAPTURE(row.check);
    const record::Installer firm =
        with("\n[accessory.new-1]\nclass = \"" + std::string(row.name) + "\"\nname = \"New\"\n");
    CHECK(verdict_of(fitted(firm, "new-1"), row.check, kLighting) == Verdict::missing);
  }
}

}  // namespace bench
