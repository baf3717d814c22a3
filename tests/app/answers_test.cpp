#include "app/answers.h"

#include <doctest/doctest.h>

#include "base/text.h"
#include "checks/check.h"
#include "cli/world.h"
#include "record/read.h"

using namespace ohmleaf;
using namespace ohmleaf::test;

namespace {

const DateTime kNow{{2026, 11, 20}, 9, 12, 0};
const Date kDay{2026, 11, 19};

std::string written(const char* path, std::string_view typed) {
  const record::Shape* shape = record::job_shape().at(path);
  return shape ? app::toml_answer(*shape, typed, kNow, kDay) : "no such key";
}

app::Workspace loaded(const World& w, const char* job) {
  Sources sources;
  Diagnostics out;
  return app::load(w.root / job, {}, sources, out).value();
}

/// Lines of the second that the first has not, and the other way round.
std::string changed(const std::string& before, const std::string& after) {
  std::string out;
  const auto a = split(before, '\n'), b = split(after, '\n');
  for (const auto& line : a)
    if (std::find(b.begin(), b.end(), line) == b.end()) out += "-" + std::string(line) + "\n";
  for (const auto& line : b)
    if (std::find(a.begin(), a.end(), line) == a.end()) out += "+" + std::string(line) + "\n";
  return out;
}

}  // namespace

TEST_CASE("answers as the trade writes them become values of the job") {
  const struct {
    const char* path;
    const char* typed;
    const char* written;
  } rows[] = {
      {"circuit.live.zs", "0.46", "0.46"},
      {"circuit.live.zs", " 0.46 ohm", "0.46"},
      {"circuit.live.zs", "0.46Ω", "0.46"},
      {"circuit.live.zs", "0,46", "\"0,46\""},
      {"circuit.live.zs", "{ L1 = 0.4, L2 = 0.4, L3 = 0.5 }", "{ L1 = 0.4, L2 = 0.4, L3 = 0.5 }"},
      {"circuit.live.zs", "-1", "\"-1\""},
      {"circuit.dead.insulation.live_live", ">999", "\">999\""},
      {"circuit.dead.insulation.live_live", ">999 MΩ", "\">999\""},
      {"circuit.dead.insulation.volts", "500 V", "500"},
      {"circuit.live.rcd.trip_ms", "24ms", "24"},
      {"circuit.live.rcd.trip_ms", "LIM: no access", "\"LIM: no access\""},
      {"bonding.gas", "N/A: no gas", "\"N/A: no gas\""},
      {"supply.pfc", "1.1 kA", "\"1.1 kA\""},
      {"supply.earthing", "2", "\"TN-C-S\""},
      {"supply.earthing", "tt", "\"tt\""},
      {"supply.earthing", "9", "\"9\""},
      {"circuit.feeds", "1, lighting", "[\"socket-outlets\", \"lighting\"]"},
      {"isolation.locked", "Y", "true"},
      {"isolation.locked", "no", "false"},
      {"isolation.locked", "perhaps", "\"perhaps\""},
      {"isolation.proved_dead", "now", "2026-11-20T09:12:00"},
      {"isolation.proved_dead", "9:05", "2026-11-19T09:05:00"},
      {"isolation.proved_dead", "25:05", "\"25:05\""},
      {"next_inspection", "2036-11-20", "2036-11-20"},
      {"next_inspection", "in ten years", "\"in ten years\""},
      {"inspection.labels", "y", "true"},
      {"inspection.labels", "N/A: none", "\"N/A: none\""},
      {"existing", "a \"plug\" \\ tail", "\"a \\\"plug\\\" \\\\ tail\""},
  };
  for (const auto& row : rows) {
    CAPTURE(row.path);
    CAPTURE(row.typed);
    CHECK(written(row.path, row.typed) == row.written);
  }
}

TEST_CASE("an answer changes one line of the job file and nothing else") {
  World w;
  app::Workspace job = loaded(w, "sewing-workshop");
  Diagnostics out;
  const std::string before = job.job_bytes;
  CHECK(app::save_answer(job, "circuit[0].live.zs", "0.47", out) == app::Saved::yes);
  CHECK(changed(before, slurp(w.job("sewing-workshop"))) ==
        "-  zs         = 0.46\n+  zs         = 0.47\n");
  CHECK(job.job.circuits[0].live.zs->text == "0.47");
  CHECK(out.empty());
}

TEST_CASE("a wrong answer, a file changed meanwhile: nothing is written") {
  World w;
  app::Workspace job = loaded(w, "sewing-workshop");
  const auto before = w.files();
  for (const char* wrong : {"\"0,46\"", "\"maybe\"", "true", "0.46\nx = 1", "1e9"}) {
    CAPTURE(wrong);
    Diagnostics out;
    CHECK(app::save_answer(job, "circuit[0].live.zs", wrong, out) == app::Saved::not_taken);
    CHECK_FALSE(out.empty());
  }
  Diagnostics unknown;
  CHECK(app::save_answer(job, "isolation.indicator", "\"vi-9\"", unknown) ==
        app::Saved::not_taken);
  CHECK(w.files() == before);
  REQUIRE(replace_once(w.job("sewing-workshop"), "locked       = true", "locked       = false"));
  const auto edited = w.files();
  Diagnostics out;
  CHECK(app::save_answer(job, "circuit[0].live.zs", "0.47", out) == app::Saved::changed);
  CHECK(w.files() == edited);
}

TEST_CASE("what is asked for stands in the safe order, dead before live") {
  World w;
  std::string text = slurp(w.job("sewing-workshop"));
  for (const std::string line :
       {"  zs         = 0.84\n", "  r1   = 0.32                                  # end to end, with "
                                 "the ring open at the board\n",
        "locked       = true\n", "  box_mm = 47                                  # a new box: the "
                                 "old one was 16 mm deep\n", "tried  = true                                  # from every control, with the doors shut\n"}) {
    const auto at = text.find(line);
    REQUIRE_MESSAGE(at != std::string::npos, line);
    text.erase(at, line.size());
  }
  const auto inspection = text.find("labels               = true\n");
  REQUIRE(inspection != std::string::npos);
  text.erase(inspection, 28);
  const auto cable = text.find("cable  = { line = 1.5, cpc = 1.0 }\n");
  REQUIRE(cable != std::string::npos);
  text.erase(cable, 35);
  spit(w.job("sewing-workshop"), text);
  const app::Workspace job = loaded(w, "sewing-workshop");
  const auto report = checks::check(job.job, job.installer);
  std::vector<std::string> paths;
  for (const app::Question& q : app::open_questions(job, report)) {
    paths.push_back(q.path);
    CHECK(q.shape != nullptr);
  }
  CHECK(paths == std::vector<std::string>{"isolation.locked", "circuit[1].cable.line",
                                          "circuit[1].cable.cpc",
                                          "circuit[1].accessory[0].box_mm", "circuit[0].dead.r1",
                                          "inspection.labels", "circuit[1].live.zs",
                                          "network.tried"});
}
