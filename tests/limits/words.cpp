#include <algorithm>
#include <map>

#include "limits/circuit_rules.h"
#include "limits/consideration.h"
#include "limits/disconnection.h"
#include "limits/rcd_type.h"
#include "limits/rows.h"
#include "limits/supply.h"
#include "support.h"

// circuit_rules.tsv, part_p.tsv, supply_limits.tsv, rcd_times.tsv, the rest of bonding_sizes.tsv,
// disconnection beyond the usual rows, and the tables of words: instruments_61557.tsv,
// gs38_isolation.tsv, inspection_and_minor_works.tsv.

using namespace ohmleaf;
using namespace ohmleaf::test;

namespace {

const Edition kNow = Edition::y2026;

/// Letters and digits only, so that "≤ 4 mm" and "<=4 mm" compare alike.
std::string bare(const std::string& text) {
  std::string out;
  for (char c : text)
    if ((c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z')) out += c;
  return out;
}

bool has_row(const char* table, const std::string& item, const std::string& value,
             Provenance provenance) {
  for (const Row& row : table_rows(table, kNow))
    if (row.provenance == provenance &&
        bare(row.item + row.value + row.note).find(bare(value)) != std::string::npos &&
        (item.empty() || bare(row.item).find(bare(item)) != std::string::npos))
      return true;
  return false;
}

std::string window(const Limit<Millis>& limit) {
  return (limit.sense == Sense::at_most ? "" : limit.value.str()) + "|" +
         (limit.sense == Sense::at_most   ? limit.value.str()
          : limit.sense == Sense::between ? limit.upper->str()
                                          : "");
}

}  // namespace

TEST_CASE("RCD times: every row of rcd_times.tsv that is a time") {
  int product = 0;
  for (const TsvRow& row : read_tsv("limits/rcd_times.tsv")) {
    CAPTURE(row.where());
    if (row["edition_or_standard"] != "BS EN 61008/61009") continue;
    ++product;
    const auto limit =
        rcd_product_time(row["device"] == "S type", row.number("multiple_of_IdN"), kNow);
    REQUIRE(limit);
    check_evidence(*limit);
    if (row["min_ms"] == "no trip") {
      CHECK(limit->printed() == "≥ 1999 ms");
    } else if (row["note"].starts_with("CONFLICT")) {
      CHECK(limit->value == 60_ms);  // by the standard, not 50 ms
    } else {
      CHECK(window(*limit) == row["min_ms"] + "|" + row["max_ms"]);
    }
  }
  CHECK(product == 9);
  CHECK_FALSE(rcd_product_time(false, dec("3"), kNow));
}

TEST_CASE("RCD times: the editions' own rows of rcd_times.tsv") {
  const auto once = [](bool s, Edition e) {
    Rcd rcd;
    rcd.idn = 30_milliamp;
    rcd.delayed = s;
    return rcd_time(rcd, dec("1"), true, e);
  };
  Rcd general;
  general.idn = 30_milliamp;
  for (const TsvRow& row : read_tsv("limits/rcd_times.tsv")) {
    CAPTURE(row.where());
    const std::string& standard = row["edition_or_standard"];
    if (standard == "BS 7671:2018 (before A2)")
      CHECK(rcd_time(general, dec("5"), true, Edition::y2018)->value.str() == row["max_ms"]);
    if (standard.starts_with("BS 7671:2018+A2:2022 (643"))
      CHECK(once(false, Edition::y2022)->value.str() == row["max_ms"]);
    if (standard == "BS 7671:2018+A2:2022") {
      CHECK(window(*once(true, Edition::y2022)) == row["min_ms"] + "|" + row["max_ms"]);
      CHECK(once(true, Edition::y2022)->provenance == provenance_of(row["source"]));
    }
    if (standard == "BS 4293 / BS 7288") {
      Rcd old = general;
      old.bs4293 = true;
      CHECK(rcd_time(old, row.number("multiple_of_IdN"), true, Edition::y2018)->value.str() ==
            row["max_ms"]);
    }
    if (standard == "BS 4293" || standard == "ramp test")
      CHECK(has_row("rcd-times", standard == "BS 4293" ? "BS 4293 time-delayed" : "ramp", "",
                    Provenance::published));
  }
}

TEST_CASE("RCD types: each load asks for a type, and every better one serves (531.3.3)") {
  CHECK(least_rcd_type(LoadKind::fixed_without_dc).least == RcdType::ac);
  CHECK(least_rcd_type(LoadKind::electronic).least == RcdType::a);
  CHECK(least_rcd_type(LoadKind::frequency_controlled).least == RcdType::f);
  CHECK(least_rcd_type(LoadKind::smooth_dc).least == RcdType::b);
  CHECK_FALSE(suits(RcdType::ac, LoadKind::electronic));
  CHECK(suits(RcdType::a, LoadKind::electronic));
  CHECK_FALSE(suits(RcdType::f, LoadKind::smooth_dc));
  for (LoadKind load : {LoadKind::fixed_without_dc, LoadKind::electronic,
                        LoadKind::frequency_controlled, LoadKind::smooth_dc}) {
    CHECK(suits(RcdType::b, load));
    CHECK(load_from_name(name(load)) == load);
    CHECK(least_rcd_type(load).source.find("531.3.3") != std::string::npos);
  }
}

TEST_CASE("RCD operating currents (rcd_times.tsv, Fluke 1653B manual p20)") {
  const auto band = [](RcdType t, ResidualCurrent c, Milliamps idn) {
    const auto limit = rcd_trip_current(t, c, idn, kNow);
    return limit ? limit->printed() : std::string("none");
  };
  CHECK(band(RcdType::ac, ResidualCurrent::alternating, 30_milliamp) == "50 to 100 %");
  CHECK(band(RcdType::a, ResidualCurrent::pulsating_dc, 30_milliamp) == "35 to 140 %");
  CHECK(band(RcdType::a, ResidualCurrent::pulsating_dc, 10_milliamp) == "35 to 200 %");
  CHECK(band(RcdType::b, ResidualCurrent::smooth_dc, 30_milliamp) == "50 to 200 %");
  CHECK(band(RcdType::ac, ResidualCurrent::pulsating_dc, 30_milliamp) == "none");
  CHECK(band(RcdType::a, ResidualCurrent::smooth_dc, 30_milliamp) == "none");
}

TEST_CASE("disconnection: the d.c. column of disconnection_times.tsv") {
  for (const TsvRow& row : read_tsv("limits/disconnection_times.tsv")) {
    if (row["circuit"] != "final circuit (see scope)") continue;
    CAPTURE(row.where());
    const std::string& band = row["U0_band_V_ac"];
    const auto at = band.rfind("<=");
    const Volts u0 = at == std::string::npos ? 500_volt : Volts(dec(band.substr(at + 2)));
    const auto limit =
        max_disconnection_time_dc(row["system"] == "TN" ? Earthing::tn_s : Earthing::tt, u0, kNow);
    if (row["dc_s"] == "note 1") {
      CHECK(limit.value.is_void());
      CHECK(limit.derivation.find("other reasons") != std::string::npos);
    } else {
      CHECK(limit.value.str() == row["dc_s"]);
    }
  }
}

TEST_CASE("disconnection: TT bonded, reduced low voltage, extra-low voltage") {
  const auto use = CircuitUse::final_with_socket_outlets;
  CHECK(max_disconnection_time_tt_bonded(use, 32_amp, 230_volt, kNow).value == 0.4_sec);
  CHECK(reduced_low_voltage_time(kNow).value == 5_sec);
  CHECK(reduced_low_voltage_time(kNow).provenance == Provenance::memory);
  CHECK(extra_low_voltage_limit(false, kNow).value == 50_volt);
  CHECK(extra_low_voltage_limit(true, kNow).value == 120_volt);
}

TEST_CASE("circuit rules: every row of circuit_rules.tsv") {
  std::size_t rows = 0;
  for (const TsvRow& row : read_tsv("limits/circuit_rules.tsv")) {
    CAPTURE(row.where());
    ++rows;
    const std::string& item = row["item"];
    const Provenance p = provenance_of(row["source"]);
    if (item == "ring final: protective device")
      CHECK(ring_max_rating(kNow).value == 32_amp);
    else if (item == "ring final: line & neutral")
      CHECK((ring_min_size(false, kNow).value == 2.5_mm2 &&
             ring_min_size(true, kNow).value == 1.5_mm2));
    else if (item == "ring final: Iz")
      CHECK(ring_min_capacity(kNow).value == 20_amp);
    else if (item == "unfused spur")
      CHECK(has_row("circuits", "unfused spur", "2.5 mm", p));
    else if (item == "number of unfused spurs")
      CHECK(has_row("circuits", item, "points on", p));
    else if (item == "fused spur")
      CHECK(fused_spur_max_rating(kNow).value == 13_amp);
    else if (item == "ring floor area")
      CHECK(ring_floor_area().value == dec("100"));
    else {
      // "4 mm2, 50 m2"
      const std::string& value = row["value"];
      const auto comma = value.find(", ");
      bool found = false;
      for (const RadialAreaRow& ours : radial_area_rows())
        found = found || (ours.size == dec(value.substr(0, value.find(' '))) &&
                          std::to_string(ours.square_metres) + " m2" == value.substr(comma + 2) &&
                          ours.origin.provenance == p);
      CHECK(found);
    }
  }
  CHECK(rows ==
        table_rows("circuits", kNow).size() - 2);  // ours: mineral insulated, and r1 against rn
}

TEST_CASE("spurs: what is wrong with one, and what is not") {
  Spur spur;
  CHECK(spur_faults(spur).empty());
  spur.size = 2.5_mm2;
  CHECK(spur_faults(spur).empty());
  spur.size = 1.5_mm2;
  CHECK(spur_faults(spur).size() == 1);
  spur.outlets = 2;
  CHECK(spur_faults(spur).size() == 2);
  Spur fused;
  fused.fused = true;
  fused.outlets = 6;
  fused.fuse = 13_amp;
  CHECK(spur_faults(fused).empty());
  fused.fuse = 20_amp;
  CHECK(spur_faults(fused).size() == 1);
  fused.fuse = Amps(Decimal::void_value());
  CHECK(spur_faults(fused).size() == 1);
}

TEST_CASE("radial floor area: by rating and size, else what is listed") {
  CHECK(radial_floor_area(32_amp, 4_mm2)->value == dec("50"));
  CHECK(radial_floor_area(30_amp, 6_mm2)->value == dec("50"));
  CHECK(radial_floor_area(20_amp, 2.5_mm2)->value == dec("20"));
  CHECK(radial_floor_area(16_amp, 2.5_mm2)->value == dec("20"));
  std::string exists;
  CHECK_FALSE(radial_floor_area(32_amp, 2.5_mm2, &exists));
  CHECK(exists.find("20 A in 2.5 mm²") != std::string::npos);
  CHECK_FALSE(radial_floor_area(40_amp, 10_mm2));
  CHECK_FALSE(radial_floor_area(20_amp, 1.5_mm2));
  CHECK_FALSE(radial_floor_area(0_amp, 4_mm2));
}

TEST_CASE("supply: every row of supply_limits.tsv") {
  const std::map<std::string, std::pair<std::string, std::string>> shown{
      {"Ze TN-S (typical max)", {"Ze, TN-S", "0.8"}},
      {"Ze TN-C-S (typical max)", {"Ze, TN-C-S", "0.35"}},
      {"Ze TT", {"Ze, TT", "21"}},
      {"max Zs for 100 A cut-out, TN-C-S", {"100 A cut-out", "0.38"}},
      {"max PFC 1-phase", {"single-phase", "16"}},
      {"max PFC 3-phase", {"three-phase", "25"}},
      {"nominal U0", {"nominal 230 V", "216.2 to 253"}},
      {"frequency", {"frequency", "50 Hz"}},
      {"frequency tolerance", {"frequency tolerance", "1 %"}},
      {"prospective fault current to record", {"fault current to record", "the larger of"}},
      {"BS EN 61439-3 CU with declared PFC 16 kA", {"BS EN 61439-3", "16"}}};
  std::size_t seen = 0;
  for (const TsvRow& row : read_tsv("limits/supply_limits.tsv")) {
    CAPTURE(row.where());
    if (row["quantity"] == "voltage drop") {
      CHECK(has_row("drop", "lighting", "6.9", Provenance::published));
      CHECK(has_row("drop", "other uses", "11.5", Provenance::published));
      CHECK(has_row("drop", "private", "6 % lighting, 8 %", Provenance::published));
      CHECK(has_row("drop", "beyond 100 m", "0.005 %", Provenance::published));
      continue;
    }
    const auto found = shown.find(row["quantity"]);
    REQUIRE(found != shown.end());
    CHECK(
        has_row("supply", found->second.first, found->second.second, provenance_of(row["source"])));
    ++seen;
  }
  CHECK(seen == shown.size());
}

TEST_CASE("supply: three phases by √3, and the rule of thumb is on the safe side") {
  const auto exact = three_phase_fault_current(1.15_kiloamp);
  CHECK(exact.value.str() == "2.00");  // 1.9918…
  CHECK(exact.exact == "1.9918");
  CHECK(three_phase_rule_of_thumb(1.15_kiloamp).value > exact.value);
  CHECK(three_phase_fault_current(0_kiloamp).value.is_void());
  CHECK(three_phase_fault_current(Kiloamps(Decimal::void_value())).value.is_void());
}

TEST_CASE("bonding: the rest of bonding_sizes.tsv") {
  CHECK(supplementary_bonding_min(true, kNow).value == 2.5_mm2);
  CHECK(supplementary_bonding_min(false, kNow).value == 4_mm2);
  CHECK(electrode_conductor_min(kNow).value == 2.5_mm2);  // from memory: no published source at hand
  CHECK(electrode_conductor_min(kNow).provenance == Provenance::memory);
  CHECK(bonding_guide(kNow).value == 0.05_ohm);
  CHECK(supplementary_bonding_max(145_amp, false, kNow).value == 0.34_ohm);
  CHECK(supplementary_bonding_max(145_amp, true, kNow).value == 0.17_ohm);
  CHECK(supplementary_bonding_max(0_amp, false, kNow).value.is_void());
  for (const TsvRow& row : read_tsv("limits/bonding_sizes.tsv")) {
    if (row["item"] == "cross-check list") continue;
    CAPTURE(row.where());
    // Each of them stands among the rows that `limits --table bonding` prints.
    const std::string item = row["item"].substr(0, row["item"].find_first_of(",("));
    CHECK(has_row("bonding",
                  item.substr(item.starts_with("main protective") ? 16 : 0,
                              item.starts_with("main protective") ? 7 : 20),
                  "", Provenance::published));
  }
}

TEST_CASE("notification: every row of part_p.tsv, always to be confirmed") {
  const auto rows = notification_rows();
  for (const TsvRow& row : read_tsv("limits/part_p.tsv")) {
    CAPTURE(row.where());
    bool found = false;
    for (const Row& ours : rows)
      found = found || (ours.item == row["nation"] &&
                        row["source"].find(ours.source.substr(0, 12)) != std::string::npos);
    CHECK(found);
  }
  CHECK(rows.size() == read_tsv("limits/part_p.tsv").size());
  for (Nation nation :
       {Nation::england, Nation::wales, Nation::scotland, Nation::northern_ireland}) {
    CHECK(nation_from_name(name(nation)) == nation);
    for (DwellingWork work :
         {DwellingWork::new_circuit, DwellingWork::board_replacement,
          DwellingWork::special_location, DwellingWork::kitchen, DwellingWork::outdoors,
          DwellingWork::addition, DwellingWork::like_for_like}) {
      CHECK(work_from_name(name(work)) == work);
      CHECK(notification(nation, work).advice.ends_with("confirm with the local authority"));
      CHECK_FALSE(notification(nation, work).source.empty());
    }
  }
}

TEST_CASE("notification: England and Wales differ where their lists do") {
  CHECK(notification(Nation::england, DwellingWork::new_circuit).notify == Notify::yes);
  CHECK(notification(Nation::england, DwellingWork::kitchen).notify == Notify::probably_not);
  CHECK(notification(Nation::wales, DwellingWork::kitchen).notify == Notify::yes);
  CHECK(notification(Nation::wales, DwellingWork::outdoors).notify == Notify::yes);
  CHECK(notification(Nation::england, DwellingWork::special_location).notify == Notify::yes);
  CHECK(notification(Nation::scotland, DwellingWork::addition).notify == Notify::other_route);
}

TEST_CASE("arc-fault detection: required in some premises from A2 on, recommended elsewhere") {
  using enum Premises;
  for (Premises p : {high_rise, multiple_occupation, student, care_home}) {
    CHECK(arc_fault_detection(p, true, 32_amp, kNow).weight == Weight::required);
    CHECK(arc_fault_detection(p, true, 32_amp, Edition::y2018).weight == Weight::recommended);
    CHECK(arc_fault_detection(p, true, 40_amp, kNow).weight == Weight::not_asked);
    CHECK(arc_fault_detection(p, false, 16_amp, kNow).weight == Weight::not_asked);
  }
  CHECK(arc_fault_detection(dwelling, true, 32_amp, kNow).weight == Weight::recommended);
  for (Premises p : {dwelling, high_rise, multiple_occupation, student, care_home, other})
    CHECK(premises_from_name(name(p)) == p);
}

TEST_CASE("surge protection: only a declared loss lets it be left out") {
  SurgeRisk risk;
  CHECK(surge_protection(risk, kNow).weight == Weight::required);
  risk.owner_declined = true;
  CHECK(surge_protection(risk, kNow).weight == Weight::not_asked);
  risk.danger_to_life = true;
  CHECK(surge_protection(risk, kNow).weight == Weight::required);
  CHECK(surge_protection({}, Edition::y2018).weight == Weight::recommended);
}

TEST_CASE("words: every row of the tables of instruments, isolation and inspection") {
  for (const TsvRow& row : read_tsv("limits/instruments_61557.tsv")) {
    CAPTURE(row.where());
    CHECK(has_row("instruments", row["instrument"], row["max operating error"],
                  provenance_of(row["source"])));
    CHECK(has_row("instruments", row["instrument"], row["required test capability"],
                  provenance_of(row["source"])));
  }
  for (const TsvRow& row : read_tsv("limits/gs38_isolation.tsv")) {
    CAPTURE(row.where());
    CHECK(has_row("isolation", row["item"], row["value"], provenance_of(row["source"])));
  }
  std::size_t lines = 0;
  for (const TsvRow& row : read_tsv("limits/inspection_and_minor_works.tsv")) {
    CAPTURE(row.where());
    const char* table = row["set"].starts_with("inspection")    ? "inspection"
                        : row["set"].starts_with("minor works") ? "minor-works"
                                                                : "test-sequence";
    CHECK(has_row(table, "", row["item"], provenance_of(row["source"])));
    ++lines;
  }
  CHECK(lines == table_rows("inspection", kNow).size() + table_rows("minor-works", kNow).size() +
                     table_rows("test-sequence", kNow).size());
}

TEST_CASE("safe isolation: ten pairs on three phases, three on one (gs38_isolation.tsv)") {
  for (const TsvRow& row : read_tsv("limits/gs38_isolation.tsv")) {
    if (!row["item"].starts_with("dead test pairs")) continue;
    const auto commas = std::count(row["value"].begin(), row["value"].end(), ',');
    CHECK(commas + 1 == (row["item"].find("3-phase") == std::string::npos ? 3 : 10));
  }
}
