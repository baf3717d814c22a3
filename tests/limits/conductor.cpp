#include <cmath>

#include "support.h"

// conductor_resistance_iec60228.tsv (class 1 and 2), r1r2.tsv, ring_examples.tsv.

using namespace ohmleaf;
using namespace ohmleaf::test;

TEST_CASE("resistance per metre: every class 1 and 2 row of the table") {
  std::size_t rows = 0;
  for (const TsvRow& row : read_tsv("limits/conductor_resistance_iec60228.tsv")) {
    if (row["class"] != "1 and 2 (plain Cu)") continue;
    CAPTURE(row.where());
    const auto found = resistance_per_metre(SquareMm(row.number("csa_mm2")));
    REQUIRE(found);
    CHECK(found->value.str() == row["Rmax_ohm_per_km_20C"]);
    CHECK(found->provenance == Provenance::published);
    check_evidence(*found);
    ++rows;
  }
  CHECK(known_sizes().size() == rows);
}

TEST_CASE("resistance per metre: near the resistivity of copper, and falls with size") {
  // A route of its own: ρ = 17.24 Ω mm²/km of annealed copper; maxima lie up to 9 % above.
  MilliohmsPerMetre last(dec("1000"));
  for (const SquareMm& size : known_sizes()) {
    CAPTURE(size.str());
    const auto found = resistance_per_metre(size);
    REQUIRE(found);
    CHECK(found->value < last);
    last = found->value;
    const double ratio = real(found->value) * real(size) / 17.24;
    CHECK(ratio > 1.0);
    CHECK(ratio < 1.13);
  }
}

TEST_CASE("resistance per metre: a size that is not made has none") {
  for (const char* size : {"0", "-2.5", "3", "2.50001", "1000"})
    CHECK_FALSE(resistance_per_metre(mm2(size)));
  CHECK(resistance_per_metre(mm2("2.50")));
  CHECK_FALSE(resistance_per_metre(SquareMm(Decimal::void_value())));
}

TEST_CASE("R1+R2: every row of r1r2.tsv") {
  for (const TsvRow& row : read_tsv("limits/r1r2.tsv")) {
    CAPTURE(row.where());
    std::optional<SquareMm> cpc;
    if (row.has("cpc_mm2")) cpc = SquareMm(row.number("cpc_mm2"));
    const SquareMm line(row.number("line_mm2"));
    // A kilometre shows mΩ/m as ohms without rounding.
    const auto km = expected_r1r2(line, cpc, 1000_metre, 20_celsius);
    REQUIRE(km);
    CHECK(dec(km->exact) == row.number("R1+R2_mohm_per_m_20C"));
    const auto hot = expected_r1r2(line, cpc, 1000_metre, 70_celsius);
    REQUIRE(hot);
    CHECK((dec(hot->exact) - row.number("x1.20_mohm_per_m_(70C, cpc incorporated)")).abs() <=
          dec("0.0005"));
    if (row.has("R1+R2_ohm_at_50m_20C")) {
      const auto run = expected_r1r2(line, cpc, 50_metre, 20_celsius);
      REQUIRE(run);
      CHECK((dec(run->exact) - row.number("R1+R2_ohm_at_50m_20C")).abs() <= dec("0.00005"));
    }
  }
}

TEST_CASE("R1+R2: the derivation reads like a note") {
  const auto run = expected_r1r2(2.5_mm2, 1.5_mm2, 22_metre, 20_celsius);
  REQUIRE(run);
  CHECK(run->value.with_unit() == "0.429 Ω");
  CHECK(run->exact == "0.42922");
  CHECK(run->derivation == "(7.41 + 12.1) mΩ/m × 22 m ÷ 1000 = 0.42922 Ω");
  const auto hot = expected_r1r2(2.5_mm2, 1.5_mm2, 22_metre, 70_celsius);
  CHECK(hot->derivation.find("× 1.2 (20 °C to 70 °C)") != std::string::npos);
}

TEST_CASE("R1+R2: rises with length and temperature, falls with size") {
  Ohms last(dec("0"));
  for (int length = 1; length < 200; length += 9) {
    const auto run = expected_r1r2(2.5_mm2, 1.5_mm2, Metres(Decimal::integer(length)), 20_celsius);
    CHECK(run->value > last);
    last = run->value;
  }
  last = Ohms(dec("0"));
  for (int t = -20; t <= 90; t += 5) {
    const auto run = expected_r1r2(2.5_mm2, 1.5_mm2, 50_metre, Celsius(Decimal::integer(t)));
    CHECK(run->value > last);
    last = run->value;
    CHECK(real(dec(run->exact)) == doctest::Approx(19.51 * 50 / 1000 * (1 + 0.004 * (t - 20))));
  }
  last = Ohms(dec("9999"));
  for (const SquareMm& size : known_sizes()) {
    const auto run = expected_r1r2(size, size, 50_metre, 20_celsius);
    CHECK(run->value < last);
    last = run->value;
  }
}

TEST_CASE("R1+R2: what cannot be has no value") {
  CHECK_FALSE(expected_r1r2(2.5_mm2, 1.5_mm2, metres("-5"), 20_celsius));
  CHECK_FALSE(expected_r1r2(2.5_mm2, 1.5_mm2, 0_metre, 20_celsius));
  CHECK_FALSE(expected_r1r2(3_mm2, 1.5_mm2, 5_metre, 20_celsius));
  CHECK_FALSE(expected_r1r2(2.5_mm2, 3_mm2, 5_metre, 20_celsius));
  CHECK_FALSE(expected_r1r2(2.5_mm2, 1.5_mm2, 5_metre, celsius("-230")));
  CHECK_FALSE(expected_r1r2(2.5_mm2, 1.5_mm2, Metres(Decimal::void_value()), 20_celsius));
  CHECK_FALSE(expected_r1r2(2.5_mm2, 1.5_mm2, metres("999999999999999999"), 20_celsius));
}

TEST_CASE("length from R1+R2: the way back") {
  for (const char* length : {"1", "7.5", "22", "43", "99.9"}) {
    for (const char* t : {"5", "20", "70"}) {
      CAPTURE(length);
      const auto run = expected_r1r2(2.5_mm2, 1.5_mm2, metres(length), celsius(t));
      const auto back = length_for(2.5_mm2, 1.5_mm2, run->value, celsius(t));
      REQUIRE(back);
      CHECK((back->value.decimal() - dec(length)).abs() <= dec("0.1"));
      // Rounded down: never a length that would give more than the reading.
      CHECK(dec(expected_r1r2(2.5_mm2, 1.5_mm2, back->value, celsius(t))->exact) <=
            run->value.decimal());
    }
  }
  CHECK_FALSE(length_for(2.5_mm2, 1.5_mm2, ohms("-1"), 20_celsius));
  CHECK_FALSE(length_for(3_mm2, 1.5_mm2, 1_ohm, 20_celsius));
}

TEST_CASE("ring: every row of ring_examples.tsv") {
  for (const TsvRow& row : read_tsv("limits/ring_examples.tsv")) {
    CAPTURE(row.where());
    const Ohms r1(row.number("r1_ohm")), rn(row.number("rn_ohm")), r2(row.number("r2_ohm"));
    const Ring found = ring(r1, rn, r2, std::nullopt, std::nullopt);
    CHECK((found.line_neutral.value.decimal() - row.number("(r1+rn)/4")).abs() <= dec("0.00005"));
    CHECK((found.line_cpc.value.decimal() - row.number("(r1+r2)/4")).abs() <= dec("0.00005"));
    CHECK_FALSE(found.expected_r2);
    // By the physics: with the halves of length x and 1−x cross-connected, line–cpc at mid-ring.
    const double a = real(r1), b = real(r2);
    const double mid = (a / 2 + b / 2) / 2;
    CHECK(real(found.line_cpc.value) == doctest::Approx(mid));
    CHECK(mid == doctest::Approx(real(row.number("step3_mid x=0.5"))).epsilon(0.001));
    const bool agree = (r1 - rn).abs() <= ring_line_neutral_tolerance(Edition::y2026).value;
    CHECK(agree == (row["|r1-rn|<=0.05"] == "yes"));
  }
}

TEST_CASE("ring: r2 is expected from the resistances, not from the areas") {
  const Ring found = ring(0.741_ohm, 0.741_ohm, 1.21_ohm, 2.5_mm2, 1.5_mm2);
  REQUIRE(found.expected_r2);
  CHECK(found.expected_r2->value == 1.21_ohm);
  CHECK(found.expected_r2->derivation.find("ratio 1.633") != std::string::npos);
  CHECK(ring(0.32_ohm, 0.33_ohm, 0.52_ohm, 2.5_mm2, 1.5_mm2).expected_r2->exact == "0.5225");
  CHECK_FALSE(ring(0.32_ohm, 0.33_ohm, 0.52_ohm, 3_mm2, 1.5_mm2).expected_r2);
}

TEST_CASE("ring: exact quarters, and nothing from nonsense") {
  const Ring found = ring(0.32_ohm, 0.33_ohm, 0.52_ohm, {}, {});
  CHECK(found.line_neutral.value.str() == "0.1625");
  CHECK(found.line_cpc.value.str() == "0.21");
  CHECK(ring(ohms("-0.3"), 0.3_ohm, 0.5_ohm, {}, {}).line_neutral.value.is_void());
  CHECK(ring(Ohms(Decimal::void_value()), 0.3_ohm, 0.5_ohm, {}, {}).line_cpc.value.is_void());
}
