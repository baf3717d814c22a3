#include <cmath>

#include "support.h"

// Readings taken at ambient: the 80 % guide and the exact correction.

using namespace ohmleaf;
using namespace ohmleaf::test;

namespace {

Limit<Ohms> zs_of(std::string_view text) {
  const auto limit = max_zs(device(text), 0.4_sec, Edition::y2026);
  REQUIRE(limit);
  return *limit;
}

}  // namespace

TEST_CASE("80 % guide: of the printed value, rounded down") {
  CHECK(measured_guide(zs_of("B32")).value.str() == "1.09");
  CHECK(measured_guide(zs_of("B32")).exact == "1.096");
  CHECK(measured_guide(zs_of("B32")).derivation ==
        "1.37 Ω × 0.8 = 1.096 Ω; rounded down to 1.09 Ω");
  CHECK(measured_guide(zs_of("B6")).value.str() == "5.82");
  CHECK(measured_guide(zs_of("B32")).provenance == Provenance::computed);
  CHECK(measured_guide(zs_of("BS 3036 30")).provenance == Provenance::computed);
  // At 0.1 s a breaker's limit rests on memory, and so does its guide.
  CHECK(measured_guide(*max_zs(device("B32"), 0.1_sec, Edition::y2026)).provenance ==
        Provenance::memory);
}

TEST_CASE("80 % guide: every breaker row, against the list's exact product") {
  for (const TsvRow& row : read_tsv("limits/mcb_zs.tsv")) {
    CAPTURE(row.where());
    const auto limit =
        max_zs(device(row["type"] + row["In_A"]), seconds(row["disc_time_s"]), Edition::y2026);
    REQUIRE(limit);
    const auto guide = measured_guide(*limit);
    // The list multiplies the unrounded value: ours differs by the rounding of the printed one.
    CHECK((guide.value.decimal() - row.number("zs18_x0.8_exact_ohm")).abs() <= dec("0.014"));
    CHECK(guide.value < limit->value);
    CHECK(guide.value.decimal() <= limit->value.decimal() * dec("0.8"));
  }
}

TEST_CASE("exact correction: Ze stays, the cable is corrected") {
  // By hand: 0.35 + (1.37 − 0.35) × 1.00 ÷ 1.20 = 1.20 at 20 °C; × 0.96 ÷ 1.20 = 1.166 at 10 °C.
  const auto at_20 = measured_exact(zs_of("B32"), 0.35_ohm, 20_celsius, 70_celsius);
  CHECK(at_20.value.str() == "1.20");
  const auto at_10 = measured_exact(zs_of("B32"), 0.35_ohm, 10_celsius, 70_celsius);
  CHECK(at_10.value.str() == "1.16");
  CHECK(at_10.exact == "1.166");
  CHECK(at_10.derivation.find("tested at 10 °C, in service 70 °C") != std::string::npos);
}

TEST_CASE("exact correction: without Ze at 10 °C it is the 80 % guide") {
  for (const char* text : {"B6", "B32", "C16", "D50", "BS 88-3 32"}) {
    CAPTURE(text);
    CHECK(measured_exact(zs_of(text), 0_ohm, 10_celsius, 70_celsius).value ==
          measured_guide(zs_of(text)).value);
  }
}

TEST_CASE("exact correction: never generous where the figures make no sense") {
  const auto zs = zs_of("B32");
  // Ze above the limit, negative or lost: the whole loop counts as cable.
  for (const Ohms& ze : {2_ohm, Ohms(dec("-1")), Ohms(Decimal::void_value())}) {
    const auto limit = measured_exact(zs, ze, 20_celsius, 70_celsius);
    CHECK(limit.value.str() == "1.14");
    CHECK(limit.derivation.find("Ze is not usable") != std::string::npos);
  }
  // A cable tested hotter than in service gains nothing.
  CHECK(measured_exact(zs, 0.2_ohm, 90_celsius, 70_celsius).value <= zs.value);
  // A temperature at which the formula has no meaning passes nothing.
  CHECK(measured_exact(zs, 0.2_ohm, Celsius(dec("-300")), 70_celsius).value.is_void());
}

TEST_CASE("exact correction: between the guide and the limit, and falls as it gets colder") {
  const auto zs = zs_of("C20");
  Ohms last = zs.value;
  for (int t = 70; t >= -10; t -= 10) {
    CAPTURE(t);
    const auto limit = measured_exact(zs, 0.2_ohm, Celsius(Decimal::integer(t)), 70_celsius);
    CHECK(limit.value <= last);
    const double hand = 0.2 + (1.09 - 0.2) * (1 + 0.004 * (t - 20)) / 1.2;
    CHECK(real(limit.value) == doctest::Approx(std::floor(hand * 100 + 1e-9) / 100));
    last = limit.value;
  }
}
