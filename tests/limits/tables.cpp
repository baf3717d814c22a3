#include <cmath>
#include <sstream>

#include "limits/cable_load.h"
#include "limits/capacity_tables.h"
#include "limits/conductor_tables.h"
#include "limits/k_values.h"
#include "limits/temperature.h"
#include "support.h"

// temp_factors.tsv, k_values.tsv, conductor_resistance_iec60228.tsv (every class), the 4D2 rows of
// ccc_4d5.tsv and vd_4d5.tsv; correction factors.

using namespace ohmleaf;
using namespace ohmleaf::test;

namespace {

std::vector<std::string> parts(const std::string& cell) {
  std::vector<std::string> out;
  std::stringstream in(cell);
  for (std::string part; std::getline(in, part, '/');) out.push_back(part);
  return out;
}

struct Key {
  KPlace place;
  KMetal metal;
  KInsulation insulation;
};

using enum KPlace;
using enum KMetal;
using enum KInsulation;

const std::vector<std::pair<std::string, std::vector<Key>>> kKeys{
    {"43.1|Cu 70 C thermoplastic", {{live, copper, thermoplastic_70}}},
    {"43.1|Cu 90 C thermoplastic", {{live, copper, thermoplastic_90}}},
    {"43.1|Cu 60 C thermosetting", {{live, copper, thermosetting_60}}},
    {"43.1|Cu 90 C thermosetting", {{live, copper, thermosetting_90}}},
    {"43.1|MI thermoplastic covered", {{live, copper, mineral_covered}}},
    {"43.1|MI bare (source prints 135/115)", {{live, copper, mineral_bare}}},
    {"54.2|Cu, not in cable/not bunched, 70 C thermoplastic", {{apart, copper, thermoplastic_70}}},
    {"54.2|Cu, not bunched, 90 C thermoplastic", {{apart, copper, thermoplastic_90}}},
    {"54.2|Cu, not bunched, 90 C thermosetting", {{apart, copper, thermosetting_90}}},
    {"54.2|Al 70 C", {{apart, aluminium, thermoplastic_70}}},
    {"54.2|Al 90 C thermoplastic", {{apart, aluminium, thermoplastic_90}}},
    {"54.2|Al thermosetting", {{apart, aluminium, thermosetting_90}}},
    {"54.2|steel 70/90 C thermoplastic",
     {{apart, steel, thermoplastic_70}, {apart, steel, thermoplastic_90}}},
    {"54.2|steel thermosetting", {{apart, steel, thermosetting_90}}},
    {"54.3|Cu, incorporated in cable or bunched, 70 C thermoplastic",
     {{in_cable, copper, thermoplastic_70}}},
    {"54.3|Cu, incorporated, 90 C thermoplastic", {{in_cable, copper, thermoplastic_90}}},
    {"54.3|Cu, incorporated, 90 C thermosetting", {{in_cable, copper, thermosetting_90}}},
    {"54.4|sheath/armour Al (70/90/90)",
     {{sheath, aluminium, thermoplastic_70},
      {sheath, aluminium, thermoplastic_90},
      {sheath, aluminium, thermosetting_90}}},
    {"54.4|sheath/armour steel",
     {{sheath, steel, thermoplastic_70},
      {sheath, steel, thermoplastic_90},
      {sheath, steel, thermosetting_90}}},
    {"54.4|sheath lead",
     {{sheath, lead, thermoplastic_70},
      {sheath, lead, thermoplastic_90},
      {sheath, lead, thermosetting_90}}},
    {"54.5|steel conduit, ducting, trunking (70/90 tp/90 ts)",
     {{conduit, steel, thermoplastic_70},
      {conduit, steel, thermoplastic_90},
      {conduit, steel, thermosetting_90}}},
    {"54.6|bare Cu visible & restricted / normal / fire risk",
     {{bare_visible, copper, KInsulation::none},
      {bare_normal, copper, KInsulation::none},
      {bare_fire_risk, copper, KInsulation::none}}},
    {"54.6|bare Al visible", {{bare_visible, aluminium, KInsulation::none}}},
    {"54.6|bare Al normal / fire risk",
     {{bare_normal, aluminium, KInsulation::none}, {bare_fire_risk, aluminium, KInsulation::none}}},
    {"54.6|bare steel visible / normal / fire risk",
     {{bare_visible, steel, KInsulation::none},
      {bare_normal, steel, KInsulation::none},
      {bare_fire_risk, steel, KInsulation::none}}},
    {"54.3|Al incorporated 70/90 tp/90 ts",
     {{in_cable, aluminium, thermoplastic_70},
      {in_cable, aluminium, thermoplastic_90},
      {in_cable, aluminium, thermosetting_90}}},
};

const std::vector<Key>* keys_of(const TsvRow& row) {
  for (const auto& [name, keys] : kKeys)
    if (name == row["table"] + "|" + row["conductor"]) return &keys;
  return nullptr;
}

const KRow* k_row(const Key& key) {
  for (const KRow& row : k_rows())
    if (row.place == key.place && row.metal == key.metal && row.insulation == key.insulation)
      return &row;
  return nullptr;
}

}  // namespace

TEST_CASE("temperature factors: every row of temp_factors.tsv") {
  int readings = 0, expectations = 0, operating = 0;
  for (const TsvRow& row : read_tsv("limits/temp_factors.tsv")) {
    CAPTURE(row.where());
    const std::string& direction = row["direction"];
    const bool to = direction.starts_with("measured at T to 20"),
               from = direction.starts_with("20 C value");
    if (to || from) {
      ++(to ? readings : expectations);
      bool found = false;
      for (const TemperatureFactorRow& ours : temperature_factor_rows())
        found = found || (ours.direction ==
                              (to ? FactorDirection::measured_to_20 : FactorDirection::from_20) &&
                          Decimal::integer(ours.celsius) == row.number("T_C") &&
                          ours.factor.str() == row["factor"] &&
                          ours.origin.provenance == provenance_of(row["source"]));
      CHECK(found);
      // The factor against its coefficient. uecables uses 0.00393, so three parts in a thousand.
      const double exact = real(temperature_factor(Celsius(row.number("T_C"))));
      CHECK(std::abs(real(row.number("factor")) - (to ? 1 / exact : exact)) < 0.004);
    } else if (direction.starts_with("OSG App B divisor")) {
      CHECK(tabulated_to_measured_divisor().value == row.number("factor"));
      CHECK(tabulated_to_measured_divisor().provenance == provenance_of(row["source"]));
    } else {
      ++operating;
      bool found = false;
      for (const OperatingFactorRow& ours : operating_factor_rows())
        found = found || (Decimal::integer(ours.celsius) == row.number("T_C") &&
                          ours.factor == row.number("factor") &&
                          ours.origin.provenance == provenance_of(row["source"]));
      CHECK(found);
      CHECK(temperature_factor(Celsius(row.number("T_C"))) == row.number("factor"));
    }
  }
  CHECK(readings + expectations == static_cast<int>(temperature_factor_rows().size()));
  CHECK(operating == static_cast<int>(operating_factor_rows().size()));
}

TEST_CASE("temperature factors: the two directions are reciprocal, and never confused") {
  for (int t : {5, 10, 15, 20, 25, 30}) {
    CAPTURE(t);
    const Celsius at(Decimal::integer(t));
    const auto to = published_temperature_factor(FactorDirection::measured_to_20, at);
    const auto from = published_temperature_factor(FactorDirection::from_20, at);
    REQUIRE(to);
    REQUIRE(from);
    CHECK(std::abs(real(to->value) * real(from->value) - 1) < 0.003);
    if (t < 20) CHECK(to->value > from->value);
    if (t > 20) CHECK(to->value < from->value);
  }
  CHECK_FALSE(published_temperature_factor(FactorDirection::measured_to_20, 12_celsius));
}

TEST_CASE("temperature: a resistance carried there and back") {
  const auto hot = at_temperature(1_ohm, 20_celsius, 70_celsius);
  REQUIRE(hot);
  CHECK(hot->value.str() == "1.200");
  const auto back = at_temperature(hot->value, 70_celsius, 20_celsius);
  CHECK(back->value == 1_ohm);
  CHECK_FALSE(at_temperature(ohms("-1"), 20_celsius, 70_celsius));
  CHECK_FALSE(at_temperature(1_ohm, celsius("-230"), 70_celsius));
}

TEST_CASE("k: every row of k_values.tsv") {
  std::size_t ours = 0;
  for (const TsvRow& row : read_tsv("limits/k_values.tsv")) {
    CAPTURE(row.where());
    const std::vector<Key>* keys = keys_of(row);
    REQUIRE(keys);
    const auto values = parts(row["k"]), finals = parts(row["final_C"]);
    for (std::size_t i = 0; i < keys->size(); ++i, ++ours) {
      const Key& key = (*keys)[i];
      const auto k = k_value(key.place, key.metal, key.insulation, 10_mm2);
      REQUIRE(k);
      CHECK(k->value == dec(values.size() == 1 ? values[0] : values[i]));
      CHECK(k->provenance == provenance_of(row["source"]));
      check_evidence(*k);
      CHECK(k_table(key.place) == row["table"]);
      const auto large = k_value(key.place, key.metal, key.insulation, 400_mm2);
      CHECK(large->value == (row.has("k_over_300mm2") ? row.number("k_over_300mm2") : k->value));
      const KRow* found = k_row(key);
      REQUIRE(found);
      if (row.has("initial_C")) CHECK(found->initial == row.number("initial_C"));
      if (row.has("final_C"))
        CHECK(found->final == dec(finals.size() == 1 ? finals[0] : finals[i]));
    }
  }
  CHECK(ours == k_rows().size());
}

TEST_CASE("k: follows from the temperatures where both are known") {
  // k = K √ln(1 + (θf − θi) ÷ (β + θi)), IEC 60364-5-54 (mycableengineering.com, calculation of k
  // factor): K and β are 226 and 234.5 for copper, 148 and 228 for aluminium, 78 and 202 for steel.
  // Tables round to whole numbers.
  int compared = 0;
  for (const KRow& row : k_rows()) {
    if (row.initial.is_void() || row.metal == lead) continue;
    const double factor = row.metal == copper ? 226 : row.metal == aluminium ? 148 : 78;
    const double beta = row.metal == copper ? 234.5 : row.metal == aluminium ? 228 : 202;
    CAPTURE(row.k.str());
    const double k =
        factor * std::sqrt(std::log((real(row.final) + beta) / (real(row.initial) + beta)));
    CHECK(std::abs(k - real(row.k)) < 1.5);
    ++compared;
  }
  CHECK(compared > 25);
}

TEST_CASE("k: what no row has says what the table has, and names go both ways") {
  std::string exists;
  CHECK_FALSE(k_value(conduit, copper, thermoplastic_70, 10_mm2, &exists));
  CHECK(exists.find("steel thermoplastic-70") != std::string::npos);
  for (const KRow& row : k_rows()) {
    CHECK(k_place_from_name(name(row.place)) == row.place);
    CHECK(k_metal_from_name(name(row.metal)) == row.metal);
    CHECK(k_insulation_from_name(name(row.insulation)) == row.insulation);
  }
  CHECK_FALSE(k_metal_from_name("gold"));
}

TEST_CASE("resistance by class: every row of conductor_resistance_iec60228.tsv") {
  std::size_t ours = 0;
  for (ConductorClass c : {ConductorClass::solid_or_stranded, ConductorClass::stranded_tinned,
                           ConductorClass::flexible, ConductorClass::flexible_tinned})
    ours += resistance_rows(c).size();
  const auto rows = read_tsv("limits/conductor_resistance_iec60228.tsv");
  CHECK(ours == rows.size());
  for (const TsvRow& row : rows) {
    CAPTURE(row.where());
    const ConductorClass c = row["class"] == "1 and 2 (plain Cu)"
                                 ? ConductorClass::solid_or_stranded
                             : row["class"] == "2 (tinned Cu)" ? ConductorClass::stranded_tinned
                             : row["class"] == "5 (plain Cu)"  ? ConductorClass::flexible
                                                               : ConductorClass::flexible_tinned;
    const auto found = resistance_per_metre(SquareMm(row.number("csa_mm2")), c);
    REQUIRE(found);
    CHECK(found->value.str() == row["Rmax_ohm_per_km_20C"]);
    CHECK(found->provenance == Provenance::published);
  }
}

TEST_CASE("resistance by class: a tinned conductor never has less, within a class") {
  for (const SquareMm& size : known_sizes()) {
    const auto plain = resistance_per_metre(size, ConductorClass::flexible);
    const auto tinned = resistance_per_metre(size, ConductorClass::flexible_tinned);
    CHECK(plain.has_value() == tinned.has_value());
    if (plain) CHECK(tinned->value > plain->value);
  }
}

TEST_CASE("capacity: every 4D2A row of ccc_4d5.tsv") {
  std::size_t rows = 0;
  for (const TsvRow& row : read_tsv("limits/ccc_4d5.tsv")) {
    if (row["table"] != "4D2A") continue;
    CAPTURE(row.where());
    ++rows;
    const auto found = capacity(CableKind::multicore, SquareMm(row.number("csa_mm2")),
                                row["reference_method"], Phases::single);
    REQUIRE(found);
    CHECK(found->value.str() == row["It_A_30C"]);
    CHECK(found->provenance == provenance_of(row["source"]));
    check_evidence(*found);
  }
  CHECK(rows == multicore_capacity_rows().size());
}

TEST_CASE("capacity: singles rise with size, and carry no less than multicore") {
  for (const char* method : {"A", "B", "C"}) {
    Amps last(dec("0"));
    for (const char* size : {"1.0", "1.5", "2.5", "4", "6", "10", "16"}) {
      CAPTURE(size);
      const auto found = capacity(CableKind::singles, mm2(size), method, Phases::single);
      REQUIRE(found);
      CHECK(found->provenance == Provenance::published);
      CHECK(found->value > last);
      CHECK(found->value >=
            capacity(CableKind::multicore, mm2(size), method, Phases::single)->value);
      last = found->value;
    }
  }
  std::string exists;
  CHECK_FALSE(capacity(CableKind::singles, 3_mm2, "B", Phases::single, &exists));
  CHECK(exists.find("1, 1.5, 2.5, 4, 6, 10 and 16 mm² by reference methods A, B and C") !=
        std::string::npos);
}

TEST_CASE("volt drop: every row of vd_4d5.tsv by the cable that it is about") {
  for (const TsvRow& row : read_tsv("limits/vd_4d5.tsv")) {
    CAPTURE(row.where());
    const SquareMm size(row.number("csa_mm2"));
    const bool twin = row["table"].starts_with("4D5");
    const auto multicore = drop_per_amp_metre(CableKind::multicore, size, Phases::single);
    REQUIRE(multicore);
    CHECK(multicore->value.str() == row["mV_per_A_per_m"]);
    CHECK(multicore->provenance == provenance_of(row["source"]));
    CHECK(drop_per_amp_metre(CableKind::twin_earth, size, Phases::single).has_value() == twin);
    const auto singles = drop_per_amp_metre(CableKind::singles, size, Phases::single);
    CHECK(singles.has_value() == twin);
    if (singles) CHECK(singles->provenance == Provenance::published);
  }
}

TEST_CASE("correction factors: near their own formula") {
  // √((θ − T) ÷ (θ − 30)); the printed table is 1.03 at 25 °C where this gives 1.06.
  for (int t : {30, 35, 40, 45, 50, 55, 60}) {
    CAPTURE(t);
    const Celsius at(Decimal::integer(t));
    const auto tp = ambient_factor(CableInsulation::thermoplastic_70, at);
    const auto ts = ambient_factor(CableInsulation::thermosetting_90, at);
    REQUIRE(tp);
    REQUIRE(ts);
    CHECK(std::abs(real(tp->value) - std::sqrt((70.0 - t) / 40)) < 0.006);
    CHECK(std::abs(real(ts->value) - std::sqrt((90.0 - t) / 60)) < 0.006);
    check_evidence(*tp);
  }
  // Between two temperatures the hotter one counts.
  CHECK(ambient_factor(CableInsulation::thermoplastic_70, 31_celsius)->value == dec("0.94"));
  std::string exists;
  CHECK_FALSE(ambient_factor(CableInsulation::thermoplastic_70, 61_celsius, &exists));
  CHECK(exists.find("25 to 60 °C") != std::string::npos);
  CHECK_FALSE(ambient_factor(CableInsulation::thermoplastic_70, Celsius(Decimal::void_value())));
}

TEST_CASE("thermal insulation: longer is never kinder, half a metre is the half") {
  Decimal last = dec("1");
  for (int length = 1; length < 900; length += 20) {
    const auto factor = thermal_insulation_factor(Millimetres(Decimal::integer(length)));
    REQUIRE(factor);
    CHECK(factor->value <= last);
    last = factor->value;
  }
  CHECK(last == dec("0.50"));
  CHECK_FALSE(thermal_insulation_factor(0_mm));
}

TEST_CASE("Ib ≤ In ≤ Iz: each of the two can fail") {
  const auto cable = capacity(CableKind::twin_earth, 2.5_mm2, "C", Phases::single);
  REQUIRE(cable);
  CHECK(coordinate(16_amp, 20_amp, *cable).holds());
  CHECK(coordinate(20_amp, 20_amp, *cable).holds());
  CHECK_FALSE(coordinate(21_amp, 20_amp, *cable).design_within_rating);
  CHECK(coordinate(16_amp, 27_amp, *cable).holds());
  CHECK_FALSE(coordinate(16_amp, 32_amp, *cable).rating_within_capacity);
  CHECK(coordinate(16_amp, 20_amp, *cable).derivation == "Ib 16 A ≤ In 20 A ≤ Iz 27 A");
  CHECK(coordinate(16_amp, 32_amp, *cable).derivation == "Ib 16 A ≤ In 32 A > Iz 27 A");
  CHECK_FALSE(coordinate(Amps(Decimal::void_value()), 20_amp, *cable).holds());
}

TEST_CASE("Iz: factors multiply, rounded down; a figure from memory outweighs") {
  const auto cable = capacity(CableKind::twin_earth, 2.5_mm2, "C", Phases::single);
  const auto iz = corrected_capacity(
      *cable,
      {*ambient_factor(CableInsulation::thermoplastic_70, 35_celsius), semi_enclosed_factor()});
  CHECK(iz.value.str() == "18.4");  // 27 × 0.94 × 0.725 = 18.4005
  CHECK(iz.exact == "18.4005");
  CHECK(iz.derivation == "27 A × 0.94 × 0.725 = 18.4005 A");
  CHECK(cable->provenance == Provenance::published);
  CHECK(iz.provenance == Provenance::computed);
  const Factor remembered{dec("0.9"), {}, "0.9", "a factor", "from memory", Provenance::memory};
  CHECK(corrected_capacity(*cable, {remembered}).provenance == Provenance::memory);
  CHECK(corrected_capacity(*cable, {}).value == cable->value);
}
