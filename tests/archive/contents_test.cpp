#include <doctest/doctest.h>

#include "archive/faults.h"

using namespace sample;
using faults::last_look;
using faults::looked_just_now;

// A writing command that comes right after another one asks the index (archive/contents.h). These
// hold what it must see all the same.

namespace {

/// Two certificates and an index, looked at a moment ago.
struct Lately {
  Folder folder;
  stdfs::path root = folder.archive();
  Lately() {
    for (const char* job : {"tallow", "brindle"}) issue(root, job);
    Diagnostics out;
    REQUIRE(open(root).rebuild_index({}, out));
    looked_just_now(root);
    REQUIRE(last_look(root) > 0);
  }
};

}  // namespace

TEST_CASE("archive: commands in quick succession look at the other certificates once") {
  const Lately a;
  const std::int64_t looked = last_look(a.root);
  Diagnostics out;
  CHECK(issue(a.root, "quarry").number == "SP-0003");
  CHECK(issue(a.root, "sluice", "XY").number == "XY-0001");
  CHECK(issue(a.root, "kiln").number == "SP-0004");
  CHECK(issue(a.root, "brindle").state == IssueState::already_issued);
  CHECK(revise(a.root, "tallow", "sp-0001", "slip").revision == 2);
  CHECK(revise(a.root, "tallow", "SP-0001", "slip").state == IssueState::already_issued);
  const WithdrawRequest w{"ohmleaf test", "R. Hollins", "wrong flat", request("a").now};
  CHECK(open(a.root).withdraw(w, "SP-0002", out).state == IssueState::issued);
  CHECK(out.ok());
  CHECK(last_look(a.root) == looked);
  const VerifyReport report = verify(a.root);
  CHECK(all_problems(report) == "");
  CHECK(report.chain_holds);
  CHECK(open(a.root).find({}, out).size() == 5);
  CHECK(open(a.root).expire(w, "SP-0003", out).state == IssueState::issued);
  CHECK(last_look(a.root) == -1);  // the index went with what was removed
  CHECK(all_problems(verify(a.root)) == "");
}

TEST_CASE("archive: a look that is too old is not relied on") {
  const Lately a;
  const std::int64_t looked = last_look(a.root);
  REQUIRE(faults::in_the_index(a.root, "UPDATE look SET took = 0") == -1);
  CHECK(issue(a.root, "quarry").number == "SP-0003");
  CHECK(last_look(a.root) != looked);
  // Nor one of tomorrow: a clock was put back.
  looked_just_now(a.root);
  faults::in_the_index(a.root, "UPDATE look SET at = at + 3600000000");
  const std::int64_t ahead = last_look(a.root);
  CHECK(issue(a.root, "sluice").number == "SP-0004");
  CHECK(last_look(a.root) < ahead);
}

TEST_CASE("archive: what another program put into the archive meanwhile is seen at once") {
  const Lately a;
  // Another computer's copy goes on by itself, and comes back by a sync folder.
  stdfs::copy(a.root, a.folder.path() / "other", stdfs::copy_options::recursive);
  REQUIRE(issue(a.folder.path() / "other", "quarry").number == "SP-0003");
  stdfs::rename(a.folder.path() / "other/sp-0003", a.root / "sp-0003");
  const std::int64_t looked = last_look(a.root);
  CHECK(issue(a.root, "quarry").state == IssueState::already_issued);
  CHECK(last_look(a.root) != looked);
  CHECK(issue(a.root, "sluice").number == "SP-0004");
  CHECK(all_problems(verify(a.root)) == "");
}

TEST_CASE("archive: a revision from elsewhere is seen where it is revised, and by the next look") {
  const Lately a;
  const stdfs::path other = a.folder.path() / "other";
  stdfs::copy(a.root, other, stdfs::copy_options::recursive);
  REQUIRE(revise(other, "tallow", "SP-0001", "slip").revision == 2);
  stdfs::remove_all(a.root / "sp-0001");
  stdfs::copy(other / "sp-0001", a.root / "sp-0001", stdfs::copy_options::recursive);
  SUBCASE("the folder was exchanged, which the root shows") {
    CHECK(issue(a.root, "quarry").number == "SP-0003");
  }
  SUBCASE("the root does not show it, but the certificate itself is asked") {
    looked_just_now(a.root);
    faults::in_the_index(a.root, "UPDATE object SET version = 1, revision = 1 WHERE id='sp-0001'");
    CHECK(revise(a.root, "tallow", "SP-0001", "slip").state == IssueState::already_issued);
    CHECK(revise(a.root, "tallow", "SP-0001", "another").revision == 3);
  }
  CHECK(all_problems(verify(a.root)) == "");
}

TEST_CASE("archive: unfinished work makes the next command look at every certificate") {
  const Lately a;
  REQUIRE(revise(a.root, "tallow", "SP-0001", "slip").revision == 2);
  const stdfs::path inventory = a.root / "sp-0001/inventory.json";
  const std::string whole = slurp(inventory);
  looked_just_now(a.root);
  const std::int64_t looked = last_look(a.root);
  Archive archive = open(a.root);  // and then another issuer is killed: nobody opens it anew
  for (const char* name : {"inventory.json", "inventory.json.sha512"}) {
    stdfs::copy_file(a.root / "sp-0001/v1" / name, a.root / "sp-0001" / name,
                     stdfs::copy_options::overwrite_existing);
  }
  stdfs::create_directory(a.folder.path() / "archive.work/staging/sp-0001.0123456789abcdef");
  Diagnostics out;
  CHECK(archive.issue(request("quarry"), render(), out).number == "SP-0003");
  CHECK(last_look(a.root) != looked);
  CHECK(slurp(inventory) == whole);
  CHECK(stdfs::is_empty(a.folder.path() / "archive.work/staging"));
  CHECK(all_problems(verify(a.root)) == "");
}

TEST_CASE("archive: no page of an index that is lost makes a job issued twice, or a number") {
  constexpr std::uintmax_t kPage = 4096;
  const Lately model;
  const stdfs::path index = model.folder.path() / "archive.work/index.sqlite";
  const std::string whole = slurp(index);
  REQUIRE(whole.size() > 10 * kPage);
  int tried = 0;
  for (std::uintmax_t at = 0; at < whole.size(); at += kPage) {
    for (const char with : {'\0', '\x5a'}) {
      CAPTURE(at);
      const Lately a;
      std::string broken = slurp(a.folder.path() / "archive.work/index.sqlite");
      if (at >= broken.size()) continue;
      broken.replace(at, kPage, std::string(kPage, with));
      spill(a.folder.path() / "archive.work/index.sqlite", broken);
      CHECK(issue(a.root, "brindle").state == IssueState::already_issued);
      CHECK(issue(a.root, "quarry").number == "SP-0003");
      CHECK(all_problems(verify(a.root)) == "");
      Diagnostics out;
      CHECK(open(a.root).find({"quarry"}, out).size() == 1);
      ++tried;
    }
  }
  CHECK(tried > 20);
}

TEST_CASE("archive: a page of the index that the disk kept as it was is found out") {
  constexpr std::uintmax_t kPage = 4096;
  const auto next = [](const stdfs::path& root, bool revising) {
    return revising ? revise(root, "tallow", "SP-0001", "slip") : issue(root, "quarry");
  };
  for (const bool revising : {false, true}) {
    int tried = 0;
    for (std::uintmax_t at = 0;; at += kPage) {
      CAPTURE(revising);
      CAPTURE(at);
      const Lately a;
      const stdfs::path index = a.folder.path() / "archive.work/index.sqlite";
      const std::string before = slurp(index);
      const IssueResult first = next(a.root, revising);
      std::string after = slurp(index);
      if (at >= before.size()) break;
      if (before.compare(at, kPage, after, at, kPage) == 0) continue;
      after.replace(at, kPage, before, at, kPage);
      spill(index, after);
      ++tried;
      const IssueResult again = next(a.root, revising);
      CHECK(again.state == IssueState::already_issued);
      CHECK(again.number == first.number);
      CHECK(issue(a.root, "sluice").number == (revising ? "SP-0003" : "SP-0004"));
      CHECK(all_problems(verify(a.root)) == "");
    }
    CHECK(tried > 4);
  }
}
