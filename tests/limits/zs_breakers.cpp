#include <cmath>

#include "support.h"

// mcb_zs.tsv, and the formula by other routes.

using namespace ohmleaf;
using namespace ohmleaf::test;

namespace {

Device of_row(const TsvRow& row) {
  return device("MCB " + row["type"] + row["In_A"]);
}

}  // namespace

TEST_CASE("Zs of circuit-breakers: every row of mcb_zs.tsv, 18th edition") {
  for (const TsvRow& row : read_tsv("limits/mcb_zs.tsv")) {
    CAPTURE(row.where());
    for (Edition edition : kEighteenth) {
      const auto limit = max_zs(of_row(row), seconds(row["disc_time_s"]), edition);
      REQUIRE(limit);
      CHECK(limit->value.str() == row["zs18_tabulated_ohm"]);
      CHECK(limit->sense == Sense::at_most);
      CHECK(limit->edition == edition);
      CHECK(limit->provenance == provenance_of(row["source"]));
      check_evidence(*limit);
      // The table's exact column is rounded to four places, ours down.
      CHECK((row.number("zs18_exact_ohm") - dec(limit->exact)).abs() <= dec("0.0001"));
      const std::string ia = "(" + row["Ia_multiple"] + " × " + row["In_A"] + " A)";
      CHECK(limit->derivation.find("230 V × 0.95 ÷ " + ia) == 0);
      CHECK(limit->derivation.find("printed " + row["zs18_tabulated_ohm"] + " Ω") !=
            std::string::npos);
    }
  }
}

TEST_CASE("Zs of circuit-breakers: every row of mcb_zs.tsv, 17th edition as printed") {
  for (const TsvRow& row : read_tsv("limits/mcb_zs.tsv")) {
    CAPTURE(row.where());
    const auto limit = max_zs(of_row(row), seconds(row["disc_time_s"]), Edition::y2008);
    REQUIRE(limit);
    CHECK(limit->value.str() == row["zs_2008_tabulated_ohm"]);
    CHECK(limit->provenance == Provenance::published);
    CHECK(limit->derivation.find("0.95") == std::string::npos);
    // A published list of measured limits (Metrel manual) is 80 % of the same figure.
    CHECK(limit->value.decimal() * dec("0.8") == row.number("measured_limit_2011_x0.8_ohm"));
  }
}

TEST_CASE("Zs of circuit-breakers: the printed figure is the formula's, by floating point") {
  for (const TsvRow& row : read_tsv("limits/mcb_zs.tsv")) {
    CAPTURE(row.where());
    const double exact = 230.0 * 0.95 / real(row.number("Ia_A"));
    const auto limit = max_zs(of_row(row), seconds(row["disc_time_s"]), Edition::y2026);
    REQUIRE(limit);
    CHECK(real(limit->value) == doctest::Approx(std::floor(exact * 100 + 0.5 + 1e-9) / 100));
    CHECK(row.number("Ia_A") == row.number("Ia_multiple") * row.number("In_A"));
  }
}

TEST_CASE("Zs of circuit-breakers: the published B10 and B32 are named as such") {
  const auto b10 = max_zs(device("B10"), 5_sec, Edition::y2026);
  REQUIRE(b10);
  CHECK(b10->source.find("the-regs.co.uk/blog/?p=215") != std::string::npos);
  const auto b32 = max_zs(device("RCBO B32, 30 mA"), 0.4_sec, Edition::y2026);
  REQUIRE(b32);
  CHECK(b32->printed() == "≤ 1.37 Ω");
  CHECK(b32->exact == "1.3656");
  CHECK(b32->derivation == "230 V × 0.95 ÷ (5 × 32 A) = 1.3656 Ω; printed 1.37 Ω");
  CHECK(b32->source.find("18theditionmock.com") != std::string::npos);
  CHECK(b32->source.find("(number from memory)") != std::string::npos);
}

TEST_CASE("Zs of circuit-breakers: printed 17th figures are not arithmetic") {
  // Rounding 230 V ÷ 630 A half-up would give 0.37, 230 V ÷ 2000 A 0.12.
  CHECK(max_zs(device("C63"), 0.4_sec, Edition::y2008)->value.str() == "0.36");
  CHECK(max_zs(device("D100"), 0.4_sec, Edition::y2008)->value.str() == "0.11");
}

TEST_CASE("Zs of circuit-breakers: type D at 5 s, where the editions differ") {
  CHECK(max_zs(device("D16"), 5_sec, Edition::y2026)->value == 1.37_ohm);
  CHECK(max_zs(device("D16"), 5_sec, Edition::y2015)->value == 0.68_ohm);
  CHECK(max_zs(device("D16"), 5_sec, Edition::y2008)->value == 0.72_ohm);
}

TEST_CASE("Zs of circuit-breakers: other times rest on memory and say so") {
  for (const char* time : {"0.1", "0.2", "1"}) {
    CAPTURE(time);
    for (const char* text : {"B32", "C20", "D16"}) {
      const auto limit = max_zs(device(text), seconds(time), Edition::y2026);
      REQUIRE(limit);
      CHECK(limit->value == max_zs(device(text), 0.4_sec, Edition::y2026)->value);
      CHECK(limit->provenance == Provenance::memory);
      check_evidence(*limit);
    }
  }
}

TEST_CASE("Zs of circuit-breakers: a multiple of the installer's own is rounded down") {
  const auto limit = max_zs(device("MCB 20 A, 7 × In"), 0.4_sec, Edition::y2026);
  REQUIRE(limit);
  CHECK(limit->value.str() == "1.56");  // 218.5 ÷ 140 = 1.5607
  CHECK(limit->exact == "1.5607");
  CHECK(limit->provenance == Provenance::computed);
  // Half-up would have given 0.78, above the exact value.
  CHECK(max_zs(device("MCB 40 A, 7 × In"), 0.4_sec, Edition::y2008)->value.str() == "0.82");
  // An odd rating is fine with a multiple: the formula needs no table.
  CHECK(max_zs(device("MCB 45 A, 5 × In"), 0.4_sec, Edition::y2026)->value.str() == "0.97");
}

TEST_CASE("Zs of circuit-breakers: what no table lists says what exists") {
  struct Case {
    const char *device, *time, *words;
  };
  for (const Case& c :
       {Case{"B45", "0.4",
             "type B is tabulated for 3, 6, 10, 16, 20, 25, 32, 40, 50, 63, 80, 100 "
             "and 125 A"},
        Case{"C3", "0.4", "type C is tabulated for 6, 10"},
        Case{"B32", "0.3", "0.1, 0.2, 0.4, 1 and 5 s"},
        Case{"B32", "0", "0.1, 0.2, 0.4, 1 and 5 s"}, Case{"MCB 32 A", "0.4", "B, C or D"},
        Case{"MCB 200 A, 5 x In", "0.4", "up to 125 A"},
        Case{"RCCB 63 A, 30 mA", "0.4", "does not protect against overcurrent"}}) {
    CAPTURE(c.device);
    std::string exists;
    CHECK_FALSE(max_zs(device(c.device), seconds(c.time), Edition::y2026, &exists));
    CAPTURE(exists);
    CHECK(exists.find(c.words) != std::string::npos);
  }
}

TEST_CASE("Zs: a device without a usable rating has no limit") {
  Device d;
  d.curve = Curve::b;
  for (const Decimal& rating : {dec("0"), dec("-32"), Decimal::void_value()}) {
    d.rating = Amps(rating);
    std::string exists;
    CHECK_FALSE(max_zs(d, 0.4_sec, Edition::y2026, &exists));
    CHECK(exists.find("rated current") != std::string::npos);
  }
}
