#include <doctest/doctest.h>

#include <functional>
#include <optional>
#include <random>

#include "archive/sample.h"

using namespace sample;

namespace {

/// An archive of five certificates, one revised and one withdrawn, and all that is in it.
struct Target {
  Folder folder;
  stdfs::path root = folder.archive();
  std::vector<std::string> files;
  std::mt19937 random{seed()};

  Target() {
    for (const char* job : {"a", "b", "c", "d", "e"}) {
      REQUIRE(issue(root, job).state == IssueState::issued);
    }
    REQUIRE(revise(root, "b", "SP-0002", "slip").state == IssueState::issued);
    Diagnostics out;
    const WithdrawRequest w{"ohmleaf test", "R. Hollins", "wrong flat", request("c").now};
    REQUIRE(open(root).withdraw(w, "SP-0003", out).state == IssueState::issued);
    // Without the lock, a look that finds something is not taken twice.
    stdfs::remove_all(folder.path() / "archive.work");
    for (const auto& e : stdfs::recursive_directory_iterator(root)) {
      if (e.is_regular_file()) files.push_back(stdfs::relative(e.path(), root).string());
    }
    std::sort(files.begin(), files.end());
  }
  std::size_t below(std::size_t n) { return random() % n; }
  const std::string& any_file() { return files[below(files.size())]; }
};

/// True if verify (or open) names the file; of an inventory and its sidecar, either will do.
bool is_named(const stdfs::path& root, const std::string& file, const std::string& also = "") {
  Diagnostics out;
  const std::optional<Archive> archive = Archive::open(root, out);
  if (!archive) return file == "0=ocfl_1.1" && !out.ok();
  const VerifyReport report = archive->verify(std::nullopt, std::nullopt, out);
  const auto named = [&](const std::string& f) {
    return names(report, f) || (f.ends_with(".sha512") && names(report, f.substr(0, f.size() - 7)));
  };
  return named(file) && (also.empty() || named(also));
}

}  // namespace

/// What the checks are checked by: the same eyes, where nothing was done to the file.
int named_for_nothing(Target& t, int times) {
  int named = 0;
  for (int n = 0; n < times; ++n) {
    const std::string file = t.any_file(), good = slurp(t.root / file);
    spill(t.root / file, good);
    named += is_named(t.root, file) ? 1 : 0;
  }
  return named;
}

/// A judge that looks at names and sizes only: what a listing of the folder would show.
std::string listing(const Target& t) {
  std::string text;
  for (const std::string& file : t.files) {
    text += file + " " + std::to_string(stdfs::file_size(t.root / file)) + "\n";
  }
  return text;
}

using Hand = std::function<std::optional<bool>()>;  // named or not; nothing: it changed nothing

struct Hands {
  Target& t;

  bool cut_short() {
    const std::string file = t.any_file(), good = slurp(t.root / file);
    spill(t.root / file, good.substr(0, t.below(good.size())));
    const bool seen = is_named(t.root, file);
    spill(t.root / file, good);
    return seen;
  }
  std::optional<bool> two_change_places() {
    const std::string a = t.any_file(), b = t.any_file();
    const std::string first = slurp(t.root / a), second = slurp(t.root / b);
    if (first == second) return std::nullopt;
    spill(t.root / a, second);
    spill(t.root / b, first);
    const bool seen = is_named(t.root, a) || is_named(t.root, b);
    spill(t.root / a, first);
    spill(t.root / b, second);
    return seen;
  }
  std::optional<bool> another_name() {
    const std::string file = t.any_file();
    if (file == "0=ocfl_1.1") return std::nullopt;  // then nothing is an archive any more
    const std::string name = file + static_cast<char>('a' + t.below(26));
    stdfs::rename(t.root / file, t.root / name);
    const bool seen = is_named(t.root, file, name);
    stdfs::rename(t.root / name, t.root / file);
    return seen;
  }
  bool one_more() {
    const std::string name = "added-" + std::to_string(t.below(1000)) + ".txt";
    const std::string file = stdfs::path(t.any_file()).parent_path() / name;
    spill(t.root / file, "x");
    const bool seen = is_named(t.root, file);
    stdfs::remove(t.root / file);
    return seen;
  }
  bool one_less() {
    const std::string file = t.any_file(), good = slurp(t.root / file);
    stdfs::remove(t.root / file);
    const bool seen = is_named(t.root, file);
    spill(t.root / file, good);
    return seen;
  }
};

TEST_CASE("archive: every flip of one bit in any file is named") {
  Target t;
  const int flips = runs(200, 10'000);
  int named = 0, listed = 0;
  const std::string before = listing(t);
  for (int n = 0; n < flips; ++n) {
    const std::string file = t.any_file(), good = slurp(t.root / file);
    std::string bad = good;
    const std::size_t bit = t.below(bad.size() * 8);
    bad[bit / 8] = static_cast<char>(bad[bit / 8] ^ (1 << (bit % 8)));
    spill(t.root / file, bad);
    CAPTURE(file);
    CAPTURE(bit);
    const bool seen = is_named(t.root, file);
    CHECK(seen);
    named += seen ? 1 : 0;
    listed += listing(t) != before ? 1 : 0;
    spill(t.root / file, good);
  }
  CHECK(verify(t.root).problems.empty());
  CHECK(listed == 0);
  const int quiet = runs(10, 500);
  CHECK(named_for_nothing(t, quiet) == 0);
  row("bit flips over every file", flips, std::to_string(named) + " named");
  row("bit flips: control, a judge by name and size", flips, std::to_string(listed) + " named");
  row("bit flips: control, no bit flipped", quiet, "0 named");
}

TEST_CASE("archive: every truncation, swap, renaming, added and missing file is named") {
  Target t;
  Hands h{t};
  const std::vector<std::pair<std::string, Hand>> hands = {
      {"truncations", [&] { return h.cut_short(); }},
      {"swaps of two files", [&] { return h.two_change_places(); }},
      {"renamings", [&] { return h.another_name(); }},
      {"extra files", [&] { return h.one_more(); }},
      {"missing files", [&] { return h.one_less(); }}};
  const int wanted = runs(12, 1000);
  for (const auto& [what, hand] : hands) {
    CAPTURE(what);
    int named = 0, done = 0;
    while (done < wanted) {
      const std::optional<bool> seen = hand();
      if (!seen) continue;
      CHECK(*seen);
      ++done;
      named += *seen ? 1 : 0;
    }
    row(what, done, std::to_string(named) + " named");
  }
  CHECK(verify(t.root).problems.empty());
}

TEST_CASE("archive: without a job's inventory, damage elsewhere in the job is named all the same") {
  Target t;
  stdfs::rename(t.root / "sp-0002/inventory.json", t.root / "sp-0002/inventory.jsonx");
  spill(t.root / "sp-0002/v1/content/certificate.pdf", "%PDF");
  stdfs::remove(t.root / "sp-0002/v2/content/job.toml");
  spill(t.root / "sp-0002/v2/content/more.txt", "x");
  const VerifyReport report = verify(t.root);
  INFO(all_problems(report));
  for (const char* file : {"inventory.json", "inventory.jsonx", "v1/content/certificate.pdf",
                           "v2/content/job.toml", "v2/content/more.txt"}) {
    CAPTURE(file);
    CHECK(names(report, std::string("sp-0002/") + file));
  }
}

TEST_CASE("archive: a whole archive raises no alarm, however often it is asked") {
  Target t;
  const int times = runs(50, 1000);
  int alarms = 0;
  for (int n = 0; n < times; ++n) alarms += verify(t.root).problems.empty() ? 0 : 1;
  row("clean runs", times, std::to_string(alarms) + " false alarms");
  CHECK(alarms == 0);
}
