#include <doctest/doctest.h>

#include "archive/sample.h"
#include "base/digest.h"

using namespace sample;

namespace {

WithdrawRequest act(const std::string& reason) {
  return {"ohmleaf test", "R. Hollins", reason, *Instant::parse("2042-01-05T08:00:00Z")};
}

/// Does any file of the archive, or beside it, hold this text?
bool anywhere(const Folder& folder, const std::string& text) {
  for (const auto& e : stdfs::recursive_directory_iterator(folder.path()))
    if (e.is_regular_file() && slurp(e.path()).find(text) != std::string::npos) return true;
  return false;
}

}  // namespace

TEST_CASE("archive: what is removed on purpose is gone, and the chain stays whole") {
  const Folder folder;
  for (const char* job : {"okonjo-flat", "b"}) REQUIRE(issue(folder.archive(), job).revision == 1);
  REQUIRE(revise(folder.archive(), "okonjo-flat", "SP-0001", "slip").revision == 2);
  Diagnostics out;
  REQUIRE(open(folder.archive()).rebuild_index({}, out));
  const std::string head = sha512_hex(slurp(folder.archive() / "sp-0001/v1/content/issue.json"));
  REQUIRE(anywhere(folder, "okonjo-flat"));
  const IssueResult r = open(folder.archive()).expire(act("kept for 15 years"), "sp-0001", out);
  REQUIRE(r.state == IssueState::issued);
  CHECK(r.number == "SP-0001");
  CHECK_FALSE(anywhere(folder, "okonjo-flat"));
  const VerifyReport report = verify(folder.archive());
  INFO(all_problems(report));
  CHECK(report.problems.empty());
  CHECK(report.chain_holds);
  REQUIRE(report.removed.size() == 1);
  CHECK(report.removed[0].number == "SP-0001");
  CHECK(report.removed[0].reason == "kept for 15 years");
  // A witness of what was removed, and of what came after it, still vouches for the chain.
  for (const auto& [number, printed] :
       {std::pair<std::string, std::string>{"SP-0002", head}, {"SP-0001", std::string(128, '0')}}) {
    const VerifyReport w =
        open(folder.archive()).verify(std::nullopt, std::pair{number, printed}, out);
    CHECK(w.witness_holds == true);
  }
  CHECK(open(folder.archive()).find({"sp-0001"}, out).at(0).expired);
  CHECK_FALSE(open(folder.archive()).read("SP-0001", 0, "job.toml", out));
  CHECK(out.all().back().id == "expired");
}

TEST_CASE("archive: missing is not removed; a removal that was forged into the chain is named") {
  const Folder folder;
  for (const char* job : {"a", "b", "c"}) REQUIRE(issue(folder.archive(), job).revision == 1);
  Diagnostics out;
  REQUIRE(open(folder.archive()).expire(act("kept long enough"), "SP-0002", out).state ==
          IssueState::issued);
  stdfs::rename(folder.archive() / "sp-0001", folder.path() / "sp-0001");
  VerifyReport r = verify(folder.archive());
  CHECK(names(r, "sp-0001"));
  CHECK_FALSE(names(r, "sp-0002"));
  stdfs::rename(folder.path() / "sp-0001", folder.archive() / "sp-0001");
  REQUIRE(verify(folder.archive()).problems.empty());
  const stdfs::path record = folder.archive() / "sp-0002/v1/content/issue.json";
  std::string bytes = slurp(record);
  const auto at = bytes.find("\"digest\": \"") + 11;
  bytes[at] = bytes[at] == '0' ? '1' : '0';
  spill(record, bytes);
  CHECK_FALSE(verify(folder.archive()).chain_holds);
}

TEST_CASE("archive: a removal is once, needs a reason, and the number is never drawn again") {
  const Folder folder;
  REQUIRE(issue(folder.archive(), "a").number == "SP-0001");
  Diagnostics none;
  CHECK(open(folder.archive()).expire(act(" "), "SP-0001", none).state == IssueState::refused);
  CHECK(none.trouble() == Trouble::input);
  Diagnostics out;
  REQUIRE(open(folder.archive()).expire(act("asked for"), "SP-0001", out).state ==
          IssueState::issued);
  const IssueResult again = open(folder.archive()).expire(act("asked for"), "SP-0001", out);
  CHECK(again.state == IssueState::already_issued);
  CHECK(again.notes.back() == "it was removed on 5 January 2042: asked for");
  CHECK(open(folder.archive()).withdraw(act("late"), "SP-0001", none).state == IssueState::refused);
  CHECK(issue(folder.archive(), "a").number == "SP-0002");
  CHECK(verify(folder.archive()).problems.empty());
  CHECK(stdfs::is_empty(folder.path() / "archive.work/staging"));
}
