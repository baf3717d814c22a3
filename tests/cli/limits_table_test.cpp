#include <doctest/doctest.h>

#include "base/json.h"
#include "cli/asked.h"

// `ohmleaf limits --table` and `--provenance`: what is known, whole.

using namespace ohmleaf;
using namespace ohmleaf::test;

TEST_CASE("limits --table: a whole table, by name or by question") {
  const Asked list({"--table"});
  CHECK(list.code == 0);
  CHECK(list.says("zs-bs88-3"));
  const Asked one({"--table", "zs-b"});
  CHECK(one.code == 0);
  CHECK(one.says("B32 at 0.4 s"));
  CHECK(one.says("≤ 1.37 Ω"));
  CHECK(one.says("[1]"));
  const Asked kind({"zs", "--device", "C", "--table"});
  CHECK(kind.says("C125 at 5 s"));
  CHECK_FALSE(kind.says("B32 at"));
  CHECK(Asked({"zs", "--device", "BS 3036", "--table"}).says("100 A at 5 s"));
  CHECK(Asked({"zs", "--device", "toaster", "--table"}).code == 2);
  const Asked all({"zs", "--table"});
  CHECK(all.says("B32 at 0.4 s"));
  CHECK(all.says("13 A at 5 s"));
  // A table that bears a question's name.
  CHECK(Asked({"--table", "k"}).says("in-cable, copper, thermoplastic-70"));
  CHECK(Asked({"--table", "insulation"}).says("SELV and PELV"));
}

TEST_CASE("limits --table --json: rows with their provenance") {
  const Asked asked({"--table", "zs-bs1362", "--json"});
  CHECK(asked.code == 0);
  std::string error;
  const auto json = parse_json(asked.out, error);
  REQUIRE(json);
  const Json::Array* shown = json->find("tables")->as_array();
  REQUIRE(shown);
  REQUIRE(shown->size() == 1);
  const Json::Array* rows = shown->front().find("rows")->as_array();
  REQUIRE(rows->size() == 4);
  CHECK(rows->front().text("provenance") == "published");
  CHECK(rows->front().text("value") == "≤ 15.6");
}

TEST_CASE("limits --provenance: shares that add up, and every value from memory") {
  const Asked words({"--provenance"});
  CHECK(words.code == 0);
  CHECK(words.says("From memory, not read in print"));
  CHECK(words.says("published"));
  CHECK(words.says("%"));
  const Asked asked({"--provenance", "--json"});
  std::string error;
  const auto json = parse_json(asked.out, error);
  REQUIRE(json);
  std::int64_t sum = 0;
  for (const Json& share : *json->find("shares")->as_array()) {
    sum += *share.find("rows")->as_int();
    if (share.text("provenance") == "memory")
      CHECK(*share.find("rows")->as_int() ==
            static_cast<std::int64_t>(json->find("memory")->as_array()->size()));
  }
  CHECK(sum == *json->find("rows")->as_int());
}
