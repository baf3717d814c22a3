#include "quantity/reading.h"

#include <doctest/doctest.h>

#include "tsv.h"

using namespace ohmleaf;
using namespace ohmleaf::test;

namespace {

std::optional<RawReading> read(std::string_view text) {
  ReadingFault fault;
  return parse_reading(text, fault);
}

Reading<Ohms> reading(ReadingKind kind, std::string_view value) {
  Reading<Ohms> r;
  r.kind = kind;
  r.value = Ohms(dec(value));
  return r;
}

}  // namespace

TEST_CASE("reading: as the trade writes it") {
  struct Case {
    const char* text;
    ReadingKind kind;
    const char* value;
  };
  for (const Case& c :
       {Case{"0.42", ReadingKind::value, "0.42"}, Case{"  0.420 ", ReadingKind::value, "0.420"},
        Case{">999", ReadingKind::above, "999"}, Case{"> 999", ReadingKind::above, "999"},
        Case{"<0.01", ReadingKind::below, "0.01"}, Case{"0", ReadingKind::value, "0"},
        Case{"299", ReadingKind::value, "299"}, Case{"<  0.05", ReadingKind::below, "0.05"}}) {
    CAPTURE(c.text);
    const auto found = read(c.text);
    REQUIRE(found);
    CHECK(found->kind == c.kind);
    CHECK(found->value.str() == c.value);
  }
  CHECK(read("> 999")->text == "> 999");
}

TEST_CASE("reading: a limitation or N/A needs its reason") {
  for (const char* text : {"LIM: no access to the loft", "lim: no access to the loft",
                           "LIM no access to the loft", "LIM :  no access to the loft"}) {
    CAPTURE(text);
    const auto found = read(text);
    REQUIRE(found);
    CHECK(found->kind == ReadingKind::limitation);
    CHECK(found->reason == "no access to the loft");
    CHECK(found->text == text);
  }
  CHECK(read("n/a: no RCD")->kind == ReadingKind::not_applicable);
  for (const char* text : {"LIM", "LIM:", "LIM:  ", "N/A", "n/a :"}) {
    CAPTURE(text);
    ReadingFault fault;
    CHECK_FALSE(parse_reading(text, fault));
    CHECK(fault.message.find("without a reason") != std::string::npos);
    CHECK_FALSE(fault.hint.empty());
  }
}

TEST_CASE("reading: what is refused says what to write") {
  struct Case {
    const char *text, *words;
  };
  for (const Case& c :
       {Case{"0,42", "decimal comma"}, Case{"0.42 ohm", "behind the number"},
        Case{"0.42Ω", "behind the number"}, Case{"-0.42", "no sign"}, Case{"+0.42", "no sign"},
        Case{"-0", "no sign"}, Case{"", "no number"}, Case{"   ", "no number"},
        Case{">", "no number"}, Case{"1234567890123", "12 digits"},
        Case{"0.1234567890123", "12 digits"}, Case{"abc", "not a reading"},
        Case{">>1", "not a reading"}, Case{".5", "not a reading"}, Case{"nan", "not a reading"},
        Case{"limited", "not a reading"}, Case{"OL", "not a reading"}}) {
    CAPTURE(c.text);
    ReadingFault fault;
    CHECK_FALSE(parse_reading(c.text, fault));
    CAPTURE(fault.message);
    CHECK(fault.message.find(c.words) != std::string::npos);
    CHECK_FALSE(fault.hint.empty());
  }
}

TEST_CASE("reading: twelve digits are read, more are not") {
  CHECK(read("123456789012"));
  CHECK(read("0.12345678901"));
  CHECK_FALSE(read("12345678901234567890123456789012345678901234567890"));
}

TEST_CASE("interval: of a value, with percent and absolute uncertainty") {
  const auto r = reading(ReadingKind::value, "0.40");
  const auto point = interval_of(r);
  CHECK(*point.low == 0.40_ohm);
  CHECK(*point.high == 0.40_ohm);
  // 0.40 ± (30 % of it + 0.02): the route by hand, 0.40 − 0.12 − 0.02 and 0.40 + 0.12 + 0.02.
  const auto wide = interval_of(r, dec("30"), dec("0.02"));
  CHECK(*wide.low == 0.26_ohm);
  CHECK(*wide.high == 0.54_ohm);
}

TEST_CASE("interval: a low end never falls below nothing") {
  const auto wide = interval_of(reading(ReadingKind::value, "0.01"), dec("10"), dec("0.05"));
  CHECK(*wide.low == 0_ohm);
  CHECK(*wide.high == 0.061_ohm);
}

TEST_CASE("interval: open ends stay open") {
  const auto above = interval_of(reading(ReadingKind::above, "999"), dec("10"));
  CHECK(*above.low == 899.1_ohm);
  CHECK_FALSE(above.high);
  const auto below = interval_of(reading(ReadingKind::below, "0.01"), dec("10"));
  CHECK(*below.low == 0_ohm);
  CHECK(*below.high == 0.011_ohm);
  const auto none = interval_of(reading(ReadingKind::limitation, "0"));
  CHECK_FALSE(none.low);
  CHECK_FALSE(none.high);
}

TEST_CASE("interval: an overflow passes no comparison") {
  const auto wide = interval_of(reading(ReadingKind::value, "999999999999"), dec("9999999999"));
  REQUIRE(wide.high);
  CHECK(wide.high->is_void());
  CHECK_FALSE(*wide.high <= 1_ohm);
  CHECK_FALSE(*wide.low >= 1_ohm);
}

TEST_CASE("interval: contains the reading and grows with the uncertainty") {
  for (const char* value : {"0", "0.01", "0.4", "1.37", "299", "999.9"}) {
    const auto r = reading(ReadingKind::value, value);
    for (int percent = 0; percent < 50; percent += 7) {
      CAPTURE(value);
      CAPTURE(percent);
      const auto narrow = interval_of(r, Decimal::integer(percent));
      const auto wide = interval_of(r, Decimal::integer(percent + 1), dec("0.01"));
      CHECK(*narrow.low <= r.value);
      CHECK(*narrow.high >= r.value);
      CHECK(*wide.low <= *narrow.low);
      CHECK(*wide.high >= *narrow.high);
    }
  }
}
