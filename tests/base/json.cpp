#include "base/json.h"

#include <doctest/doctest.h>

#include <limits>

namespace ohmleaf {
namespace {

Json parsed(const std::string& text) {
  std::string error;
  auto json = parse_json(text, error);
  REQUIRE_MESSAGE(json, error);
  return *json;
}

std::string refused(const std::string& text) {
  std::string error;
  CHECK(!parse_json(text, error));
  return error;
}

}  // namespace

TEST_CASE("members stay in their order, and decimals as written") {
  Json j = Json::object();
  j.set("z", 1).set("a", Json::number("1.10")).set("m", "x").set("a", Json::number("1.20"));
  CHECK(j.dump(-1) == R"({"z": 1, "a": 1.20, "m": "x"})");
  CHECK(parsed(j.dump()) == j);
  CHECK(parsed(R"({"b": 0.30, "a": 1e3, "c": 18446744073709551615})").dump(-1) ==
        R"({"b": 0.30, "a": 1e3, "c": 18446744073709551615})");
}

TEST_CASE("every kind goes out and comes back") {
  Json j = Json::object();
  j.set("null", Json()).set("yes", true).set("no", false);
  j.set("least", std::numeric_limits<std::int64_t>::min());
  j.set("most", std::numeric_limits<std::int64_t>::max());
  j.set("list", Json(Json::Array{Json(1), Json("two"), Json::array(), Json::object()}));
  j.set("text", std::string("\" \\ / \b \f \n \r \t \x01 \x7f Ω 𝄞 "));
  for (const int indent : {-1, 0, 2}) CHECK(parsed(j.dump(indent)) == j);
  CHECK(Json::array().dump() == "[]");
  CHECK(Json::object().dump() == "{}");
  CHECK(parsed(R"("\u03a9\ud834\udd1e")") == Json("Ω𝄞"));
}

TEST_CASE("what goes out is always valid UTF-8") {
  const std::string out = Json(std::string("a\xff\xc3z")).dump();
  CHECK(out == "\"a\uFFFD\uFFFDz\"");
  CHECK(parsed(out) == Json("a\uFFFD\uFFFDz"));
}

TEST_CASE("what is refused, and why") {
  CHECK(refused(R"({"a": 1, "a": 2})") == "the key \"a\" stands twice");
  CHECK(refused(R"({"x": {"a": 1, "a": 2}})") == "the key \"a\" stands twice");
  CHECK(parsed(R"([{"a": 1}, {"a": 2}])").as_array()->size() == 2);
  CHECK(refused(std::string(65, '[') + std::string(65, ']')) == "nested more than 64 deep");
  CHECK(parsed(std::string(64, '[') + std::string(64, ']')).as_array());
  CHECK(refused(std::string(200000, '[')) == "nested more than 64 deep");
  for (const std::string bad :
       {"", "{", "[1,]", "{\"a\":1,}", "nul", "1 2", "'a'", "\"\xff\"", "\"\\ud800\"", "01", ".5",
        "NaN", "Infinity", "\"\n\"", "// x\n1"}) {
    CAPTURE(bad);
    CHECK(refused(bad).starts_with("not valid JSON at byte"));
  }
}

TEST_CASE("looking up") {
  const Json j = parsed(R"({"a": {"b": "x"}, "n": 3, "t": "y"})");
  REQUIRE(j.find("a"));
  CHECK(j.find("a")->text("b") == "x");
  CHECK(j.text("t") == "y");
  CHECK(j.text("n") == "");
  CHECK(j.find("zz") == nullptr);
  CHECK(j.find("n")->find("x") == nullptr);
  CHECK(*j.find("n")->as_int() == 3);
  CHECK(j.find("n")->as_string() == nullptr);
  CHECK(j.find("n")->number_text() == "");
}

}  // namespace ohmleaf
