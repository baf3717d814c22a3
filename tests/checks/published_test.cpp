#include <fstream>
#include <sstream>

#include "bench.h"
#include "places.h"

// Published worked examples as installations: the printed figure is let pass, the same installation
// with one fault is named. Figures and sources: tests/data/limits/worked_examples.tsv and
// ring_examples.tsv, by the ids given here.

namespace bench {
namespace {

using ohmleaf::Kiloamps;
using ohmleaf::Ohms;
using ohmleaf::SquareMm;
using record::Job;

/// The cell of a table by the id of its row and the name of its column.
std::string printed(const char* table, const char* id, const char* column) {
  std::ifstream in(std::string(test_data()) + "/limits/" + table);
  REQUIRE(in.good());
  const auto cells = [](const std::string& line) {
    std::vector<std::string> out;
    std::istringstream all(line);
    for (std::string cell; std::getline(all, cell, '\t');) out.push_back(cell);
    return out;
  };
  std::string line;
  std::getline(in, line);
  const auto names = cells(line);
  while (std::getline(in, line)) {
    const auto row = cells(line);
    for (std::size_t i = 0; i < row.size() && row[0] == id; ++i)
      if (names[i] == column) return row[i];
  }
  FAIL("no " << id << " in " << table);
  return {};
}
std::string example(const char* id) {
  return printed("worked_examples.tsv", id, "source_prints");
}

Job plain(const char* name) {
  Job j = job_of(any_text(name));
  j.instruments = {text("mft-2"), text("vi-2"), text("pu-1")};
  return j;
}
void zs(Job& j, const std::string& ohms) {
  j.circuits[kLighting].live.zs = reading<Ohms>(ohms);
}

}  // namespace

TEST_CASE("published: B10 may have 4.37 Ω (W01), and a hundredth more is a fault") {
  Job j = plain("sewing-workshop");
  j.circuits[kLighting].device = device("RCBO B10, 30 mA type A, 6 kA");
  zs(j, example("W01"));
  CHECK(verdict_of(report_of(j), "zs-overcurrent", kLighting) != Verdict::fail);
  const std::string at_limit = found(report_of(j), "zs-overcurrent", kLighting)->difference;
  CHECK(at_limit == "exactly at the limit");
  zs(j, "4.38");
  CHECK(found(report_of(j), "zs-overcurrent", kLighting)->message.find("relies on the RCD") !=
        std::string::npos);
}

TEST_CASE("published: an electrode of 1667 Ω behind 30 mA (W26), and one ohm more is a fault") {
  Job j = plain("tt-cottage");
  j.supply.ra = reading<Ohms>(example("W26"));
  CHECK(verdict_of(report_of(j), "ra", -1) == Verdict::pass);
  j.supply.ra = reading<Ohms>("1668");
  CHECK(verdict_of(report_of(j), "ra", -1) == Verdict::fail);
}

TEST_CASE("published: fault currents of 0.28, 0.35 and 0.2 Ω (W27 to W29), and a point out") {
  const std::pair<const char*, const char*> all[] = {
      {"W27", "0.28"}, {"W28", "0.35"}, {"W29", "0.2"}};
  for (const auto& [id, ze] : all) {
    CAPTURE(id);
    Job j = plain("sewing-workshop");
    j.supply.ze = reading<Ohms>(ze);
    const auto amps = ohmleaf::Decimal::parse(example(id));
    REQUIRE(amps);
    j.supply.pfc = reading<Kiloamps>((*amps * ohmleaf::Decimal(1, 3)).str());
    CHECK(verdict_of(report_of(j), "fault-current-ze", -1) == Verdict::not_applicable);
    j.supply.pfc = reading<Kiloamps>((*amps * ohmleaf::Decimal(1, 4)).str());
    CHECK(verdict_of(report_of(j), "fault-current-ze", -1) == Verdict::doubtful);
  }
}

TEST_CASE("published: 16 m of 6 mm² and 27 m of 10 mm² show 0.05 Ω (W38, W39), and a bad clamp") {
  const std::tuple<const char*, const char*, const char*> all[] = {{"W38", "6", "16"},
                                                                   {"W39", "10", "27"}};
  for (const auto& [id, size, length] : all) {
    CAPTURE(id);
    Job j = plain("sewing-workshop");
    j.bonding.water = reading<SquareMm>(size);
    j.bonding.water_length = quantity<ohmleaf::Metres>(length);
    j.bonding.water_ohms = reading<Ohms>(example(id));
    CHECK(verdict_of(report_of(j), "bonding-resistance", -1) == Verdict::pass);
    j.bonding.water_ohms = reading<Ohms>("0.5");
    CHECK(verdict_of(report_of(j), "bonding-resistance", -1) == Verdict::doubtful);
  }
}

TEST_CASE("published: R1+R2 of 50 m (W13, W14), and a point out") {
  const std::tuple<const char*, const char*, const char*> all[] = {{"W13", "1.5", "1.0"},
                                                                   {"W14", "2.5", "1.5"}};
  for (const auto& [id, line, cpc] : all) {
    CAPTURE(id);
    Job j = plain("sewing-workshop");
    auto& c = j.circuits[kLighting];
    c.cable.line = quantity<SquareMm>(line);
    c.cable.cpc = quantity<SquareMm>(cpc);
    c.cable.length = quantity<ohmleaf::Metres>("50");
    c.dead.r1r2 = reading<Ohms>(example(id));
    CHECK(verdict_of(report_of(j), "r1r2-length", kLighting) == Verdict::not_applicable);
    c.dead.r1r2 = reading<Ohms>("0.15");
    CHECK(verdict_of(report_of(j), "r1r2-length", kLighting) == Verdict::doubtful);
  }
}

TEST_CASE("published: rings (R3, R4, R6), and each with one end in the wrong terminal") {
  for (const char* id : {"R3", "R4", "R6"}) {
    CAPTURE(id);
    Job j = plain("sewing-workshop");
    auto& d = j.circuits[kRing].dead;
    d.r1 = reading<Ohms>(printed("ring_examples.tsv", id, "r1_ohm"));
    d.rn = reading<Ohms>(printed("ring_examples.tsv", id, "rn_ohm"));
    d.r2 = reading<Ohms>(printed("ring_examples.tsv", id, "r2_ohm"));
    d.r1r2 = reading<Ohms>(printed("ring_examples.tsv", id, "step3_mid x=0.5").substr(0, 5));
    const Report sound = report_of(j);
    for (const char* check : {"ring-line-neutral", "ring-ratio", "ring-r1r2"})
      CHECK_MESSAGE(verdict_of(sound, check, kRing) == Verdict::not_applicable, check);
    std::swap(d.rn, d.r2);
    CHECK(verdict_of(report_of(j), "ring-line-neutral", kRing) == Verdict::doubtful);
  }
}

}  // namespace bench
