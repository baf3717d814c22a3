#include "cli/batch.h"

#include <doctest/doctest.h>
#include <unistd.h>

#include <csignal>

#include "base/json.h"
#include "cli/workers.h"
#include "cli/world.h"

// Many jobs in one command. What is expected follows from the same command for each job alone.

using namespace ohmleaf;
using namespace ohmleaf::test;
using cli::Outcome;

namespace {

const std::vector<std::string> kSamples = {"joinery", "new-board", "old-house", "sewing-workshop",
                                           "tired-day", "tt-cottage"};

/// The samples that are job folders, as `check FOLDER` names them.
void only_samples(World& w) {
  fs::remove_all(w.root / "first-certificate");
}

cli::Jobs places(std::size_t count) {
  cli::Jobs jobs;
  for (std::size_t i = 0; i < count; ++i) jobs.paths.push_back(std::to_string(i));
  jobs.many = true;
  return jobs;
}

}  // namespace

TEST_CASE("a folder of job folders stands for its jobs, by name, and for nothing else") {
  World w;
  only_samples(w);
  fs::create_directories(w.root / "empty");
  const cli::Jobs jobs = cli::jobs_named({w.root.string()});
  REQUIRE(jobs.paths.size() == kSamples.size());
  for (std::size_t i = 0; i < kSamples.size(); ++i)
    CHECK(fs::path(jobs.paths[i]).filename() == kSamples[i]);
  CHECK(jobs.many);
  CHECK_FALSE(cli::jobs_named({(w.root / "joinery").string()}).many);
  CHECK(cli::jobs_named({w.path("joinery"), w.path("tt-cottage")}).many);
  CHECK(w.run({"check", w.path("empty")}) == 2);
  CHECK(w.err.find("holds no job.toml") != std::string::npos);
}

TEST_CASE("check of many: each report as it is alone, in order, the worst exit code, a summary") {
  World w;
  only_samples(w);
  std::string expected;
  int worst = 0;
  for (const std::string& s : kSamples) {
    const std::string job = w.path(s.c_str());
    worst = std::max(worst, w.run({"check", job}));
    expected += (expected.empty() ? "" : "\n") + job + "\n" + w.out;
  }
  for (const char* workers : {"1", "3"}) {
    CHECK(w.run({"check", "--workers", workers, w.root.string()}) == worst);
    CHECK(w.out.starts_with(expected + "\n6 jobs: "));
    CHECK(w.err.empty());
  }
}

TEST_CASE("a job that cannot be read stops no other") {
  World w;
  only_samples(w);
  spit(w.root / "new-board/job.toml", "format = 1\nkind = \n");
  CHECK(w.run({"check", "-q", w.root.string()}) == 2);
  CHECK(w.err.find("new-board/job.toml:2:") != std::string::npos);
  CHECK(w.out.find("tt-cottage\n") != std::string::npos);
  CHECK(w.out.find(", 1 with wrong input\n") != std::string::npos);
}

TEST_CASE("check --json of many is an array of what each job gives") {
  World w;
  only_samples(w);
  spit(w.root / "new-board/job.toml", "format = 1\nkind = \n");
  CHECK(w.run({"check", "--json", w.root.string()}) == 2);
  std::string error;
  const auto all = parse_json(w.out, error);
  REQUIRE(all);
  REQUIRE(all->as_array() != nullptr);
  REQUIRE(all->as_array()->size() == kSamples.size());
  const Json& bad = all->as_array()->at(1);
  CHECK(bad.text("file").ends_with("new-board"));
  CHECK(bad.find("errors") != nullptr);
  const Json last = all->as_array()->back();
  w.run({"check", "--json", w.path("tt-cottage")});
  const auto alone = parse_json(w.out, error);
  REQUIRE(alone);
  CHECK(*alone == last);
}

TEST_CASE("draft and sheet of many write the bytes that each job gives alone") {
  World w;
  only_samples(w);
  const fs::path folder = w.root / "drafts";
  fs::create_directory(folder);
  CHECK(w.run({"draft", "--workers", "2", "-o", folder.string(), w.path("joinery"),
               w.path("tt-cottage"), w.path("joinery-none")}) == 2);
  CHECK(w.out.find("3 jobs: 2 written, 1 with wrong input") != std::string::npos);
  for (const std::string name : {"joinery", "tt-cottage"}) {
    const fs::path alone = w.root / "alone.pdf";
    w.run({"draft", w.path(name.c_str()), "-o", alone.string()});
    CHECK(slurp(alone) == slurp(folder / (name + "-draft.pdf")));
  }
  CHECK(w.run({"sheet", "-o", w.path("nowhere"), w.path("joinery"), w.path("tt-cottage")}) == 2);
  CHECK(w.err.find("is no folder") != std::string::npos);
}

TEST_CASE("two jobs of one id: the first has the file, the other is told") {
  World w;
  fs::create_directories(w.root / "again");
  fs::copy(w.root / "tt-cottage", w.root / "again/tt-cottage");
  const fs::path folder = w.root / "drafts";
  fs::create_directory(folder);
  CHECK(w.run({"draft", "-o", folder.string(), w.path("tt-cottage"), w.path("again/tt-cottage")}) == 2);
  CHECK(w.err.find("is already the file of") != std::string::npos);
  CHECK(w.out.find("2 jobs: 1 written, 1 with wrong input") != std::string::npos);
  CHECK(fs::exists(folder / "tt-cottage-draft.pdf"));
}

TEST_CASE("outcomes come in order, whoever is ready first") {
  World w;
  cli::Environment e;
  e.out = [](std::string_view) { return true; };
  e.err = e.out;
  std::vector<std::string> taken;
  cli::run_batch(e, places(40), {4, "waiting"},
                 [](cli::Environment& quiet, const std::string& job) {
                   if (std::stoi(job) % 7 == 0) ::usleep(5000);
                   quiet.out("job " + job);
                   return Outcome{};
                 },
                 [&](std::size_t, Outcome&& o) { taken.push_back(o.out); });
  REQUIRE(taken.size() == 40);
  for (std::size_t i = 0; i < taken.size(); ++i) CHECK(taken[i] == "job " + std::to_string(i));
}

TEST_CASE("a worker that dies loses its own job and no other") {
  cli::Environment e;
  e.out = [](std::string_view) { return true; };
  e.err = e.out;
  std::vector<int> codes;
  std::string told;
  cli::run_batch(e, places(30), {3, "dying"},
                 [](cli::Environment&, const std::string& job) {
                   if (job == "4" || job == "17") ::raise(SIGKILL);
                   return Outcome{};
                 },
                 [&](std::size_t, Outcome&& o) {
                   codes.push_back(o.code);
                   told += o.err;
                 });
  REQUIRE(codes.size() == 30);
  for (std::size_t i = 0; i < codes.size(); ++i)
    CHECK(codes[i] == (i == 4 || i == 17 ? cli::kSystem : cli::kFine));
  CHECK(told.find("signal 9") != std::string::npos);
}

TEST_CASE("the bar stands on a terminal only, and is wiped") {
  World w;
  only_samples(w);
  w.run({"check", "-q", w.root.string()});
  CHECK(w.err.find('\r') == std::string::npos);
  w.err_is_terminal = true;
  w.run({"check", "-q", w.root.string()});
  CHECK(w.err.find("checking [") != std::string::npos);
  CHECK(w.err.ends_with("\r"));
}
