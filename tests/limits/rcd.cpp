#include <cmath>

#include "support.h"

// rcd_zs.tsv and rcd_times.tsv.

using namespace ohmleaf;
using namespace ohmleaf::test;

namespace {

Rcd general(std::string_view ma = "30") {
  Rcd r;
  r.idn = Milliamps(dec(ma));
  return r;
}
Rcd delayed(std::string_view ma = "100") {
  Rcd r = general(ma);
  r.delayed = true;
  return r;
}

const Decimal kHalf(5, 1), kOnce(1, 0), kFive(5, 0);

}  // namespace

TEST_CASE("RCD impedance: every row of rcd_zs.tsv") {
  for (const TsvRow& row : read_tsv("limits/rcd_zs.tsv")) {
    CAPTURE(row.where());
    for (Edition edition : kAllEditions) {
      const auto limit = max_zs_rcd(Milliamps(row.number("IdN_mA")), edition);
      CHECK(limit.value.decimal() == row.number("Zs_or_RA_max_50V_ohm"));
      CHECK(limit.provenance == Provenance::published);
      CHECK(limit.edition == edition);
      check_evidence(limit);
      // By floating point: 50 V ÷ IΔn, rounded to a whole ohm.
      CHECK(real(limit.value) == std::round(50.0 * 1000 / real(row.number("IdN_mA"))));
      // The 25 V column of the same table is half of it.
      CHECK(std::floor(25.0 * 1000 / real(row.number("IdN_mA"))) ==
            real(row.number("Zs_or_RA_max_25V_ohm")));
    }
  }
}

TEST_CASE("RCD impedance: 30 mA shows its exact value and the printed one") {
  const auto limit = max_zs_rcd(30_milliamp, Edition::y2026);
  CHECK(limit.printed() == "≤ 1667 Ω");
  CHECK(limit.exact == "1666.6666");
  CHECK(limit.derivation == "50 V ÷ 0.03 A = 1666.6666 Ω; printed 1667 Ω");
}

TEST_CASE("RCD impedance: other ratings are computed and rounded down") {
  const auto limit = max_zs_rcd(650_milliamp, Edition::y2026);
  CHECK(limit.value.str() == "76");  // 76.92
  CHECK(limit.provenance == Provenance::computed);
  for (const Milliamps& lost :
       {Milliamps(dec("0")), Milliamps(dec("-30")), Milliamps(Decimal::void_value())})
    CHECK(max_zs_rcd(lost, Edition::y2026).value.is_void());
}

TEST_CASE("RCD impedance: falls as the residual current rises") {
  Ohms last(dec("999999"));
  for (int ma = 3; ma < 1500; ma += 7) {
    const auto limit = max_zs_rcd(Milliamps(Decimal::integer(ma)), Edition::y2026);
    CHECK(limit.value <= last);
    last = limit.value;
  }
}

TEST_CASE("electrode: 200 Ω is guidance and says so (Linsley p369)") {
  const auto limit = electrode_stability_guide(Edition::y2026);
  CHECK(limit.value == 200_ohm);
  CHECK(limit.derivation.find("guidance") != std::string::npos);
  CHECK(limit.provenance == Provenance::published);
}

TEST_CASE("RCD times: from A2 on one test at IΔn (rcd_times.tsv)") {
  for (Edition edition : {Edition::y2022, Edition::y2026}) {
    const auto once = rcd_time(general(), kOnce, true, edition);
    REQUIRE(once);
    CHECK(once->printed() == "≤ 300 ms");
    CHECK(once->source.find("from memory") != std::string::npos);
    const auto s = rcd_time(delayed(), kOnce, false, edition);
    REQUIRE(s);
    CHECK(s->printed() == "130 to 500 ms");
    CHECK(s->provenance == Provenance::memory);
    CHECK_FALSE(rcd_time(general(), kHalf, true, edition));
    CHECK_FALSE(rcd_time(general(), kFive, true, edition));
  }
}

TEST_CASE("RCD times: before A2 at half, one and five times (rcd_times.tsv)") {
  for (Edition edition : {Edition::y2008, Edition::y2015, Edition::y2018}) {
    CHECK(rcd_time(general(), kOnce, true, edition)->printed() == "≤ 300 ms");
    CHECK(rcd_time(general(), kHalf, true, edition)->printed() == "≥ 1999 ms");
    CHECK(rcd_time(general(), kFive, true, edition)->printed() == "≤ 40 ms");
    CHECK(rcd_time(delayed(), kOnce, false, edition)->printed() == "130 to 500 ms");
    CHECK(rcd_time(delayed(), kOnce, false, edition)->provenance == Provenance::published);
    // Five times is a test of additional protection up to 30 mA only.
    CHECK_FALSE(rcd_time(general(), kFive, false, edition));
    CHECK_FALSE(rcd_time(general("100"), kFive, true, edition));
    CHECK_FALSE(rcd_time(delayed("30"), kFive, true, edition));
  }
  CHECK_FALSE(rcd_time(general(), dec("3"), true, Edition::y2018));
}

TEST_CASE("RCD times: an old BS 4293 device has 200 ms in every edition") {
  Rcd old = general();
  old.bs4293 = true;
  for (Edition edition : kAllEditions) {
    const auto limit = rcd_time(old, kOnce, true, edition);
    REQUIRE(limit);
    CHECK(limit->printed() == "≤ 200 ms");
    CHECK(limit->source.find("BS 4293") != std::string::npos);
  }
  old.delayed = true;
  CHECK(rcd_time(old, kOnce, false, Edition::y2018)->printed() == "not tabulated");
  old.delay = 200_ms;
  CHECK(rcd_time(old, kOnce, false, Edition::y2018)->printed() == "300.0 to 400 ms");
}
