#include "quantity/units.h"

#include <doctest/doctest.h>

#include <type_traits>

using namespace ohmleaf;

namespace {

template <class A, class B>
concept Addable = requires(A a, B b) {
  a + b;
};
template <class A, class B>
concept Comparable = requires(A a, B b) {
  a < b;
};

// Units that differ do not meet, and a bare number is no quantity.
static_assert(Addable<Ohms, Ohms>);
static_assert(!Addable<Ohms, Megohms>);
static_assert(!Addable<Ohms, Volts>);
static_assert(Comparable<Millis, Millis>);
static_assert(!Comparable<Millis, Seconds>);
static_assert(!Comparable<Kiloamps, Amps>);
static_assert(!std::is_convertible_v<Decimal, Ohms>);
static_assert(!std::is_convertible_v<double, Ohms>);
static_assert(!std::is_constructible_v<Ohms, double>);

}  // namespace

TEST_CASE("units: printed with their symbol, as written") {
  CHECK((1.37_ohm).with_unit() == "1.37 Ω");
  CHECK((1.0_megohm).with_unit() == "1.0 MΩ");
  CHECK((300_ms).with_unit() == "300 ms");
  CHECK((2.5_mm2).with_unit() == "2.5 mm²");
  CHECK((18_mv_a_m).with_unit() == "18 mV/A/m");
  CHECK((70_celsius).with_unit() == "70 °C");
  CHECK((6_kiloamp).str() == "6");
}

TEST_CASE("units: same-unit arithmetic is exact") {
  CHECK(0.21_ohm + 0.22_ohm == 0.43_ohm);
  CHECK(1_ohm - 0.9_ohm == 0.1_ohm);
  CHECK((0.5_ohm) * Decimal::integer(3) == 1.5_ohm);
  CHECK((1_ohm).divided(Decimal::integer(3), 2, Round::up) == 0.34_ohm);
  CHECK((0.32_ohm - 0.52_ohm).abs() == 0.20_ohm);
  CHECK((1.365_ohm).rounded(2, Round::half_up).str() == "1.37");
}

TEST_CASE("units: amperes from their multiples") {
  CHECK(to_amps(1.1_kiloamp) == 1100_amp);
  CHECK(to_amps(30_milliamp) == 0.03_amp);
}

TEST_CASE("units: a void quantity passes no comparison") {
  const Ohms lost(Decimal::void_value());
  CHECK(lost.is_void());
  CHECK_FALSE(lost <= 1_ohm);
  CHECK_FALSE(lost > 1_ohm);
  CHECK((lost + 1_ohm).is_void());
}
