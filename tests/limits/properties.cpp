#include "limits/zs_tables.h"
#include "support.h"

// What must hold whatever the tables say.

using namespace ohmleaf;
using namespace ohmleaf::test;

namespace {

const char* const kTimes[] = {"0.1", "0.2", "0.4", "1", "5"};

Device made(DeviceStandard standard, Curve curve, int rating) {
  Device d;
  d.standard = standard;
  d.curve = curve;
  d.rating = Amps(Decimal::integer(rating));
  return d;
}

struct Kind {
  DeviceStandard standard;
  Curve curve;
};
const Kind kKinds[] = {
    {DeviceStandard::mcb, Curve::b},       {DeviceStandard::rcbo, Curve::c},
    {DeviceStandard::mcb, Curve::d},       {DeviceStandard::bs88_2, Curve::none},
    {DeviceStandard::bs88_3, Curve::none}, {DeviceStandard::bs1361, Curve::none},
    {DeviceStandard::bs3036, Curve::none}, {DeviceStandard::bs1362, Curve::none}};

}  // namespace

TEST_CASE("property: Zs falls as the rating rises, for every device, time and edition") {
  int compared = 0;
  for (const Kind& kind : kKinds)
    for (Edition edition : kAllEditions)
      for (const char* time : kTimes) {
        std::optional<Ohms> last;
        for (int rating = 1; rating <= 200; ++rating) {
          const auto limit =
              max_zs(made(kind.standard, kind.curve, rating), seconds(time), edition);
          if (!limit) continue;
          CAPTURE(limit->derivation);
          if (last) CHECK(limit->value < *last);
          last = limit->value;
          ++compared;
        }
      }
  CHECK(compared > 900);
}

TEST_CASE("property: Zs never grows as the time shortens") {
  for (const Kind& kind : kKinds)
    for (Edition edition : kAllEditions)
      for (int rating = 1; rating <= 200; ++rating) {
        std::optional<Ohms> last;
        for (const char* time : kTimes) {
          const auto limit =
              max_zs(made(kind.standard, kind.curve, rating), seconds(time), edition);
          if (!limit) continue;
          CAPTURE(limit->derivation);
          if (last) CHECK(limit->value >= *last);
          last = limit->value;
        }
      }
}

TEST_CASE("property: Zs falls as the multiple grows") {
  for (Edition edition : kAllEditions) {
    Ohms last(dec("9999"));
    for (int n = 1; n <= 30; ++n) {
      Device d = made(DeviceStandard::mcb, Curve::none, 16);
      d.multiplier = Decimal::integer(n);
      const auto limit = max_zs(d, 0.4_sec, edition);
      REQUIRE(limit);
      CHECK(limit->value < last);
      last = limit->value;
    }
    // B, C and D are multiples too.
    for (int rating : {6, 10, 16, 20, 25, 32, 40, 50, 63, 80, 100, 125}) {
      const auto b = max_zs(made(DeviceStandard::mcb, Curve::b, rating), 0.4_sec, edition);
      const auto c = max_zs(made(DeviceStandard::mcb, Curve::c, rating), 0.4_sec, edition);
      const auto d = max_zs(made(DeviceStandard::mcb, Curve::d, rating), 0.4_sec, edition);
      CHECK(b->value > c->value);
      CHECK(c->value > d->value);
    }
  }
}

TEST_CASE("property: the minimum-voltage factor never makes a limit larger") {
  for (const Kind& kind : kKinds)
    for (int rating = 1; rating <= 200; ++rating)
      for (const char* time : {"0.4", "5"}) {
        // Type D at 5 s was given a column of its own in the 18th edition. BS 88-2 fuses are not
        // those of 2008 (BS 88-2.2): zs_fuses.cpp holds them against the table of 2011.
        if (kind.standard == DeviceStandard::bs88_2) continue;
        if (kind.curve == Curve::d && std::string_view(time) == "5") continue;
        const auto before =
            max_zs(made(kind.standard, kind.curve, rating), seconds(time), Edition::y2008);
        const auto after =
            max_zs(made(kind.standard, kind.curve, rating), seconds(time), Edition::y2026);
        if (!before || !after) continue;
        CAPTURE(after->derivation);
        CHECK(after->value <= before->value);
      }
}

TEST_CASE("property: every limit carries derivation, source and its own edition") {
  for (const Kind& kind : kKinds)
    for (Edition edition : kAllEditions)
      for (int rating = 1; rating <= 200; ++rating)
        for (const char* time : kTimes) {
          const auto limit =
              max_zs(made(kind.standard, kind.curve, rating), seconds(time), edition);
          if (!limit) continue;
          check_evidence(*limit);
          CHECK(limit->edition == edition);
          CHECK(dec(limit->exact) <= limit->value.decimal() + dec("0.01"));
        }
}

TEST_CASE("property: what is not tabulated always says what exists") {
  for (const Kind& kind : kKinds)
    for (Edition edition : kAllEditions)
      for (int rating = 1; rating <= 200; rating += 3)
        for (const char* time : kTimes) {
          std::string exists;
          if (max_zs(made(kind.standard, kind.curve, rating), seconds(time), edition, &exists))
            continue;
          CHECK_FALSE(exists.empty());
        }
}
