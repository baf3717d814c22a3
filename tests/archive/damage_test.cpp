#include <doctest/doctest.h>

#include <functional>
#include <random>

#include "archive/sample.h"

using namespace sample;

namespace {

/// An archive of five certificates, one revised and one withdrawn, and all that is in it.
struct Target {
  Folder folder;
  stdfs::path root = folder.archive();
  std::vector<std::string> files;
  std::mt19937 random{33};

  Target() {
    for (const char* job : {"a", "b", "c", "d", "e"}) {
      REQUIRE(issue(root, job).state == IssueState::issued);
    }
    REQUIRE(revise(root, "b", "SP-0002", "slip").state == IssueState::issued);
    Diagnostics out;
    const WithdrawRequest w{"ohmleaf test", "R. Hollins", "wrong flat", request("c").now};
    REQUIRE(open(root).withdraw(w, "SP-0003", out).state == IssueState::issued);
    for (const auto& e : stdfs::recursive_directory_iterator(root)) {
      if (e.is_regular_file()) files.push_back(stdfs::relative(e.path(), root).string());
    }
    std::sort(files.begin(), files.end());
  }
  std::size_t below(std::size_t n) { return random() % n; }
  const std::string& any_file() { return files[below(files.size())]; }
};

/// True if verify (or open) names the file; of an inventory and its sidecar, either will do.
bool is_named(const stdfs::path& root, const std::string& file) {
  Diagnostics out;
  const std::optional<Archive> archive = Archive::open(root, out);
  if (!archive) return file == "0=ocfl_1.1" && !out.ok();
  const VerifyReport report = archive->verify(std::nullopt, std::nullopt, out);
  if (names(report, file)) return true;
  return file.ends_with(".sha512") && names(report, file.substr(0, file.size() - 7));
}

}  // namespace

TEST_CASE("archive: every flip of one bit in any file is named") {
  Target t;
  const int flips = runs(500, 10'000);
  int named = 0;
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
    spill(t.root / file, good);
  }
  MESSAGE("bit flips: ", flips, ", named: ", named);
  CHECK(verify(t.root).problems.empty());
}

TEST_CASE("archive: every truncation, swap, renaming, added and missing file is named") {
  Target t;
  const auto put_back = [&](const stdfs::path& file, const std::string& bytes) {
    spill(t.root / file, bytes);
  };
  const std::vector<std::function<bool()>> hands = {
      [&] {  // cut short
        const std::string file = t.any_file(), good = slurp(t.root / file);
        spill(t.root / file, good.substr(0, t.below(good.size())));
        const bool seen = is_named(t.root, file);
        put_back(file, good);
        return seen;
      },
      [&] {  // two files change places
        const std::string a = t.any_file(), b = t.any_file();
        const std::string first = slurp(t.root / a), second = slurp(t.root / b);
        if (first == second) return true;
        put_back(a, second);
        put_back(b, first);
        const bool seen = is_named(t.root, a) || is_named(t.root, b);
        put_back(a, first);
        put_back(b, second);
        return seen;
      },
      [&] {  // another name
        const std::string file = t.any_file();
        if (file == "0=ocfl_1.1") return true;
        stdfs::rename(t.root / file, t.root / (file + "x"));
        const bool seen = is_named(t.root, file) && is_named(t.root, file + "x");
        stdfs::rename(t.root / (file + "x"), t.root / file);
        return seen;
      },
      [&] {  // one more
        const std::string file = stdfs::path(t.any_file()).parent_path() / "added.txt";
        put_back(file, "x");
        const bool seen = is_named(t.root, file);
        stdfs::remove(t.root / file);
        return seen;
      },
      [&] {  // one less
        const std::string file = t.any_file(), good = slurp(t.root / file);
        stdfs::remove(t.root / file);
        const bool seen = is_named(t.root, file);
        put_back(file, good);
        return seen;
      }};
  const int rounds = runs(20, 200);
  int named = 0, done = 0;
  for (int n = 0; n < rounds; ++n) {
    for (std::size_t hand = 0; hand < hands.size(); ++hand) {
      CAPTURE(hand);
      const bool seen = hands[hand]();
      CHECK(seen);
      ++done;
      named += seen ? 1 : 0;
    }
  }
  MESSAGE("truncations, swaps, renamings, added, missing: ", done, ", named: ", named);
  CHECK(verify(t.root).problems.empty());
}

TEST_CASE("archive: a whole archive raises no alarm, however often it is asked") {
  Target t;
  const int times = runs(50, 1000);
  int alarms = 0;
  for (int n = 0; n < times; ++n) alarms += verify(t.root).problems.empty() ? 0 : 1;
  MESSAGE("clean runs: ", times, ", false alarms: ", alarms);
  CHECK(alarms == 0);
}
