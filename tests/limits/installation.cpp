#include <cmath>

#include "support.h"

// bonding_sizes.tsv, supply_limits.tsv (what has a function here), ccc_4d5.tsv (4D5), vd_4d5.tsv,
// the adiabatic equation, additional protection.

using namespace ohmleaf;
using namespace ohmleaf::test;

namespace {

const Edition kNow = Edition::y2026;

std::optional<Limit<SquareMm>> pme(std::string_view neutral) {
  return min_main_bonding(Earthing::tn_c_s, mm2(neutral), std::nullopt, kNow);
}
std::optional<Limit<SquareMm>> half(std::string_view earthing) {
  return min_main_bonding(Earthing::tt, std::nullopt, mm2(earthing), kNow);
}

}  // namespace

TEST_CASE("bonding: the PME rows of bonding_sizes.tsv, at both ends") {
  struct Case {
    const char *condition, *low, *high;
  };
  const Case cases[] = {{"supply neutral <=35", "16", "35"},
                        {">35 to 50", "35.1", "50"},
                        {">50 to 95", "50.1", "95"},
                        {">95 to 150", "95.1", "150"},
                        {">150", "150.1", "300"}};
  int matched = 0;
  for (const TsvRow& row : read_tsv("limits/bonding_sizes.tsv")) {
    for (const Case& c : cases) {
      if (row["condition"] != c.condition) continue;
      CAPTURE(row.where());
      ++matched;
      for (const char* neutral : {c.low, c.high}) {
        const auto limit = pme(neutral);
        REQUIRE(limit);
        CHECK(limit->value.str() == row["size_mm2_Cu"]);
        CHECK(limit->sense == Sense::at_least);
        CHECK(limit->provenance == Provenance::published);
        check_evidence(*limit);
      }
    }
  }
  CHECK(matched == 5);
}

TEST_CASE(
    "bonding: a second source, Locke Table E4.6, agrees (bonding_sizes.tsv cross-check list)") {
  const struct {
    const char *neutral, *size;
  } list[] = {{"25", "10"}, {"35", "10"},  {"50", "16"},  {"70", "25"},
              {"95", "25"}, {"120", "35"}, {"150", "35"}, {"185", "50"}};
  for (const auto& c : list) CHECK(pme(c.neutral)->value == mm2(c.size));
}

TEST_CASE("bonding: elsewhere half the earthing conductor, 6 to 25 mm²") {
  CHECK(half("6")->value.str() == "6");
  CHECK(half("10")->value.str() == "6");
  CHECK(half("16")->value.str() == "10");
  CHECK(half("16")->exact == "8");
  CHECK(half("25")->value.str() == "16");
  CHECK(half("50")->value.str() == "25");
  CHECK(half("95")->value.str() == "25");
  CHECK(half("95")->derivation.find("need not exceed 25 mm²") != std::string::npos);
}

TEST_CASE("bonding: nothing where the size that decides is not given") {
  CHECK_FALSE(min_main_bonding(Earthing::tn_c_s, std::nullopt, 16_mm2, kNow));
  CHECK_FALSE(min_main_bonding(Earthing::tn_s, 25_mm2, std::nullopt, kNow));
  CHECK_FALSE(pme("0"));
  CHECK_FALSE(half("-16"));
  CHECK_FALSE(min_main_bonding(Earthing::tt, {}, SquareMm(Decimal::void_value()), kNow));
}

TEST_CASE("protective conductor: table 54.7 (bonding_sizes.tsv)") {
  const auto least = [](std::string_view line) {
    return min_protective_conductor(mm2(line), kNow);
  };
  for (const char* same : {"1.0", "1.5", "2.5", "4", "10", "16"})
    CHECK(least(same).value.str() == same);
  CHECK(least("25").value.str() == "16");
  CHECK(least("35").value.str() == "16");
  CHECK(least("50").value.str() == "25");
  CHECK(least("70").value.str() == "35");
  CHECK(least("95").value.str() == "50");  // 47.5: the next size made
  CHECK(least("95").exact == "47.5");
  CHECK(least("0").value.is_void());
  CHECK(least("25").provenance == Provenance::published);
}

TEST_CASE("bonding resistance: the length decides, 0.05 Ω does not (conflicts.tsv)") {
  CHECK(bonding_resistance(10_mm2, 27_metre)->value.str() == "0.049");
  CHECK(bonding_resistance(6_mm2, 16_metre)->value.str() == "0.049");
  CHECK(bonding_resistance(16_mm2, 43_metre)->value.str() == "0.049");
  CHECK(bonding_resistance(4_mm2, 20_metre)->value > 0.05_ohm);
  CHECK(bonding_resistance(10_mm2, 27_metre)->source.find("not a limit") != std::string::npos);
  CHECK_FALSE(bonding_resistance(12_mm2, 27_metre));
}

TEST_CASE("adiabatic: both ways return the input") {
  for (const char* i : {"60", "120", "435", "1150", "3000"}) {
    for (const char* t : {"0.1", "0.4", "1", "5"}) {
      for (const char* k : {"115", "143", "52"}) {
        CAPTURE(i);
        CAPTURE(t);
        CAPTURE(k);
        const auto size = adiabatic_size(amps(i), seconds(t), dec(k));
        const double exact = real(dec(i)) * std::sqrt(real(dec(t))) / real(dec(k));
        CHECK(real(size.value) >= exact - 1e-9);
        CHECK(real(size.value) < exact + 0.0101);
        // The section, rounded up, carries the current at least as long.
        const auto time = adiabatic_time(amps(i), size.value, dec(k));
        CHECK(time.value >= seconds(t));
        CHECK(real(time.value) <= real(dec(t)) * std::pow(1 + 0.0101 / exact, 2));
      }
    }
  }
}

TEST_CASE("adiabatic: words, safe sides and nonsense") {
  const auto size = adiabatic_size(3000_amp, 0.4_sec, dec("115"));
  CHECK(size.value.str() == "16.50");
  CHECK(size.exact == "16.4988");
  CHECK(size.derivation.starts_with("√((3000 A)² × 0.4 s) ÷ 115 = 16.4988 mm²"));
  CHECK(adiabatic_size(100_amp, 6_sec, dec("115")).derivation.find("beyond 5 s") !=
        std::string::npos);
  // A large fault current is not shown as 0.00 s.
  CHECK(adiabatic_time(3000_amp, 1.5_mm2, dec("115")).value.str() == "0.0033");
  CHECK(adiabatic_size(0_amp, 0.4_sec, dec("115")).value.is_void());
  CHECK(adiabatic_size(100_amp, seconds("-1"), dec("115")).value.is_void());
  CHECK(adiabatic_time(100_amp, 1.5_mm2, dec("0")).value.is_void());
  CHECK(adiabatic_size(amps("999999999999"), 5_sec, dec("1")).value.is_void());
}

TEST_CASE("capacity: every 4D5 row of ccc_4d5.tsv") {
  int rows = 0;
  for (const TsvRow& row : read_tsv("limits/ccc_4d5.tsv")) {
    if (row["table"] != "4D5") continue;
    CAPTURE(row.where());
    ++rows;
    const auto found =
        capacity_twin_earth(SquareMm(row.number("csa_mm2")), row["reference_method"]);
    REQUIRE(found);
    CHECK(found->value.str() == row["It_A_30C"]);
    CHECK(found->provenance == provenance_of(row["source"]));
    check_evidence(*found);
  }
  CHECK(rows == 42);
  CHECK(capacity_twin_earth(2.5_mm2, " c "));
  CHECK_FALSE(capacity_twin_earth(2.5_mm2, "E"));
  CHECK_FALSE(capacity_twin_earth(25_mm2, "C"));
}

TEST_CASE("capacity: rises with the size, method C carries most") {
  for (const char* method : {"100", "101", "102", "103", "A", "C"}) {
    Amps last(dec("0"));
    for (const char* size : {"1.0", "1.5", "2.5", "4", "6", "10", "16"}) {
      const auto found = capacity_twin_earth(mm2(size), method);
      REQUIRE(found);
      CHECK(found->value > last);
      CHECK(found->value <= capacity_twin_earth(mm2(size), "C")->value);
      last = found->value;
    }
  }
}

TEST_CASE("volt drop: every 4D5 row of vd_4d5.tsv, and against the conductor's resistance") {
  int rows = 0;
  for (const TsvRow& row : read_tsv("limits/vd_4d5.tsv")) {
    CAPTURE(row.where());
    // A route of its own: there and back, 20 °C to 70 °C.
    const SquareMm size(row.number("csa_mm2"));
    const double from_r = 2 * real(resistance_per_metre(size)->value) * 1.2;
    CHECK(from_r == doctest::Approx(real(row.number("check_2xRx1.20"))).epsilon(0.001));
    CHECK(from_r == doctest::Approx(real(row.number("mV_per_A_per_m"))).epsilon(0.02));
    if (!row["table"].starts_with("4D5")) continue;
    ++rows;
    const auto found = drop_twin_earth(size);
    REQUIRE(found);
    CHECK(found->value.str() == row["mV_per_A_per_m"]);
    CHECK(found->provenance == provenance_of(row["source"]));
    check_evidence(*found);
  }
  CHECK(rows == 7);
}

TEST_CASE("volt drop: of a run, rounded up, against 3 and 5 %") {
  const auto drop = volt_drop(2.5_mm2, 18_metre, 16_amp);
  REQUIRE(drop);
  CHECK(drop->value.str() == "5.19");  // 5.184
  CHECK(drop->exact == "5.184");
  CHECK(drop->derivation == "18 mV/A/m × 16 A × 18 m ÷ 1000 = 5.184 V");
  CHECK(max_volt_drop(true, kNow).printed() == "≤ 6.9 V");
  CHECK(max_volt_drop(false, kNow).printed() == "≤ 11.5 V");
  CHECK_FALSE(volt_drop(25_mm2, 18_metre, 16_amp));
  CHECK_FALSE(volt_drop(2.5_mm2, metres("-1"), 16_amp));
  CHECK_FALSE(volt_drop(2.5_mm2, 1_metre, 0_amp));
}

TEST_CASE("supply: declared maxima of Ze (supply_limits.tsv, SSEN)") {
  CHECK(declared_max_ze(Earthing::tn_s, kNow)->printed() == "≤ 0.8 Ω");
  CHECK(declared_max_ze(Earthing::tn_c_s, kNow)->printed() == "≤ 0.35 Ω");
  CHECK_FALSE(declared_max_ze(Earthing::tt, kNow));
  CHECK(declared_max_ze(Earthing::tn_s, kNow)->provenance == Provenance::published);
}

TEST_CASE("fault current: rounded up against the breaking capacity") {
  CHECK(fault_current(0.28_ohm, 230_volt).value.str() == "822");
  CHECK(fault_current(0.28_ohm, 230_volt).exact == "821.4285");
  CHECK(fault_current(0.2_ohm, 230_volt).value.str() == "1150");
  CHECK(fault_current(0_ohm, 230_volt).value.is_void());
  CHECK(fault_current(ohms("-0.2"), 230_volt).value.is_void());
  const auto limit = max_fault_current(6_kiloamp, kNow);
  CHECK(limit.printed() == "≤ 6 kA");
  CHECK(limit.provenance == Provenance::maker);
  CHECK(to_amps(limit.value) == 6000_amp);
}

TEST_CASE("additional protection: who asks for 30 mA, and since when") {
  CircuitPlace place;
  CHECK(additional_protection(place, kNow).empty());
  place = {true, true, true, true, true};
  CHECK(additional_protection(place, kNow).size() == 5);
  CHECK(additional_protection(place, Edition::y2008).size() == 4);  // luminaires came later
  for (const auto& need : additional_protection(place, kNow)) {
    const bool remembered = need.source.find("from memory") != std::string::npos;
    CHECK(need.provenance == (remembered ? Provenance::memory : Provenance::published));
    CHECK_FALSE(need.reason.empty());
  }
  place = {};
  place.socket_outlets = true;
  CHECK(additional_protection(place, Edition::y2008).front().reason.find("20 A") !=
        std::string::npos);
  CHECK(additional_protection(place, kNow).front().reason.find("32 A") != std::string::npos);
}
