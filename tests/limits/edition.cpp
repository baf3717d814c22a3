#include "support.h"

using namespace ohmleaf;
using namespace ohmleaf::test;

TEST_CASE("edition: the date of the design chooses, each at its first day") {
  CHECK(edition_for({2026, 4, 15}) == Edition::y2026);
  CHECK(edition_for({2026, 4, 14}) == Edition::y2022);
  CHECK(edition_for({2022, 3, 28}) == Edition::y2022);
  CHECK(edition_for({2022, 3, 27}) == Edition::y2018);
  CHECK(edition_for({2019, 1, 1}) == Edition::y2018);
  CHECK(edition_for({2018, 12, 31}) == Edition::y2015);
  CHECK(edition_for({2015, 7, 1}) == Edition::y2015);
  CHECK(edition_for({2015, 6, 30}) == Edition::y2008);
  CHECK(edition_for({1999, 1, 1}) == Edition::y2008);
  CHECK(edition_for({2099, 1, 1}) == Edition::y2026);
}

TEST_CASE("edition: names both ways, and by the last year") {
  for (Edition e : kAllEditions) CHECK(edition_from_name(name(e)) == e);
  CHECK(edition_from_name("2018+A2:2022") == Edition::y2022);
  CHECK(edition_from_name("2026") == Edition::y2026);
  CHECK(edition_from_name("bs7671:2008") == Edition::y2008);
  CHECK(edition_from_name("2015") == Edition::y2015);
  CHECK_FALSE(edition_from_name("2011"));
  CHECK_FALSE(edition_from_name(""));
}

TEST_CASE("limit: printed as a person writes it") {
  Limit<Ohms> limit;
  limit.value = 1.37_ohm;
  CHECK(limit.printed() == "≤ 1.37 Ω");
  limit.sense = Sense::at_least;
  CHECK(limit.printed() == "≥ 1.37 Ω");
  limit.value = Ohms(Decimal::void_value());
  CHECK(limit.printed() == "not tabulated");
}

TEST_CASE("provenance: every word") {
  CHECK(name(Provenance::published) == "published");
  CHECK(name(Provenance::computed) == "computed");
  CHECK(name(Provenance::memory) == "memory");
  CHECK(name(Provenance::common_practice) == "common practice");
  CHECK(name(Provenance::maker) == "maker");
}
