#include <cmath>

#include "support.h"

// insulation_resistance.tsv; parallel circuits.

using namespace ohmleaf;
using namespace ohmleaf::test;

namespace {

/// Our rule for a row of the table; nothing for rows that are disregarded or of the 16th edition.
std::optional<InsulationRule> rule_of(const std::string& circuit) {
  const Edition e = Edition::y2026;
  if (circuit == "SELV and PELV") return insulation(12_volt, true, false, e);
  if (circuit.starts_with("up to and including 500 V"))
    return insulation(230_volt, false, false, e);
  if (circuit == "above 500 V") return insulation(690_volt, false, false, e);
  if (circuit.starts_with("SPD or other equipment")) return insulation(230_volt, false, true, e);
  return std::nullopt;
}

}  // namespace

TEST_CASE("insulation: every row of insulation_resistance.tsv") {
  int matched = 0;
  for (const TsvRow& row : read_tsv("limits/insulation_resistance.tsv")) {
    CAPTURE(row.where());
    const auto rule = rule_of(row["circuit"]);
    if (rule) {
      ++matched;
      CHECK(rule->test_voltage.str() == row["test_V_dc"]);
      CHECK(rule->minimum.value.str() == row["min_Mohm"]);
      CHECK(rule->minimum.sense == Sense::at_least);
      CHECK(rule->minimum.provenance == provenance_of(row["source"]));
      check_evidence(rule->minimum);
    } else if (row["circuit"].starts_with("after equipment connected")) {
      // The same test voltage and minimum as with electronics connected.
      const auto connected = insulation(230_volt, false, true, Edition::y2026);
      CHECK(connected.test_voltage.str() == row["test_V_dc"]);
      CHECK(connected.minimum.value.str() == row["min_Mohm"]);
    } else if (row["circuit"] == "investigation level") {
      const auto look = insulation_investigate(Edition::y2026);
      CHECK("<" + look.value.str() == row["min_Mohm"]);
      CHECK(look.provenance == provenance_of(row["source"]));
    } else if (row["circuit"].starts_with("16th edition")) {
      // Older than any edition known here: the later, larger minimum stands.
      CHECK(insulation(230_volt, false, false, Edition::y2008).minimum.value == 1.0_megohm);
      CHECK(row.number("min_Mohm") < dec("1.0"));
    } else {
      // "SELV, 1 Mohm": one lesson against Table 64, disregarded.
      CHECK(row["note"].starts_with("CONFLICT"));
      CHECK(insulation(12_volt, true, false, Edition::y2026).minimum.value == 0.5_megohm);
    }
  }
  CHECK(matched == 4);
}

TEST_CASE("insulation: the boundary is 500 V, included") {
  const Edition e = Edition::y2026;
  CHECK(insulation(500_volt, false, false, e).test_voltage == 500_volt);
  CHECK(insulation(Volts(dec("500.1")), false, false, e).test_voltage == 1000_volt);
  CHECK(insulation(400_volt, false, false, e).minimum.printed() == "≥ 1.0 MΩ");
}

TEST_CASE("insulation: the word SELV at mains voltage is not believed") {
  const auto rule = insulation(230_volt, true, false, Edition::y2026);
  CHECK(rule.test_voltage == 500_volt);
  CHECK(rule.minimum.value == 1.0_megohm);
}

TEST_CASE("insulation: no voltage, no limit") {
  for (const Volts& lost : {Volts(dec("0")), Volts(dec("-230")), Volts(Decimal::void_value())}) {
    const auto rule = insulation(lost, false, false, Edition::y2026);
    CHECK(rule.minimum.value.is_void());
    CHECK_FALSE(999_megohm >= rule.minimum.value);
  }
}

TEST_CASE("insulation in parallel: exact where it ends, rounded down where not") {
  const auto par = [](std::vector<const char*> list) {
    std::vector<Megohms> r;
    for (const char* text : list) r.emplace_back(dec(text));
    return insulation_parallel(r);
  };
  CHECK(par({"5", "20", "10"}).str() == "2.85");  // 1 ÷ 0.35 = 2.857
  CHECK(par({"3", "3", "3"}).str() == "1.00");    // exactly at the limit, not 0.99
  CHECK(par({"7", "7", "7", "7", "7", "7", "7"}).str() == "1.00");
  CHECK(par({"999"}).str() == "999.00");
  CHECK(par({"0", "50"}) == 0_megohm);
  CHECK(par({}).is_void());
  CHECK(par({"-1", "5"}).is_void());
  CHECK(insulation_parallel({Megohms(Decimal::void_value())}).is_void());
}

TEST_CASE("insulation in parallel: many awkward circuits, never above the true value") {
  std::vector<Megohms> circuits;
  double sum = 0;
  for (int i = 0; i < 60; ++i) {
    const Decimal r(100003 + 7919 * i, 2);
    circuits.emplace_back(r);
    sum += 1 / real(r);
    const Megohms found = insulation_parallel(circuits);
    REQUIRE_FALSE(found.is_void());
    CHECK(real(found) <= 1 / sum + 1e-9);
    CHECK(real(found) > 1 / sum - 0.011);
  }
}
