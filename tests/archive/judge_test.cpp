#include <doctest/doctest.h>

#include "archive/sample.h"
#include "places.h"

using namespace sample;

// judge.sh uses nothing of ours: sha512sum (GNU coreutils) and jq.

namespace {

bool judged_good(const Folder& folder) {
  return shell(std::string("sh \"") + source_root() + "/tests/archive/judge.sh\" \"" +
               folder.archive().string() + "\" \"" + (folder.path() / "list").string() + "\"");
}

}  // namespace

TEST_CASE("archive: sha512sum and jq alone find an archive whole, and see each kind of damage") {
  REQUIRE_MESSAGE(shell("command -v jq"), "jq is not installed (cmake/packages.sh test)");
  const Folder folder;
  for (const char* job : {"a", "b", "c"}) {
    REQUIRE(issue(folder.archive(), job).state == IssueState::issued);
  }
  REQUIRE(revise(folder.archive(), "a", "SP-0001", "slip").state == IssueState::issued);
  Diagnostics out;
  const WithdrawRequest withdrawal{"ohmleaf test", "R. Hollins", "wrong flat", request("b").now};
  REQUIRE(open(folder.archive()).withdraw(withdrawal, "SP-0002", out).state == IssueState::issued);
  CHECK(judged_good(folder));
  for (const char* file :
       {"README.txt", "ocfl_layout.json", "sp-0001/inventory.json", "sp-0001/inventory.json.sha512",
        "sp-0001/v1/inventory.json", "sp-0001/v1/content/job.toml", "sp-0001/v2/content/issue.json",
        "sp-0003/v1/content/certificate.pdf"}) {
    CAPTURE(file);
    const std::string good = slurp(folder.archive() / file);
    std::string bad = good;
    bad[bad.size() / 2] = static_cast<char>(bad[bad.size() / 2] ^ 1);
    spill(folder.archive() / file, bad);
    CHECK_FALSE(judged_good(folder));
    spill(folder.archive() / file, good);
  }
  spill(folder.archive() / "sp-0003/v1/content/extra.txt", "x");
  CHECK_FALSE(judged_good(folder));
  stdfs::remove(folder.archive() / "sp-0003/v1/content/extra.txt");
  stdfs::rename(folder.archive() / "sp-0002", folder.path() / "gone");
  CHECK_FALSE(judged_good(folder));
  stdfs::rename(folder.path() / "gone", folder.archive() / "sp-0002");
  CHECK(judged_good(folder));
}

TEST_CASE("archive: the two lines of the README check a job") {
  const Folder folder;
  REQUIRE(issue(folder.archive(), "a").state == IssueState::issued);
  // Taken from the README as it is filed, not from our source.
  std::string lines =
      "set -e -o pipefail; cd \"" + (folder.archive() / "sp-0001").string() + "\"\n";
  std::istringstream readme(slurp(folder.archive() / "README.txt"));
  int found = 0;
  for (std::string line; std::getline(readme, line);) {
    if (line.find("sha512sum -c") == std::string::npos) continue;
    lines += line + "\n";
    ++found;
  }
  REQUIRE(found == 2);
  spill(folder.path() / "lines", lines);
  const std::string run = "bash \"" + (folder.path() / "lines").string() + "\"";
  CHECK(shell(run));
  spill(folder.archive() / "sp-0001/v1/content/job.toml", "format = 1\n");
  CHECK_FALSE(shell(run));
}
