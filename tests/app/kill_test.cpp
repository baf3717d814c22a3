#include <doctest/doctest.h>
#include <sys/syscall.h>

#include <cerrno>
#include <cstdlib>

#include "archive/tracer.h"
#include "cli/world.h"

// What writes to a user's own file may be killed at any moment, and any of its calls may fail.

using namespace ohmleaf;
using namespace ohmleaf::test;
using tracer::Act;
using tracer::Fault;

namespace {

/// Every second call; fewer in the sanitized twin, where a run takes long.
std::size_t step() { return std::getenv("OHMLEAF_THINNED") != nullptr ? 16 : 2; }

/// Runs `work` with a fault at each of its calls in turn (every `step()`th); `whole` looks at what is
/// left after each and puts it back. How many faults were seen to happen.
std::size_t at_each_call(const std::function<int()>& work, const std::function<void()>& whole) {
  const auto clean = tracer::run(work, std::nullopt);
  if (!clean) return 0;  // no process here may filter its calls
  REQUIRE(clean->exit_code >= 0);
  whole();
  std::size_t seen = 0;
  const auto fault = [&](const Fault& f) {
    CAPTURE(f.nth);
    const auto run = tracer::run(work, f);
    REQUIRE(run);
    CHECK_FALSE(run->endless);
    if (run->injected > 0) ++seen;
    whole();
  };
  for (std::size_t n = 1; n <= clean->calls.size(); n += step())
    fault({Act::kill, -1, static_cast<int>(n), false, 0});
  for (const long call : {SYS_write, SYS_fsync, SYS_rename, SYS_link, SYS_openat, SYS_fchmod}) {
    int nth = 0;
    for (const long made : clean->calls)
      if (made == call && ++nth <= 3) fault({Act::error, call, nth, false, ENOSPC});
  }
  return seen;
}

}  // namespace

TEST_CASE("an answer that is being saved leaves the old file or the new one, never half of one") {
  World w;
  const fs::path file = w.job("sewing-workshop");
  REQUIRE(replace_once(file, "  zs         = 0.46\n", ""));
  const std::string before = slurp(file);
  w.input = "0.47\n";
  w.run({"note", w.path("sewing-workshop")});
  const std::string after = slurp(file);
  REQUIRE(after.find("zs = 0.47") != std::string::npos);
  REQUIRE(after != before);
  spit(file, before);
  std::size_t old = 0, fresh = 0;
  const auto seen = at_each_call(
      [&] {
        w.input = "0.47\n";
        return w.run({"note", w.path("sewing-workshop")});
      },
      [&] {
        const std::string now = slurp(file);
        CHECK((now == before || now == after));
        ++(now == before ? old : fresh);
        spit(file, before);
      });
  if (seen > 0) CHECK(old > 5);
  if (seen > 0) CHECK(fresh > 0);
}

TEST_CASE("a job that is being begun is there whole, or not at all") {
  World w;
  const std::vector<std::string> args{"start",      w.path("new"), "--work",   "fan",
                                      "--premises", "9 Example",   "--client", "A. Client",
                                      "--fresh"};
  REQUIRE(w.run(args) == 0);
  const fs::path file = w.root / "new" / "job.toml";
  const std::string whole = slurp(file);
  fs::remove_all(w.root / "new");
  std::size_t there = 0, absent = 0;
  const auto seen = at_each_call([&] { return w.run(args); },
                                 [&] {
                                   const bool is = fs::exists(file);
                                   if (is) CHECK(slurp(file) == whole);
                                   ++(is ? there : absent);
                                   fs::remove_all(w.root / "new");
                                 });
  if (seen > 0) CHECK(absent > 5);
  if (seen > 0) CHECK(there > 0);
}
