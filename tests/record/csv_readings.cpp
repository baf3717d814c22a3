#include "record/csv_readings.h"

#include <random>

#include "record/support.h"

namespace ohmleaf::record {
namespace {

const std::string kProfile =
    "format = 1\n[firm]\nname = \"A\"\n"
    "[csv.mine]\ncircuit = \"Circuit\"\n";
const std::string kColumns =
    "[csv.mine.columns]\n"
    "dead = { R1R2 = \"R1+R2\", insulation.live_earth = \"L-E (MΩ)\" }\n"
    "\"live.zs\" = \"Zs\"\n\"live.rcd.trip_ms\" = \"Trip\"\n\"live.polarity\" = \"Pol\"\n";
const std::string kHeading = "Circuit,R1+R2,L-E (MΩ),Zs,Trip,Pol\n";

struct Taken {
  Run run;
  std::vector<CsvReading> readings;
  std::string all() const {
    std::string out;
    for (const CsvReading& r : readings)
      out += (out.empty() ? "" : " ") + r.key + "=" + r.value;
    return out;
  }
};

Taken taken(const std::string& csv, const std::string& more = "", const std::string& columns = kColumns) {
  Taken t;
  t.run = run_job(kSmallJob);
  REQUIRE(t.run.job);
  const SourceId profile = t.run.sources.add("installer.toml", kProfile + more + columns);
  const auto installer = read_installer(t.run.sources, profile, t.run.out);
  if (!installer) return t;
  const SourceId file = t.run.sources.add("bench.csv", csv);
  t.readings =
      read_csv_readings(t.run.sources, file, installer->csv.at(0), *t.run.job, t.run.out);
  return t;
}

}  // namespace

TEST_CASE("readings of a CSV file come out as the job writes them") {
  const Taken t = taken(kHeading + "1,0.25,>999,0.46,24,yes\n");
  CHECK(t.run.all() == "");
  CHECK(t.all() ==
        "dead.R1R2=0.25 dead.insulation.live_earth=\">999\" live.zs=0.46 live.rcd.trip_ms=24 "
        "live.polarity=true");
}

TEST_CASE("any delimiter, decimal comma, units in cells and in headings") {
  const Taken semicolon =
      taken("Bench 7;;\nCircuit;R1+R2;L-E (kΩ);Zs;Trip;Pol\n1;0,25;>999000;0,460 Ω;0,024 s;1\n",
            "decimal = \",\"\n", replaced(kColumns, "dead = { R1R2 = \"R1+R2\", insulation.live_earth = \"L-E (MΩ)\" }",
                                          "dead = { R1R2 = \"R1+R2\", insulation.live_earth = \"L-E (kΩ)\" }"));
  CHECK(semicolon.run.all() == "");
  CHECK(semicolon.all() ==
        "dead.R1R2=0.25 dead.insulation.live_earth=\">999.000\" live.zs=0.460 "
        "live.rcd.trip_ms=24.000 live.polarity=true");
  const Taken tab = taken("Circuit\tR1+R2\tL-E (MΩ)\tZs\tTrip\tPol\r\n1\t250 mΩ\t\t430mohm\t24ms\tok\r\n",
                          "delimiter = \"\\t\"\n");
  CHECK(tab.run.all() == "");
  CHECK(tab.all() == "dead.R1R2=0.250 live.zs=0.430 live.rcd.trip_ms=24 live.polarity=true");
}

TEST_CASE("a fault current has its unit in the cell or the heading") {
  const std::string columns = "[csv.mine.columns]\n\"live.pfc\" = \"PFC (A)\"\n";
  CHECK(taken("Circuit,PFC (A)\n1,1300\n", "", columns).all() == "live.pfc=\"1.300 kA\"");
  CHECK(taken("Circuit,PFC (A)\n1,1.3 kA\n", "", columns).all() == "live.pfc=\"1.3 kA\"");
  const std::string bare = "[csv.mine.columns]\n\"live.pfc\" = \"PFC\"\n";
  CHECK(taken("Circuit,PFC\n1,1.3\n", "", bare).run.all() ==
        "2:3 no-unit: pfc stands without its unit");
}

TEST_CASE("words of the installer's own program") {
  const Taken t = taken(kHeading + "1,OL,---,0.46,,\n", "words = { OL = \">99.9\", \"---\" = \"\" }\n");
  CHECK(t.run.all() == "");
  CHECK(t.all() == "dead.R1R2=\">99.9\" live.zs=0.46");
}

TEST_CASE("each slip is told at its cell") {
  struct Slip {
    std::string csv, told;
  };
  const std::vector<Slip> slips{
      {kHeading + "1,\"0,25\",,,,\n",
       "2:3 csv-cell: dead.R1R2: a comma stands in \"0,25\", and the decimals of this file begin "
       "with a point"},
      {kHeading + "1,,,0.46 MΩ ,24 V,\n",
       "2:14 csv-cell: live.rcd.trip_ms: \"V\" is no unit of this reading, which is in ms"},
      {kHeading + "1,bad,,,,\n", "2:3 not-a-reading: R1R2: this is not a reading"},
      {kHeading + "1,LIM,,,,\n", "2:3 not-a-reading: R1R2: LIM stands without a reason"},
      {kHeading + "1,,,,,perhaps\n", "2:7 csv-cell: live.polarity: \"perhaps\" is neither yes nor no"},
      {kHeading + "1,,,0.46,,\n1,,,0.52,,\n",
       "3:5 csv-twice: live.zs of this circuit stands twice: 0.46 and 0.52"},
      {kHeading + "7,,,0.46,,\n",
       "2:1 csv-other-circuit: circuit \"7\" is not in this job: its row was passed over"},
      {"Ref,Zs\n1,0.46\n", "1:1 csv-no-column: the file has no column \"Circuit\""},
      {"Circuit,R1+R2,L-E (MΩ),Zx,Trip,Pol\n1,,,0.46,,\n",
       "1:1 csv-no-column: the file has no column \"Zs\""},
      {"", "1:1 csv-empty: the file has no rows"},
  };
  for (const Slip& slip : slips) {
    CAPTURE(slip.csv);
    CHECK(taken(slip.csv).run.all() == slip.told);
  }
}

TEST_CASE("of several rows the worst counts, where the profile says so") {
  const Taken t = taken(kHeading + "1,0.25,200,0.46,24,yes\n1,0.31,>999,0.44,31,no\n1,0.12,50,>2,,\n",
                        "worst = true\n");
  CHECK(t.run.all() == "");
  CHECK(t.all() ==
        "dead.R1R2=0.31 dead.insulation.live_earth=50 live.zs=\">2\" live.rcd.trip_ms=31 "
        "live.polarity=false");
}

TEST_CASE("a profile that maps what is no reading is refused with the key that was meant") {
  const Run run = run_installer(kProfile + "[csv.mine.columns]\n\"live.zz\" = \"Zs\"\n");
  REQUIRE(run.out.all().size() == 1);
  CHECK(told(run.sources, run.out.all()[0]) == "7:1 unknown-key: a circuit has no reading \"live.zz\"");
  CHECK(run.out.all()[0].hints.at(0) == "Did you mean \"live.zs\"?");
  CHECK(run_installer(kProfile + "delimiter = \"::\"\n[csv.mine.columns]\n").all().find(
            "6:13 wrong-form") == 0);
}

TEST_CASE("units in headings") {
  for (const char* heading : {"Zs (Ω)", "Zs [Ω]", "Zs, Ω", "Zs in Ω", "Zs/Ω", "Zs (\xE2\x84\xA6)"}) {
    CAPTURE(heading);
    CHECK(csv_unit_of(heading) == "Ω");
  }
  CHECK(csv_unit_of("L-E (Mohm)") == "Mohm");
  CHECK(csv_unit_of("Zs") == "");
  CHECK(csv_unit_of("Zs (highest)") == "");
}

TEST_CASE("hostile files of readings end, with readings or with a message") {
  std::mt19937 random(13);
  const std::string sound = kHeading + "1,0.25,>999,0.46,24,yes\n1,0.25,\"<0.05\",0.46 mΩ,24 s,no\n";
  for (int i = 0; i < 400; ++i) {
    std::string text = sound;
    for (std::size_t n = 1 + random() % 3; n > 0; --n) {
      const std::size_t at = random() % text.size();
      if (random() % 2 == 0)
        text[at] = static_cast<char>(random() % 256);
      else
        text.insert(at, std::string(1 + random() % 20, "9.,\">-"[random() % 6]));
    }
    const Taken t = taken(text);
    for (const CsvReading& r : t.readings) CHECK(!r.value.empty());
  }
}

}  // namespace ohmleaf::record
