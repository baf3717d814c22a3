#include "quantity/decimal.h"

#include <doctest/doctest.h>

#include <array>
#include <limits>

#include "tsv.h"

using namespace ohmleaf;
using namespace ohmleaf::test;

namespace {

Round rounding_of(const std::string& word) {
  if (word == "up") return Round::up;
  return word == "half_up" ? Round::half_up : Round::down;
}

Decimal operand(const TsvRow& row, const std::string& which) {
  return Decimal(std::stoll(row[which + "_mantissa"]), std::stoi(row[which + "_scale"]));
}

std::string order_of(const Decimal& a, const Decimal& b) {
  const auto order = a <=> b;
  if (order == std::partial_ordering::less) return "less";
  if (order == std::partial_ordering::greater) return "greater";
  return order == std::partial_ordering::equivalent ? "equal" : "unordered";
}

std::string result_of(const TsvRow& row) {
  const Decimal a = operand(row, "a"), b = operand(row, "b");
  const int places = std::stoi(row["places"]);
  const Round round = rounding_of(row["rounding"]);
  const std::string& op = row["operation"];
  if (op == "add") return (a + b).short_str();
  if (op == "subtract") return (a - b).short_str();
  if (op == "multiply") return (a * b).short_str();
  if (op == "compare") return order_of(a, b);
  if (op == "divide") return Decimal::divide(a, b, places, round).short_str();
  if (op == "sqrt") return Decimal::sqrt(a, places, round).short_str();
  if (op == "round") return a.rounded(places, round).short_str();
  return "unknown operation";
}

}  // namespace

TEST_CASE("decimal: every vector made with unbounded integers (make_vectors.py)") {
  const auto rows = read_tsv("quantity/decimal_vectors.tsv");
  CHECK(rows.size() > 2800);
  for (const TsvRow& row : rows) {
    CAPTURE(row.line);
    CAPTURE(row["operation"]);
    CHECK(result_of(row) == row["result"]);
  }
}

TEST_CASE("decimal: text goes in and out unchanged") {
  for (const char* text : {"0", "1", "1.10", "0.05", "0.00", "999999999999999999", "-3.20",
                           "0.00000000000000001", "12.345678901234567"}) {
    CAPTURE(text);
    const auto value = Decimal::parse(text);
    REQUIRE(value);
    CHECK(value->str() == text);
  }
  CHECK(dec("1.10").short_str() == "1.1");
  CHECK(dec("10").short_str() == "10");
  CHECK(dec("0.00").short_str() == "0");
  CHECK(Decimal::void_value().str() == "void");
  CHECK(Decimal::void_value().short_str() == "void");
}

TEST_CASE("decimal: what is no decimal is refused") {
  for (const char* text : {"",
                           "-",
                           ".",
                           ".5",
                           "5.",
                           "1..2",
                           "1.2.3",
                           "+1",
                           "--1",
                           " 1",
                           "1 ",
                           "1e3",
                           "0x10",
                           "1,5",
                           "nan",
                           "inf",
                           "1234567890123456789",
                           "0.1234567890123456789",
                           "-.5",
                           "1-",
                           "\xC2\xB2"}) {
    CAPTURE(text);
    CHECK_FALSE(Decimal::parse(text));
  }
}

TEST_CASE("decimal: equality is by value, not by writing") {
  CHECK(dec("1.10") == dec("1.1"));
  CHECK(dec("-0.00") == dec("0"));
  CHECK(dec("1.10") != dec("1.11"));
  CHECK(dec("-1") < dec("0.0001"));
  CHECK_FALSE(dec("-0.0").is_negative());
}

TEST_CASE("decimal: a void value is beside every order and poisons every operation") {
  const Decimal lost = Decimal::void_value(), one = dec("1");
  CHECK_FALSE(lost < one);
  CHECK_FALSE(lost > one);
  CHECK_FALSE(lost <= one);
  CHECK_FALSE(lost >= one);
  CHECK_FALSE(lost == lost);
  CHECK_FALSE(lost.is_zero());
  CHECK_FALSE(lost.is_negative());
  for (const Decimal& result :
       {lost + one, one + lost, lost - one, one - lost, lost * one, one * lost, -lost, lost.abs(),
        min(lost, one), max(one, lost), lost.rounded(2, Round::up),
        Decimal::divide(lost, one, 2, Round::up), Decimal::divide(one, lost, 2, Round::up),
        Decimal::sqrt(lost, 2, Round::up)})
    CHECK(result.is_void());
}

TEST_CASE("decimal: what cannot be is void, not wrong") {
  const auto most = std::numeric_limits<std::int64_t>::max();
  const auto least = std::numeric_limits<std::int64_t>::min();
  CHECK(Decimal(1, 19).is_void());
  CHECK(Decimal(1, -1).is_void());
  CHECK(Decimal(1, 256).is_void());
  CHECK(Decimal(least, 0).is_void());
  CHECK((Decimal(most, 0) + dec("1")).is_void());
  CHECK((Decimal(-most, 0) - dec("1")).is_void());
  CHECK((Decimal(most, 0) * dec("2")).is_void());
  CHECK(Decimal::divide(dec("1"), dec("0"), 2, Round::down).is_void());
  CHECK(Decimal::divide(dec("1"), dec("3"), 19, Round::down).is_void());
  CHECK(Decimal::divide(dec("1"), dec("3"), -1, Round::down).is_void());
  CHECK(Decimal::sqrt(dec("-1"), 2, Round::down).is_void());
  CHECK(dec("1.5").rounded(-1, Round::down).is_void());
  CHECK((-Decimal(most, 3)).str() == "-9223372036854775.807");
}

TEST_CASE("decimal: roundings at the half, both signs") {
  struct Case {
    const char *value, *down, *up, *half_up;
  };
  for (const Case& c :
       {Case{"2.185", "2.18", "2.19", "2.19"}, Case{"2.184", "2.18", "2.19", "2.18"},
        Case{"-2.185", "-2.18", "-2.19", "-2.19"}, Case{"1.3656", "1.36", "1.37", "1.37"},
        Case{"0.005", "0.00", "0.01", "0.01"}, Case{"9.995", "9.99", "10.00", "10.00"},
        Case{"4.37", "4.37", "4.37", "4.37"}}) {
    CAPTURE(c.value);
    CHECK(dec(c.value).rounded(2, Round::down).str() == c.down);
    CHECK(dec(c.value).rounded(2, Round::up).str() == c.up);
    CHECK(dec(c.value).rounded(2, Round::half_up).str() == c.half_up);
  }
}

TEST_CASE("decimal: sums keep the finer writing") {
  CHECK((dec("0.30") + dec("0.3")).str() == "0.60");
  CHECK((dec("1.5") * dec("0.20")).str() == "0.300");
  CHECK((dec("0.42") - dec("0.21")).str() == "0.21");
}
