#include <doctest/doctest.h>

#include "archive/sample.h"
#include "base/digest.h"

using namespace sample;

namespace {

IssueResult withdraw(const Folder& folder, const std::string& number, const std::string& reason,
                     Diagnostics& out) {
  WithdrawRequest r{"ohmleaf test", "R. Hollins", reason, *Instant::parse("2026-12-01T08:00:00Z")};
  return open(folder.archive()).withdraw(r, number, out);
}

}  // namespace

TEST_CASE("archive: a withdrawal is a version of its own that keeps the files, and says so") {
  const Folder folder;
  REQUIRE(issue(folder.archive(), "a").state == IssueState::issued);
  REQUIRE(issue(folder.archive(), "b").state == IssueState::issued);
  Diagnostics out;
  const IssueResult r = withdraw(folder, "sp-0001", "issued for the wrong flat", out);
  REQUIRE(r.state == IssueState::issued);
  CHECK(r.number == "SP-0001");
  CHECK(r.revision == 1);
  const Archive archive = open(folder.archive());
  const std::vector<Record> all = archive.find({"sp-0001"}, out);
  REQUIRE(all.size() == 1);
  CHECK(all[0].withdrawn);
  CHECK(all[0].reason == "issued for the wrong flat");
  CHECK(archive.read("SP-0001", 0, "job.toml", out) == request("a").job_bytes);
  CHECK(archive.read("SP-0001", 1, "job.toml", out) == request("a").job_bytes);
  const std::vector<Record> history = archive.history("SP-0001", out);
  REQUIRE(history.size() == 2);
  CHECK_FALSE(history[0].withdrawn);
  CHECK(history[1].replaces == "SP-0001 revision 1");
  const VerifyReport report = verify(folder.archive());
  INFO(all_problems(report));
  CHECK(report.problems.empty());
  CHECK(report.head == sha512_hex(slurp(r.folder / "issue.json")));
  CHECK(out.empty());
}

TEST_CASE("archive: withdrawing again changes nothing, issuing the job again is refused") {
  const Folder folder;
  REQUIRE(issue(folder.archive(), "a").state == IssueState::issued);
  Diagnostics out;
  REQUIRE(withdraw(folder, "SP-0001", "wrong flat", out).state == IssueState::issued);
  const IssueResult again = withdraw(folder, "SP-0001", "wrong flat", out);
  CHECK(again.state == IssueState::already_issued);
  CHECK(again.notes.back() == "it was withdrawn on 1 December 2026: wrong flat");
  CHECK(out.empty());
  const IssueResult reissue = open(folder.archive()).issue(request("a"), render(), out);
  CHECK(reissue.state == IssueState::refused);
  CHECK(reissue.number == "SP-0001");
  CHECK(out.all().back().id == "withdrawn");
  const IssueResult revived = revise(folder.archive(), "a", "SP-0001", "right flat");
  CHECK(revived.state == IssueState::issued);
  CHECK(revived.revision == 2);
  Diagnostics fine;
  CHECK_FALSE(open(folder.archive()).find({}, fine).front().withdrawn);
  CHECK(verify(folder.archive()).problems.empty());
}

TEST_CASE("archive: a withdrawal without reason, or of damaged files, is refused") {
  const Folder folder;
  const IssueResult first = issue(folder.archive(), "a");
  Diagnostics none, damaged, unknown;
  CHECK(withdraw(folder, "SP-0001", "", none).state == IssueState::refused);
  CHECK(none.trouble() == Trouble::input);
  CHECK(withdraw(folder, "SP-0009", "x", unknown).state == IssueState::refused);
  CHECK(unknown.all().front().id == "unknown-number");
  spill(first.folder / "certificate.pdf", "%PDF-1.7 another");
  CHECK(withdraw(folder, "SP-0001", "x", damaged).state == IssueState::refused);
  CHECK(damaged.trouble() == Trouble::system);
  CHECK_FALSE(stdfs::exists(folder.archive() / "sp-0001/v2"));
}
