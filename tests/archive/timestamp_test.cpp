#include <doctest/doctest.h>

#include "archive/sample.h"

using namespace sample;

namespace {

const std::string kToken(700, 't');

TimestampRequest stamp_of(const Folder& folder, const std::string& number,
                          const std::string& token = kToken) {
  Diagnostics out;
  return {"ohmleaf test",
          "R. Hollins",
          "of 2026-12-01T08:00:00Z by Tallow Yard Time",
          open(folder.archive()).read(number, 0, "certificate.pdf", out).value_or(""),
          token,
          *Instant::parse("2026-12-01T08:05:00Z")};
}

}  // namespace

TEST_CASE("archive: a time-stamp is a version of its own beside files that stay as they were") {
  const Folder folder;
  REQUIRE(issue(folder.archive(), "a").state == IssueState::issued);
  REQUIRE(issue(folder.archive(), "b").state == IssueState::issued);
  Archive archive = open(folder.archive());
  Diagnostics out;
  const auto before = archive.read("SP-0001", 0, "certificate.pdf", out);
  const IssueResult r = archive.timestamp(stamp_of(folder, "SP-0001"), "sp-0001", out);
  REQUIRE(r.state == IssueState::issued);
  CHECK(r.number == "SP-0001");
  CHECK(archive.read("SP-0001", 0, "timestamp-1.tsr", out) == kToken);
  CHECK(archive.read("SP-0001", 0, "certificate.pdf", out) == before);
  CHECK(archive.read("SP-0001", 0, "job.toml", out) == request("a").job_bytes);
  const std::vector<Record> history = archive.history("SP-0001", out);
  REQUIRE(history.size() == 2);
  CHECK_FALSE(history[0].timestamped);
  CHECK(history[1].timestamped);
  CHECK(history[1].revision == 1);
  CHECK(history[1].reason == "of 2026-12-01T08:00:00Z by Tallow Yard Time");
  CHECK(history[1].facts == history[0].facts);
  CHECK(verify(folder.archive()).problems.empty());

  SUBCASE("the same one again is there already; another one is filed beside it") {
    CHECK(archive.timestamp(stamp_of(folder, "SP-0001"), "SP-0001", out).state ==
          IssueState::already_issued);
    CHECK(archive.timestamp(stamp_of(folder, "SP-0001", "another"), "SP-0001", out).state ==
          IssueState::issued);
    CHECK(archive.read("SP-0001", 0, "timestamp-1.tsr", out) == kToken);
    CHECK(archive.read("SP-0001", 0, "timestamp-2.tsr", out) == "another");
    CHECK(archive.history("SP-0001", out).size() == 3);
  }
  SUBCASE("the job stays issued, and a revision asked for again stays one") {
    CHECK(issue(folder.archive(), "a").state == IssueState::already_issued);
    IssueRequest again = request("a");
    again.reason = "a slip";
    again.job_bytes += "# mended\n";
    const auto render = [](const Draw&) {
      return std::vector<File>{{"certificate.pdf", "%PDF 2"}};
    };
    REQUIRE(archive.revise(again, "SP-0001", render, out).state == IssueState::issued);
    REQUIRE(archive.timestamp(stamp_of(folder, "SP-0001", "new"), "SP-0001", out).state ==
            IssueState::issued);
    CHECK(archive.revise(again, "SP-0001", render, out).state == IssueState::already_issued);
    CHECK(archive.history("SP-0001", out).size() == 4);
    // The new pages begin with no time-stamp; the old ones keep theirs.
    CHECK(archive.read("SP-0001", 2, "timestamp-1.tsr", out) == "new");
    CHECK(archive.read("SP-0001", 1, "timestamp-1.tsr", out) == kToken);
  }
  SUBCASE("a withdrawal takes it along; after it none is filed") {
    const WithdrawRequest w{"ohmleaf test", "R. Hollins", "wrong flat", request("a").now};
    REQUIRE(archive.withdraw(w, "SP-0001", out).state == IssueState::issued);
    CHECK(archive.read("SP-0001", 0, "timestamp-1.tsr", out) == kToken);
    Diagnostics refused;
    CHECK(archive.timestamp(stamp_of(folder, "SP-0001", "late"), "SP-0001", refused).state ==
          IssueState::refused);
    CHECK(refused.trouble() == Trouble::input);
  }
  CHECK(verify(folder.archive()).problems.empty());
}

TEST_CASE("archive: no time-stamp is filed beside pages that it was not checked against") {
  const Folder folder;
  REQUIRE(issue(folder.archive(), "a").state == IssueState::issued);
  TimestampRequest r = stamp_of(folder, "SP-0001");
  r.certificate += "x";
  Diagnostics out;
  CHECK(open(folder.archive()).timestamp(r, "SP-0001", out).state == IssueState::refused);
  CHECK(out.all().at(0).id == "stamp-other-file");
  Diagnostics unknown;
  CHECK(open(folder.archive()).timestamp(r, "SP-0009", unknown).state == IssueState::refused);
  CHECK_FALSE(unknown.ok());
  Diagnostics none;
  CHECK(open(folder.archive()).history("SP-0001", none).size() == 1);
}
