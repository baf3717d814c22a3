#include <doctest/doctest.h>

#include "base/json.h"
#include "cli/world.h"

using namespace ohmleaf;
using namespace ohmleaf::test;

TEST_CASE("the finished sample passes and says so in its last line") {
  World w;
  CHECK(w.run({"check", w.path("sewing-workshop")}) == 0);
  CHECK(w.err == "");
  CHECK(w.out.find("\nverdict: every reading compared is inside its limit") != std::string::npos);
  CHECK(w.out.back() == '\n');
  for (const char* sample : {"tt-cottage", "new-board"}) {
    CAPTURE(sample);
    CHECK(w.run({"check", w.path(sample)}) == 0);
  }
}

TEST_CASE("a tired day is stopped") {
  World w;
  CHECK(w.run({"check", w.path("tired-day")}) == 1);
  CHECK(w.out.find("cannot be issued as it stands\n") != std::string::npos);
  const auto before = w.files();
  CHECK(w.run({"issue", w.path("tired-day")}) == 1);
  CHECK(w.err.find("nothing was issued") != std::string::npos);
  CHECK(w.files() == before);
}

TEST_CASE("the words of the command are checked") {
  World w;
  CHECK(w.run({}) == 0);
  CHECK(w.out.find("Isolate, lock off and prove dead") != std::string::npos);
  CHECK(w.run({"--version"}) == 0);
  CHECK(w.out.starts_with("ohmleaf "));
  CHECK(w.run({"chek", "x"}) == 2);
  CHECK(w.run({"check", "--colour"}) == 2);
  CHECK(w.err.find("ohmleaf check --help") != std::string::npos);
  CHECK(w.run({"check", w.path("nowhere")}) == 2);
  CHECK(w.err.find("there is no such file") != std::string::npos);
  CHECK(w.run({"check"}) == 2);
}

TEST_CASE("a slip in a key is named with its place and its neighbour, and nothing is written") {
  World w;
  REQUIRE(replace_once(w.job("sewing-workshop"), "\npremises ", "\npremisses "));
  const auto before = w.files();
  for (const char* command : {"check", "draft", "issue"}) {
    CAPTURE(command);
    CHECK(w.run({command, w.path("sewing-workshop")}) == 2);
    CHECK(w.err.find("job.toml:") != std::string::npos);
    CHECK(w.err.find("premisses") != std::string::npos);
    CHECK(w.err.find("premises") != std::string::npos);
    CHECK(w.err.find("^^^^^^^^^") != std::string::npos);
  }
  CHECK(w.files() == before);
}

TEST_CASE("no colour where there is no terminal, colour where it is asked for") {
  World w;
  w.run({"check", w.path("tired-day")});
  CHECK(w.out.find('\033') == std::string::npos);
  w.run({"check", "--color", "always", w.path("tired-day")});
  CHECK(w.out.find('\033') != std::string::npos);
}

TEST_CASE("control characters of a job never reach the terminal") {
  World w;
  REQUIRE(replace_once(w.job("sewing-workshop"), "premises = \"", "premises = \"\\u001b[31mX "));
  w.run({"check", w.path("sewing-workshop")});
  CHECK(w.out.find('\033') == std::string::npos);
  CHECK(w.err.find('\033') == std::string::npos);
}

TEST_CASE("many jobs: the worst one decides the exit code") {
  World w;
  CHECK(w.run({"check", "-q", w.path("sewing-workshop"), w.path("tired-day")}) == 1);
  CHECK(w.run({"check", "-q", w.path("tired-day"), w.path("nowhere")}) == 2);
}

TEST_CASE("JSON carries every finding with limit, derivation, source and place") {
  World w;
  CHECK(w.run({"check", "--json", w.path("tired-day")}) == 1);
  std::string error;
  const auto json = parse_json(w.out, error);
  REQUIRE_MESSAGE(json, error);
  CHECK(*json->find("format")->as_int() == 1);
  CHECK(json->text("verdict") == "fail");
  CHECK(*json->find("issuable")->as_bool() == false);
  bool failed_zs = false;
  for (const Json& f : *json->find("findings")->as_array()) {
    if (f.text("cell") != "live.zs" || f.text("verdict") != "fail") continue;
    failed_zs = true;
    CHECK(f.text("limit") != "");
    CHECK(f.text("derivation").find("÷") != std::string::npos);
    CHECK(f.text("source") != "");
    CHECK(f.text("action") != "");
    REQUIRE(f.find("place")->as_object() != nullptr);
    CHECK(*f.find("place")->find("line")->as_int() > 1);
  }
  CHECK(failed_zs);
}

TEST_CASE("what is missing is listed once more in the safe order, with its place on the site sheet") {
  World w;
  std::string job = slurp(w.job("sewing-workshop"));
  for (const std::string line : {"  zs         = 0.46\n", "  R1R2 = 0.62\n"}) {
    const auto at = job.find(line);
    REQUIRE(at != std::string::npos);
    job.erase(at, line.size());
  }
  spit(w.job("sewing-workshop"), job);
  CHECK(w.run({"check", w.path("sewing-workshop")}) == 1);
  const auto list = w.out.find("missing, in the safe order of testing\n   1. circuit CU1/6: R1+R2");
  const auto last = w.out.find("   2. circuit CU1/3: Zs; site sheet, 3 · Circuits (Live");
  CHECK(list != std::string::npos);
  CHECK(last != std::string::npos);
  CHECK(list < last);
}

TEST_CASE("JSON for a job that cannot be read") {
  World w;
  spit(w.job("sewing-workshop"), "format = 1\nkind = \"minor works\"\nze = 0,2\n");
  CHECK(w.run({"check", "--json", w.path("sewing-workshop")}) == 2);
  std::string error;
  const auto json = parse_json(w.out, error);
  REQUIRE_MESSAGE(json, error);
  REQUIRE(json->find("errors") != nullptr);
  bool comma = false;
  for (const Json& e : *json->find("errors")->as_array())
    comma = comma || (e.text("id") == "decimal-comma" && *e.find("place")->find("line")->as_int() == 3);
  CHECK(comma);
}
