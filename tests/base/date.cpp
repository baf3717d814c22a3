#include "base/date.h"

#include <doctest/doctest.h>

namespace ohmleaf {

TEST_CASE("dates that exist, and dates that do not") {
  for (const char* good : {"2026-11-20", "2024-02-29", "2000-02-29", "1900-01-01", "2999-12-31"}) {
    CAPTURE(good);
    REQUIRE(Date::parse(good));
    CHECK(Date::parse(good)->iso() == good);
  }
  for (const char* bad : {"2026-02-29", "1900-02-29", "2026-13-01", "2026-00-10", "2026-01-00",
                          "2026-04-31", "1899-12-31", "3000-01-01", "2026-1-1", "20261120", "",
                          "2026-11-20 ", " 2026-11-2", "2026/11/20", "abcd-ef-gh", "+026-11-20"}) {
    CAPTURE(bad);
    CHECK(!Date::parse(bad));
  }
  CHECK(Date{2026, 11, 20}.words() == "20 November 2026");
  CHECK(Date{2026, 3, 1} < Date{2026, 11, 20});
}

TEST_CASE("months on, the end of a short month kept") {
  CHECK(Date{2026, 11, 20}.plus_months(3) == Date{2027, 2, 20});
  CHECK(Date{2027, 11, 30}.plus_months(3) == Date{2028, 2, 29});
  CHECK(Date{2026, 1, 31}.plus_months(1) == Date{2026, 2, 28});
  CHECK(Date{2026, 1, 15}.plus_months(-1) == Date{2025, 12, 15});
  CHECK(Date{2026, 3, 31}.plus_months(120) == Date{2036, 3, 31});
}

TEST_CASE("times on the wall") {
  CHECK(DateTime::parse("2026-11-20T09:12:00")->iso() == "2026-11-20T09:12:00");
  CHECK(DateTime::parse("2026-11-20 09:12")->iso() == "2026-11-20T09:12:00");
  CHECK(DateTime::parse("2026-11-20T09:12:59")->words() == "20 November 2026, 09:12");
  for (const char* bad : {"2026-11-20", "2026-11-20T", "2026-11-20T9:12", "2026-11-20T24:00:00",
                          "2026-11-20T09:60:00", "2026-11-20T09:12:60", "2026-11-20T09:12:00Z",
                          "2026-02-30T09:12:00", "2026-11-20T09:12:0", "2026-11-20T09:12:00.5"}) {
    CAPTURE(bad);
    CHECK(!DateTime::parse(bad));
  }
  CHECK(*DateTime::parse("2026-11-20T09:12:00") < *DateTime::parse("2026-11-20T09:12:01"));
}

TEST_CASE("moments in UTC") {
  CHECK(Instant{0}.iso() == "1970-01-01T00:00:00Z");
  // 1,000,000,000 s after the epoch: the well-known 9 September 2001, 01:46:40 UTC.
  CHECK(Instant{1000000000}.iso() == "2001-09-09T01:46:40Z");
  CHECK(Instant{-1}.iso() == "1969-12-31T23:59:59Z");
  CHECK(Instant::parse("2001-09-09T01:46:40Z")->unix_seconds == 1000000000);
  CHECK(Instant::parse("2026-11-20T09:12:00Z")->date() == Date{2026, 11, 20});
  CHECK(!Instant::parse("2026-11-20T09:12:00"));
  CHECK(!Instant::parse("2026-02-30T09:12:00Z"));
}

}  // namespace ohmleaf
