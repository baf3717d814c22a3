#include <doctest/doctest.h>

#include "base/json.h"
#include "cli/world.h"

using namespace ohmleaf;
using namespace ohmleaf::test;

namespace {

const std::string kMapping =
    "\n[csv.bench]\ndelimiter = \";\"\ndecimal = \",\"\ncircuit = \"Circuit\"\n"
    "[csv.bench.columns]\n\"dead.R1R2\" = \"R1+R2 (Ω)\"\n\"live.zs\" = \"Zs (Ω)\"\n"
    "\"live.rcd.trip_ms\" = \"Trip (ms)\"\n";

/// A world whose profile knows the file, and whose job has not got the readings of circuit 6 yet.
struct Bench : World {
  Bench() {
    spit(root / "installer.toml", slurp(root / "installer.toml") + kMapping);
    REQUIRE(replace_once(job("sewing-workshop"), "  R1R2 = 0.62\n", ""));
    REQUIRE(replace_once(job("sewing-workshop"), "  zs         = 0.84\n", ""));
  }
  std::string file(const std::string& rows) {
    spit(root / "bench.csv", "\xEF\xBB\xBF" "Circuit;R1+R2 (Ω);Zs (Ω);Trip (ms)\r\n" + rows);
    return (root / "bench.csv").string();
  }
};

}  // namespace

TEST_CASE("readings of a CSV file go into the job, and nothing else of it changes") {
  Bench w;
  const std::string before = slurp(w.job("sewing-workshop"));
  const std::string file = w.file("3;0,25;0,46;24\r\n6;0,62;0,84;21\r\n");
  CHECK(w.run({"take", w.path("sewing-workshop"), file, "--show"}) == 0);
  CHECK(slurp(w.job("sewing-workshop")) == before);
  REQUIRE(w.run({"take", w.path("sewing-workshop"), file}) == 0);
  CHECK(w.err == "");
  std::string after = slurp(w.job("sewing-workshop"));
  // Line by line: what was there is there, in its order; two lines came in.
  std::vector<std::string> fresh;
  std::istringstream was(before), is(after);
  std::string old_line, line;
  bool more = static_cast<bool>(std::getline(was, old_line));
  while (std::getline(is, line)) {
    if (more && line == old_line)
      more = static_cast<bool>(std::getline(was, old_line));
    else
      fresh.push_back(line);
  }
  CHECK(!more);
  REQUIRE(fresh.size() == 2);
  CHECK(fresh[0].find("R1R2") != std::string::npos);
  CHECK(fresh[0].find("0.62") != std::string::npos);
  CHECK(fresh[1].find("zs") != std::string::npos);
  CHECK(fresh[1].find("0.84") != std::string::npos);
  CHECK(w.run({"check", "-q", w.path("sewing-workshop")}) == 0);
  CHECK(w.run({"take", w.path("sewing-workshop"), file}) == 0);
  CHECK(w.out.find("nothing new") != std::string::npos);
  CHECK(slurp(w.job("sewing-workshop")) == after);
}

TEST_CASE("a different reading is never overwritten unseen") {
  Bench w;
  const auto before = w.files();
  const std::string job = slurp(w.job("sewing-workshop"));
  const std::string file = w.file("3;0,25;0,64;24\r\n6;0,62;0,84;21\r\n");
  CHECK(w.run({"take", w.path("sewing-workshop"), file}) == 2);
  CHECK(w.err.find("bench.csv:2:8: error:") != std::string::npos);
  CHECK(w.err.find("has another live.zs already: 0.46, and the file says 0.64") != std::string::npos);
  CHECK(w.err.find("job.toml:") != std::string::npos);
  CHECK(slurp(w.job("sewing-workshop")) == job);
  CHECK(w.run({"take", w.path("sewing-workshop"), file, "--replace", "--json"}) == 0);
  std::string error;
  const auto said = parse_json(w.out, error);
  REQUIRE(said);
  CHECK(said->find("written")->as_bool() != nullptr);
  CHECK(slurp(w.job("sewing-workshop")).find("zs         = 0.64") != std::string::npos);
  CHECK(w.out.find("\"before\": \"0.46\"") != std::string::npos);
}

TEST_CASE("what is wrong in the file is told at its cell, and nothing is written") {
  Bench w;
  const std::string job = slurp(w.job("sewing-workshop"));
  CHECK(w.run({"take", w.path("sewing-workshop"), w.file("6;0,62;0.84;21\r\n")}) == 2);
  CHECK(w.err.find("bench.csv:2:8: error: live.zs: a point stands in") != std::string::npos);
  CHECK(w.run({"take", w.path("sewing-workshop"), w.file("6;0,62;0,84;21\r\n"), "--as", "bensh"}) == 2);
  CHECK(w.err.find("[csv.bensh]") != std::string::npos);
  CHECK(w.run({"take", w.path("sewing-workshop")}) == 2);
  CHECK(w.run({"take", w.path("tt-cottage"), w.file("99;0,62;0,84;21\r\n")}) == 0);
  CHECK(w.err.find("circuit \"99\" is not in this job") != std::string::npos);
  CHECK(slurp(w.job("sewing-workshop")) == job);
}

TEST_CASE("a mapping to begin with comes from the headings") {
  World w;
  spit(w.root / "new.csv", "Board;Circuit no.;Zs (ohm);R1+R2;Remarks\nCU1;3;0.46;0.25;\n");
  CHECK(w.run({"take", "--headings", (w.root / "new.csv").string()}) == 0);
  spit(w.root / "installer.toml", slurp(w.root / "installer.toml") + "\n" + w.out);
  const std::string before = slurp(w.job("sewing-workshop"));
  CHECK(w.run({"take", w.path("sewing-workshop"), (w.root / "new.csv").string()}) == 0);
  CHECK(w.out.find("nothing new") != std::string::npos);
  CHECK(slurp(w.job("sewing-workshop")) == before);
}
