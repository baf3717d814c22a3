#include <doctest/doctest.h>
#include <signal.h>
#include <sys/wait.h>

#include <algorithm>
#include <map>
#include <random>
#include <set>

#include "archive/sample.h"

using namespace sample;

namespace {

/// A process that issues `jobs` certificates and ends with 0, or the number of the first failure.
pid_t issuer(const stdfs::path& root, int who, int jobs) {
  const pid_t child = ::fork();
  if (child != 0) return child;
  for (int i = 0; i < jobs; ++i) {
    const std::string job = "job-" + std::to_string(who) + "-" + std::to_string(i);
    if (issue(root, job).state == IssueState::refused) ::_exit(i + 1);
  }
  ::_exit(0);
}

int wait_for(pid_t child) {
  int status = -1;
  ::waitpid(child, &status, 0);
  return status;
}

std::set<std::string> numbers(const stdfs::path& root) {
  Diagnostics out;
  std::set<std::string> found;
  for (const Record& r : open(root).find({}, out)) found.insert(r.number);
  return found;
}

std::set<std::string> expected(int count) {
  std::set<std::string> all;
  for (int i = 1; i <= count; ++i) {
    std::string digits = std::to_string(i);
    all.insert("SP-" + std::string(4 - digits.size(), '0') + digits);
  }
  return all;
}

}  // namespace

TEST_CASE("archive: eight issuers at once draw unique and gapless numbers") {
  const Folder folder;
  constexpr int kIssuers = 8, kJobs = 8;
  std::vector<pid_t> children;
  for (int who = 0; who < kIssuers; ++who) {
    children.push_back(issuer(folder.archive(), who, kJobs));
  }
  for (const pid_t child : children) CHECK(wait_for(child) == 0);
  CHECK(numbers(folder.archive()) == expected(kIssuers * kJobs));
  const VerifyReport report = verify(folder.archive());
  INFO(all_problems(report));
  CHECK(report.problems.empty());
}

TEST_CASE("archive: the same job from eight issuers at once gets one number") {
  const Folder folder;
  std::vector<pid_t> children;
  for (int i = 0; i < 8; ++i) children.push_back(issuer(folder.archive(), 1, 1));
  for (const pid_t child : children) CHECK(wait_for(child) == 0);
  CHECK(numbers(folder.archive()) == expected(1));
}

TEST_CASE("archive: issuers killed at any moment leave every number unique and gapless") {
  const Folder folder;
  std::mt19937 random(20261120);  // the same moments each run, as far as the machine allows
  int killed = 0;
  for (int round = 0; round < 6; ++round) {
    std::vector<pid_t> children;
    for (int who = 0; who < 8; ++who) children.push_back(issuer(folder.archive(), who, 3));
    for (std::size_t i = 0; i < children.size(); i += 2) {
      ::usleep(static_cast<useconds_t>(random() % 20'000));
      ::kill(children[i], SIGKILL);
      if (WIFSIGNALED(wait_for(children[i]))) ++killed;
      children[i] = 0;
    }
    for (const pid_t child : children) {
      if (child != 0) CHECK(wait_for(child) == 0);
    }
  }
  CHECK(killed > 0);
  for (int who = 0; who < 8; ++who) CHECK(wait_for(issuer(folder.archive(), who, 3)) == 0);
  CHECK(numbers(folder.archive()) == expected(24));
  CHECK(verify(folder.archive()).problems.empty());
}

TEST_CASE("archive: a number that another program takes despite the lock is not taken twice") {
  const Folder folder;
  REQUIRE(issue(folder.archive(), "a").state == IssueState::issued);
  // The other program knows no lock: while we render, it files the very number that we drew.
  int rendered = 0;
  Diagnostics out;
  const Render interrupted = [&](const Draw& draw) -> std::optional<std::vector<File>> {
    if (++rendered == 1) {
      const Folder elsewhere;
      stdfs::copy(folder.archive(), elsewhere.archive(), stdfs::copy_options::recursive);
      REQUIRE(issue(elsewhere.archive(), "b").number == draw.number);
      stdfs::copy(elsewhere.archive() / "sp-0002", folder.archive() / "sp-0002",
                  stdfs::copy_options::recursive);
    }
    return render()(draw);
  };
  const IssueResult r = open(folder.archive()).issue(request("c"), interrupted, out);
  CHECK(r.state == IssueState::issued);
  CHECK(r.number == "SP-0003");
  CHECK(rendered == 2);
  CHECK(verify(folder.archive()).problems.empty());
}
