#include <doctest/doctest.h>

#include <atomic>
#include <chrono>
#include <mutex>
#include <thread>

#include "base/file_watch.h"
#include "cli/world.h"

using namespace ohmleaf;
using namespace ohmleaf::test;

namespace {

/// Runs `check --watch` beside the test, which edits the file as an editor would.
struct Watching {
  World w;
  std::mutex lock;
  std::string said;
  std::atomic<bool> stop{false};
  std::atomic<int> code{-1};
  std::thread runner;

  explicit Watching(const char* job) {
    runner = std::thread([this, job] {
      cli::Environment e;
      e.out = e.err = [this](std::string_view t) {
        const std::lock_guard held(lock);
        said += t;
        return true;
      };
      e.now = [] { return Instant{}; };
      e.wall_clock = [] { return DateTime{{2026, 11, 20}, 9, 12, 0}; };
      e.interrupted = [this] { return stop.load(); };
      e.data_folder = source_root();
      code = cli::run({"check", "--watch", w.path(job)}, e);
    });
  }
  ~Watching() {
    stop = true;
    runner.join();
  }
  /// True once the words were said; what was said up to then is then forgotten.
  bool says(const std::string& words) {
    for (int i = 0; i < 3000; ++i) {
      {
        const std::lock_guard held(lock);
        if (const auto at = said.find(words); at != std::string::npos) {
          said.erase(0, at + words.size());
          return true;
        }
      }
      std::this_thread::sleep_for(std::chrono::milliseconds(20));
    }
    const std::lock_guard held(lock);
    MESSAGE("said: " << said);
    return false;
  }
};

}  // namespace

TEST_CASE("a job is judged again when it is saved: over itself, by renaming, with a slip, with its profile") {
  Watching x("sewing-workshop");
  const fs::path job = x.w.job("sewing-workshop");
  const std::string sound = slurp(job);
  CHECK(x.says("09:12:00"));
  CHECK(x.says("nothing stands in the way"));
  REQUIRE(replace_once(job, "zs         = 0.46", "zs         = 1.99"));
  CHECK(x.says("09:12:00"));
  CHECK(x.says("(was pass)"));
  CHECK(x.says("cannot be issued"));
  spit(x.w.root / "new", sound);
  fs::rename(x.w.root / "new", job);
  CHECK(x.says("(was "));
  CHECK(x.says("nothing stands in the way"));
  spit(job, sound + "zs = = 1\n");
  CHECK(x.says("looked at again when it is saved"));
  spit(job, sound);
  CHECK(x.says("No verdict changed"));
  REQUIRE(replace_once(x.w.root / "installer.toml", "calibration_due = 2027-03-16\ncontinuity_percent",
                       "calibration_due = 2026-10-01\ncontinuity_percent"));
  CHECK(x.says("calibration"));
  x.stop = true;
  for (int i = 0; i < 3000 && x.code < 0; ++i)
    std::this_thread::sleep_for(std::chrono::milliseconds(20));
  CHECK(x.code == 130);
}

TEST_CASE("a job that is removed ends the watch; several jobs and JSON are refused") {
  Watching x("tt-cottage");
  CHECK(x.says("verdict:"));
  fs::remove(x.w.job("tt-cottage"));
  CHECK(x.says("is gone"));
  World w;
  CHECK(w.run({"check", "--watch", w.path("tt-cottage"), w.path("joinery")}) == 2);
  CHECK(w.run({"check", "--watch", "--json", w.path("tt-cottage")}) == 2);
  CHECK(w.run({"check", "--watch", w.path("nowhere")}) == 2);
}

TEST_CASE("where no change is told of, looking finds it") {
  World w;
  for (const bool told : {true, false}) {
    CAPTURE(told);
    FileWatch watch({w.job("joinery")}, told);
    CHECK_FALSE(watch.wait(1));
    spit(w.job("joinery"), slurp(w.job("joinery")) + "#\n");
    CHECK(watch.wait(50));
    CHECK_FALSE(watch.wait(1));
    fs::remove(w.job("joinery"));
    CHECK(watch.wait(50));
    spit(w.job("joinery"), "x");
    CHECK(watch.wait(50));
  }
}
