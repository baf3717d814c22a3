#include <doctest/doctest.h>
#include <fcntl.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <cerrno>
#include <map>
#include <random>
#include <set>

#include "archive/faults.h"

using namespace sample;
using faults::Bench;
using faults::Scenario;
using tracer::Act;
using tracer::Fault;

namespace {

const std::vector<std::pair<const char*, long>> kErrors{
    {"ENOSPC", ENOSPC}, {"EIO", EIO}, {"EACCES", EACCES}, {"EINTR", EINTR}, {"EMFILE", EMFILE}};
const std::set<long> kWrites{SYS_write, SYS_pwrite64};
/// What may fail. Everything else (memory, the clock, random numbers) is only killed at.
const std::set<long> kFailing{
    SYS_open,      SYS_openat,    SYS_openat2,    SYS_write,     SYS_pwrite64,  SYS_fsync,
    SYS_fdatasync, SYS_rename,    SYS_renameat,   SYS_renameat2, SYS_mkdir,     SYS_mkdirat,
    SYS_close,     SYS_read,      SYS_pread64,    SYS_unlink,    SYS_unlinkat,  SYS_flock,
    SYS_fcntl,     SYS_ftruncate, SYS_getdents64, SYS_fstat,     SYS_newfstatat};

std::vector<Fault> kills(const std::vector<long>& calls) {
  std::vector<Fault> plan;
  for (std::size_t n = 1; n <= calls.size(); ++n) {
    plan.push_back({Act::kill, -1, static_cast<int>(n), false, 0});
  }
  return plan;
}

/// The same fault at each of the calls that `at` names, once and for ever.
std::vector<Fault> at_each(const std::vector<long>& calls, const std::set<long>& at, Act act,
                           long value) {
  std::vector<Fault> plan;
  std::map<long, int> seen;
  for (const long call : calls) {
    if (!at.contains(call)) continue;
    const int nth = ++seen[call];
    plan.push_back({act, call, nth, false, value});
    plan.push_back({act, call, nth, true, value});
  }
  return plan;
}

std::vector<Fault> errors(const std::vector<long>& calls) {
  std::vector<Fault> plan;
  for (const auto& [name, number] : kErrors) {
    for (const Fault& f : at_each(calls, kFailing, Act::error, number)) plan.push_back(f);
  }
  return plan;
}

/// All of them, or the share of them that OHMLEAF_SHARE says: 4 is a quarter, chosen at random.
std::size_t share(std::size_t planned) {
  const char* given = std::getenv("OHMLEAF_SHARE");
  const std::size_t parts = given ? std::strtoul(given, nullptr, 10) : 1;
  return planned / std::max<std::size_t>(parts, 1);
}

std::vector<Fault> lies(const std::vector<long>& calls) {
  std::vector<Fault> plan = at_each(calls, {SYS_write}, Act::lie, 1);
  for (const Fault& f : at_each(calls, kWrites, Act::lie_whole, 0)) plan.push_back(f);
  return plan;
}

std::vector<Fault> short_writes(const std::vector<long>& calls) {
  std::vector<Fault> plan = at_each(calls, kWrites, Act::shorten, 1);
  for (const Fault& f : at_each(calls, kWrites, Act::shorten, 100)) plan.push_back(f);
  return plan;
}

std::string text_of(const Fault& f) {
  return tracer::name_of(f.call) + " act " + std::to_string(static_cast<int>(f.act)) + " value " +
         std::to_string(f.value) + " nth " + std::to_string(f.nth) + (f.for_ever ? "+" : "");
}

struct Count {
  int runs = 0;  ///< in which the fault was seen to happen
  int wrong = 0;
  int endless = 0;  ///< had to be killed
};

/// One for all tests: what the scenarios begin with is made once.
Bench& bench() {
  static Bench one;
  return one;
}

/// Hurts a scenario as planned, each fault or a random choice of `most`.
Count go_through(const Scenario& scenario, std::vector<Fault> plan, std::size_t most, bool report) {
  std::mt19937 random(seed());
  most = std::min(most, share(plan.size()));
  if (plan.size() > most) {
    std::shuffle(plan.begin(), plan.end(), random);
    plan.resize(most);
  }
  Count count;
  for (const Fault& fault : plan) {
    const stdfs::path root = bench().fresh(scenario);
    const faults::Hurt hurt = bench().hurt(scenario, root, fault);
    if (hurt.run.injected == 0) continue;
    ++count.runs;
    if (hurt.run.endless) ++count.endless;
    const std::string wrong = faults::examine(scenario, root, hurt.answer);
    if (wrong.empty()) continue;
    ++count.wrong;
    INFO(scenario.name, ": ", text_of(fault), ": ", wrong);
    if (report) CHECK(wrong.empty());
  }
  return count;
}

using Plan = std::vector<Fault> (*)(const std::vector<long>&);

/// All scenarios, then the control, which the same checks must catch.
void prove(const std::string& what, Plan plan, std::size_t most, int at_least) {
  Count all;
  for (const Scenario& scenario : faults::scenarios()) {
    const Count one = go_through(scenario, plan(bench().calls(scenario)), most, true);
    if (!one.runs) MESSAGE(scenario.name, ": nothing to hurt");
    all.runs += one.runs;
    all.wrong += one.wrong;
    all.endless += one.endless;
    row(what + ": " + scenario.name, one.runs, std::to_string(one.wrong) + " wrong");
  }
  const Scenario& careless = faults::careless();
  const Count control = go_through(careless, plan(bench().calls(careless)), few(12, 2000), false);
  row(what + ", in all", all.runs,
      std::to_string(all.wrong) + " wrong, " + std::to_string(all.endless) + " waited for ever");
  row(what + ": control, a careless writer", control.runs,
      std::to_string(control.wrong) + " caught");
  CHECK(all.runs >= at_least);
  CHECK(control.wrong > 0);
}

}  // namespace

TEST_CASE("archive: the tracer does to a call what it says, and to no other") {
  const Folder folder;
  const std::string file = (folder.path() / "file").string();
  const auto work = [&] {
    const int fd = ::open(file.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
    const ssize_t first = ::write(fd, "one", 3);
    const int why = first < 0 ? errno : 0;
    const ssize_t second = ::write(fd, "two", 3);
    return (first == 3 ? 0 : 1) + (second == 3 ? 0 : 2) + (why == EIO ? 4 : 0);
  };
  struct Case {
    std::optional<Fault> fault;
    int code, injected;
    const char* left;
  };
  const std::vector<Case> cases{{std::nullopt, 0, 0, "onetwo"},
                                {Fault{Act::error, SYS_write, 1, false, EIO}, 5, 1, "two"},
                                {Fault{Act::error, SYS_write, 1, true, EIO}, 7, 2, ""},
                                {Fault{Act::lie, SYS_write, 2, false, 1}, 2, 1, "one"},
                                {Fault{Act::lie_whole, SYS_write, 1, false, 0}, 0, 1, "two"},
                                {Fault{Act::shorten, SYS_write, 1, false, 1}, 1, 1, "otwo"},
                                {Fault{Act::kill, SYS_write, 2, false, 0}, -1, 1, "one"},
                                {Fault{Act::kill, SYS_write, 3, false, 0}, 0, 0, "onetwo"}};
  for (const Case& c : cases) {
    CAPTURE(&c - cases.data());
    stdfs::remove(file);
    const std::optional<tracer::Run> run = tracer::run(work, c.fault);
    REQUIRE(run);
    CHECK(run->exit_code == c.code);
    CHECK(run->injected == c.injected);
    CHECK(slurp(file) == c.left);
  }
}

TEST_CASE("archive: unhurt, every scenario gives what it owes, and so does the control") {
  for (const Scenario& s : faults::scenarios()) {
    CAPTURE(s.name);
    const stdfs::path root = bench().fresh(s);
    const std::int64_t looked = faults::last_look(root);
    const faults::Hurt hurt = bench().hurt(s, root, std::nullopt);
    REQUIRE(hurt.answer);
    CHECK(hurt.answer->said == s.due);
    CHECK((looked != -1 && faults::last_look(root) == looked) == s.lately);
    CHECK(faults::examine(s, root, hurt.answer) == "");
  }
  const stdfs::path root = bench().fresh(faults::careless());
  CHECK(faults::examine(faults::careless(), root, faults::careless().act(root)) == "");
}

TEST_CASE("archive: killed at any system call, a command leaves nothing lost and nothing halved") {
  prove("killed at a call", kills, few(2, 100'000), runs(14, 600));
}

TEST_CASE("archive: a call that fails, once or for ever, leaves nothing lost and nothing halved") {
  prove("a call that fails", errors, few(3, 100'000), runs(20, 3000));
}

TEST_CASE("archive: a write that lies is found out before anything is acknowledged") {
  prove("a write that lies", lies, few(2, 100'000), runs(8, 150));
}

TEST_CASE("archive: a write cut short is finished") {
  prove("a write cut short", short_writes, few(2, 100'000), runs(8, 150));
}

TEST_CASE("archive: a file that may grow no further leaves nothing lost and nothing halved") {
  // The system's own limit, down to the byte: a real short write, then EFBIG or SIGXFSZ.
  const rlim_t step = static_cast<rlim_t>(runs(3000, 150));
  int hit = 0, caught = 0, tried = 0;
  const auto limited = [](rlim_t size, bool ignore) {
    return [size, ignore] {
      const rlimit limit{size, size};
      ::setrlimit(RLIMIT_FSIZE, &limit);
      ::signal(SIGXFSZ, ignore ? SIG_IGN : SIG_DFL);
    };
  };
  for (const Scenario& s : faults::scenarios()) {
    for (rlim_t size = 0; size < 9500; size += step) {
      CAPTURE(s.name);
      CAPTURE(size);
      const stdfs::path root = bench().fresh(s);
      const faults::Hurt hurt =
          bench().hurt(s, root, std::nullopt, limited(size, (size / step) % 2 == 0));
      if (hurt.answer && !hurt.answer->said.empty()) continue;  // it stayed below
      ++hit;
      CHECK(faults::examine(s, root, hurt.answer) == "");
    }
  }
  for (rlim_t size = 0; size < 9500; size += runs(2000, 250), ++tried) {
    // The limit comes when it writes in place: before, the real program would meet it and stop.
    const Scenario s = faults::careless_after(limited(size, true));
    const stdfs::path root = bench().fresh(s);
    const faults::Hurt hurt = bench().hurt(s, root, std::nullopt);
    if (!faults::examine(s, root, hurt.answer).empty()) ++caught;
  }
  row("short writes by the system's file size limit", hit, "0 wrong where no failure is shown");
  row("short writes: control, a careless writer", tried, std::to_string(caught) + " caught");
  CHECK(hit >= runs(10, 150));
  CHECK(caught > 0);
}
