#include <doctest/doctest.h>

#include "archive/index.h"
#include "archive/sample.h"

using namespace sample;

namespace {

/// What the index itself answers, without the files: nothing where there is none, or an old one.
std::optional<std::vector<std::string>> asked(const stdfs::path& root, const std::string& word) {
  Diagnostics out;
  const std::optional<Store> store = open_store(root, out);
  std::unique_ptr<Index> index = store ? Index::open(*store, false) : nullptr;
  if (!index || !index->in_step(*store)) return std::nullopt;
  const auto hits = index->search({word});
  if (!hits) return std::nullopt;
  std::vector<std::string> numbers;
  for (const Latest& hit : *hits) numbers.push_back(hit.record.number);
  return numbers;
}

using Numbers = std::vector<std::string>;

}  // namespace

TEST_CASE("archive: the index answers by itself, and follows issue, revision and withdrawal") {
  const Folder folder;
  const stdfs::path root = folder.archive();
  for (const char* job : {"tallow", "brindle", "quarry"}) issue(root, job);
  CHECK_FALSE(asked(root, "tallow"));  // so few certificates are read as quickly
  Diagnostics out;
  std::size_t steps = 0;
  REQUIRE(open(root).rebuild_index([&](std::size_t, std::size_t) { ++steps; }, out));
  CHECK(out.empty());
  CHECK(steps >= 3);
  CHECK(asked(root, "tallow") == Numbers{"SP-0003", "SP-0002", "SP-0001"});  // Tallow Yard
  CHECK(asked(root, "brindl") == Numbers{"SP-0003", "SP-0002", "SP-0001"});
  CHECK(asked(root, "quarry") == Numbers{"SP-0003"});
  CHECK(asked(root, "qu") == Numbers{"SP-0003"});
  CHECK(asked(root, "no such word") == Numbers{});
  REQUIRE(issue(root, "sluice").number == "SP-0004");
  CHECK(asked(root, "sluice") == Numbers{"SP-0004"});
  REQUIRE(revise(root, "quarry", "SP-0003", "slip").revision == 2);
  const WithdrawRequest w{"ohmleaf test", "R. Hollins", "wrong flat", request("a").now};
  REQUIRE(open(root).withdraw(w, "SP-0002", out).state == IssueState::issued);
  CHECK(asked(root, "quarry") == Numbers{"SP-0003"});
  const std::vector<Record> found = open(root).find({"sp-000"}, out);
  REQUIRE(found.size() == 4);
  CHECK(found[0].withdrawn);
  CHECK(found[1].revision == 2);
  CHECK(out.empty());
}

TEST_CASE("archive: a certificate that is gone from the files is gone from the index") {
  const Folder folder;
  for (const char* job : {"tallow", "brindle"}) issue(folder.archive(), job);
  Diagnostics out;
  REQUIRE(open(folder.archive()).rebuild_index({}, out));
  CHECK(asked(folder.archive(), "tallow"));
  stdfs::rename(folder.archive() / "sp-0002", folder.path() / "sp-0002");
  CHECK_FALSE(asked(folder.archive(), "tallow"));  // it knows that it is behind
  CHECK(open(folder.archive()).find({"brindle cross"}, out).size() == 1);
  CHECK(asked(folder.archive(), "tallow") == Numbers{"SP-0001"});
}

TEST_CASE("archive: what changes in the same tick of the clock as the index is not overlooked") {
  const Folder folder;
  for (const char* job : {"tallow", "brindle"}) issue(folder.archive(), job);
  const stdfs::path here = folder.archive() / "sp-0002", away = folder.path() / "sp-0002";
  Diagnostics out;
  for (int i = 0; i < 50; ++i) {  // without a pause between them
    stdfs::rename(here, away);
    REQUIRE(open(folder.archive()).rebuild_index({}, out));
    stdfs::rename(away, here);
    CHECK(open(folder.archive()).find({"brindle cross"}, out).size() == 2);
  }
}
