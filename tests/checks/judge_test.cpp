#include "checks/judge.h"

#include "bench.h"

// The one path by which a reading meets a limit, on its own.

namespace bench {
namespace {
using namespace ohmleaf;
using namespace ohmleaf::checks;

limits::Limit<Ohms> at_most(const char* digits) {
  limits::Limit<Ohms> l;
  l.value = Ohms(*Decimal::parse(digits));
  return l;
}
limits::Limit<Megohms> at_least(const char* digits) {
  limits::Limit<Megohms> l;
  l.sense = limits::Sense::at_least;
  l.value = Megohms(*Decimal::parse(digits));
  return l;
}
limits::Limit<Millis> between(const char* low, const char* high) {
  limits::Limit<Millis> l;
  l.sense = limits::Sense::between;
  l.value = Millis(*Decimal::parse(low));
  l.upper = Millis(*Decimal::parse(high));
  return l;
}
Decimal none() {
  return Decimal::integer(0);
}

template <class Q>
Standing stands(const char* text, const limits::Limit<Q>& limit, Decimal percent = none(),
                Decimal absolute = none()) {
  return standing(plain(reading<Q>(text)), plain(limit), percent, absolute);
}
}  // namespace

TEST_CASE("a reading against a maximum") {
  const auto l = at_most("1.37");
  CHECK(stands("1.37", l) == Standing::within);
  CHECK(stands("1.370", l) == Standing::within);
  CHECK(stands("1.3700000001", l) == Standing::beyond);
  CHECK(stands(">1.36", l) == Standing::unusable);
  CHECK(stands(">1.37", l) == Standing::beyond);
  CHECK(stands(">999", l) == Standing::beyond);
  CHECK(stands("<0.05", l) == Standing::within);
  CHECK(stands("<1.37", l) == Standing::within);
  CHECK(stands("<1.38", l) == Standing::unusable);
  CHECK(stands("LIM: why", l) == Standing::unusable);
  CHECK(stands("N/A: why", l) == Standing::unusable);
}

TEST_CASE("a reading against a minimum") {
  const auto l = at_least("1");
  CHECK(stands("1.0", l) == Standing::within);
  CHECK(stands("0.999", l) == Standing::beyond);
  CHECK(stands(">200", l) == Standing::within);
  CHECK(stands(">1", l) == Standing::within);
  CHECK(stands(">0.9", l) == Standing::unusable);
  CHECK(stands("<1", l) == Standing::beyond);
  CHECK(stands("<2", l) == Standing::unusable);
}

TEST_CASE("a reading between two bounds") {
  const auto l = between("130", "500");
  CHECK(stands("130", l) == Standing::within);
  CHECK(stands("129.9", l) == Standing::beyond);
  CHECK(stands("500", l) == Standing::within);
  CHECK(stands("500.1", l) == Standing::beyond);
  CHECK(stands(">200", l) == Standing::unusable);
  CHECK(stands(">500", l) == Standing::beyond);
  CHECK(stands("<130", l) == Standing::beyond);
}

TEST_CASE("declared uncertainty widens a reading towards the limit only") {
  const auto l = at_most("1.00");
  CHECK(stands("0.95", l, Decimal::integer(5)) == Standing::within);     // 0.9975
  CHECK(stands("0.96", l, Decimal::integer(5)) == Standing::straddles);  // 1.008
  CHECK(stands("0.97", l, none(), Decimal(3, 2)) == Standing::within);   // 1.00
  CHECK(stands("0.98", l, none(), Decimal(3, 2)) == Standing::straddles);
  CHECK(stands("1.01", l, Decimal::integer(5)) == Standing::beyond);  // over as it stands
  CHECK(stands("1.04", at_least("1"), Decimal::integer(5)) == Standing::straddles);
}

TEST_CASE("a void reading or a void limit never passes") {
  limits::Limit<Ohms> empty = at_most("1");
  empty.value = Ohms(Decimal::void_value());
  CHECK(stands("0.1", empty) == Standing::unusable);
  auto overflowed = reading<Ohms>("0.1");
  overflowed.value->value = Ohms(Decimal::void_value());
  CHECK(standing(plain(overflowed), plain(at_most("1")), none(), none()) == Standing::unusable);
  CHECK(standing(plain(record::Measured<Ohms>{}), plain(at_most("1")), none(), none()) ==
        Standing::unusable);
  CHECK(stands("0.1", at_most("1"), Decimal::void_value()) == Standing::unusable);
  auto open_void = reading<Ohms>("<0.1");
  open_void.value->value = Ohms(Decimal::void_value());
  CHECK(standing(plain(open_void), plain(at_most("1")), none(), none()) == Standing::unusable);
}

TEST_CASE("a reading is shown with its unit once") {
  CHECK(shown(plain(reading<Ohms>("1.37"))) == "1.37 Ω");
  auto written = reading<Kiloamps>("1.3");
  written.value->text = "1.3 kA";
  CHECK(shown(plain(written)) == "1.3 kA");
  CHECK(shown(plain(reading<Ohms>("N/A: plastic pipe"))) == "N/A: plastic pipe");
}

TEST_CASE("the headroom bar: thousandths of the limit that are used") {
  CHECK(permille(plain(reading<Ohms>("1.37")), plain(at_most("1.37"))) == 1000);
  CHECK(permille(plain(reading<Ohms>("0.137")), plain(at_most("1.37"))) == 100);
  CHECK(permille(plain(reading<Megohms>(">999")), plain(at_least("1"))) == 2);
  CHECK(permille(plain(reading<Megohms>("0")), plain(at_least("1"))) == 9999);
  CHECK(permille(plain(reading<Ohms>("LIM: why")), plain(at_most("1"))) == std::nullopt);
}

}  // namespace bench
