#include <doctest/doctest.h>
#include <fcntl.h>
#include <signal.h>
#include <sys/wait.h>

#include <functional>
#include <map>
#include <memory>
#include <random>
#include <set>

#include "archive/sample.h"

using namespace sample;

namespace {

/// What was acknowledged, one line a certificate: "SP-0007 job-3-1". Each line is one write at the
/// end of the file, so that it is there whole or not at all.
class Acknowledged {
 public:
  explicit Acknowledged(const stdfs::path& file)
      : fd_(::open(file.c_str(), O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, 0600)), file_(file) {}
  Acknowledged(const Acknowledged&) = delete;
  Acknowledged& operator=(const Acknowledged&) = delete;
  ~Acknowledged() { ::close(fd_); }

  void note(const std::string& number, const std::string& job) const {
    const std::string line = number + " " + job + "\n";
    if (::write(fd_, line.data(), line.size()) < 0) std::abort();
  }
  std::set<std::pair<std::string, std::string>> all() const {
    std::ifstream in(file_);
    std::set<std::pair<std::string, std::string>> lines;
    for (std::string number, job; in >> number >> job;) lines.insert({number, job});
    return lines;
  }

 private:
  int fd_;
  stdfs::path file_;
};

using Issuing = std::function<std::string(const std::string& job)>;  // the number, or nothing

/// A process that issues `jobs` certificates, but for those acknowledged to an earlier one of its
/// name, and ends with 0, or the number of the first failure.
pid_t issuer(const Issuing& issuing, const Acknowledged& book, int who, int jobs) {
  const pid_t child = ::fork();
  if (child != 0) return child;
  std::set<std::string> done;
  for (const auto& [number, job] : book.all()) done.insert(job);
  for (int i = 0; i < jobs; ++i) {
    const std::string job = "job-" + std::to_string(who) + "-" + std::to_string(i);
    if (done.contains(job)) continue;
    const std::string number = issuing(job);
    if (number.empty()) ::_exit(i + 1);
    book.note(number, job);
  }
  ::_exit(0);
}

Issuing through_the_archive(const stdfs::path& root) {
  return [root](const std::string& job) {
    const IssueResult r = issue(root, job);
    return r.state == IssueState::refused ? std::string() : r.number;
  };
}

int wait_for(pid_t child) {
  int status = -1;
  ::waitpid(child, &status, 0);
  return status;
}

std::string number_of(int i) {
  const std::string digits = std::to_string(i);
  return "SP-" + std::string(digits.size() < 4 ? 4 - digits.size() : 0, '0') + digits;
}

/// What is wrong: a number twice, a gap, one acknowledged that is not filed for that job.
std::string judge(const std::map<std::string, std::string>& filed, const Acknowledged& book,
                  std::size_t count) {
  if (filed.size() != count) return std::to_string(filed.size()) + " are filed";
  for (int i = 1; i <= static_cast<int>(count); ++i) {
    if (!filed.contains(number_of(i))) return number_of(i) + " is skipped";
  }
  std::map<std::string, std::string> given;
  for (const auto& [number, job] : book.all()) {
    const auto at = filed.find(number);
    if (at == filed.end() || at->second != job) return number + " of " + job + " is lost";
    if (!given.insert({number, job}).second) return number + " is given twice";
  }
  return "";
}

/// Number and job of all that is filed.
std::map<std::string, std::string> filed_in(const stdfs::path& root) {
  Diagnostics out;
  std::map<std::string, std::string> found;
  for (const Record& r : open(root).find({}, out)) found[r.number] = r.job_id;
  return found;
}

/// The control: looks for the next number and files under it, without a lock.
Issuing without_a_lock(const stdfs::path& root) {
  return [root](const std::string& job) {
    int next = 1;
    while (stdfs::exists(root / number_of(next))) ++next;
    ::usleep(200);  // renders
    std::error_code ignored;
    stdfs::create_directories(root / number_of(next), ignored);
    spill(root / number_of(next) / "job", job);
    return number_of(next);
  };
}

}  // namespace

TEST_CASE("archive: eight issuers at once draw unique and gapless numbers") {
  const Folder folder;
  const Acknowledged book(folder.path() / "acknowledged");
  const int issuers = 8, jobs = runs(8, 125);
  const Issuing sound = through_the_archive(folder.archive());
  std::vector<pid_t> children;
  for (int who = 0; who < issuers; ++who) children.push_back(issuer(sound, book, who, jobs));
  for (const pid_t child : children) CHECK(wait_for(child) == 0);
  const std::size_t count = static_cast<std::size_t>(issuers * jobs);
  CHECK(judge(filed_in(folder.archive()), book, count) == "");
  CHECK(book.all().size() == count);
  const VerifyReport report = verify(folder.archive());
  INFO(all_problems(report));
  CHECK(report.problems.empty());
  row("eight issuers at once: certificates", static_cast<long>(count), "unique and gapless");
}

TEST_CASE("archive: the control, eight issuers without a lock, is caught by the same judge") {
  std::string wrong;
  int rounds = 0;  // now and then all of them have luck
  for (; wrong.empty() && rounds < 20; ++rounds) {
    const Folder folder;
    const Acknowledged book(folder.path() / "acknowledged");
    const stdfs::path root = folder.path() / "careless";
    std::vector<pid_t> children;
    for (int who = 0; who < 8; ++who) {
      children.push_back(issuer(without_a_lock(root), book, who, 8));
    }
    for (const pid_t child : children) CHECK(wait_for(child) == 0);
    std::map<std::string, std::string> filed;
    for (const auto& e : stdfs::directory_iterator(root)) {
      filed[e.path().filename()] = slurp(e.path() / "job");
    }
    wrong = judge(filed, book, 64);
  }
  row("eight issuers: control, without a lock", 64L * rounds, "caught: " + wrong);
  CHECK(wrong != "");
}

TEST_CASE("archive: the same job from eight issuers at once gets one number") {
  const Folder folder;
  std::vector<pid_t> children;
  // Each with a book of its own, so that none knows of the others.
  std::vector<std::unique_ptr<Acknowledged>> books;
  for (int i = 0; i < 8; ++i) {
    books.push_back(std::make_unique<Acknowledged>(folder.path() / ("book-" + std::to_string(i))));
    children.push_back(issuer(through_the_archive(folder.archive()), *books.back(), 1, 1));
  }
  for (const pid_t child : children) CHECK(wait_for(child) == 0);
  for (const auto& book : books) CHECK(judge(filed_in(folder.archive()), *book, 1) == "");
}

TEST_CASE("archive: issuers killed at any moment leave every number unique and gapless") {
  const Folder folder;
  const Acknowledged book(folder.path() / "acknowledged");
  std::mt19937 random(seed());  // the same moments each run, as far as the machine allows
  const int wanted = runs(24, 500), jobs = runs(6, 250);
  const Issuing sound = through_the_archive(folder.archive());
  int killed = 0;
  std::vector<pid_t> children(8, 0);
  for (int tries = 0; killed < wanted && tries < 20 * wanted; ++tries) {
    const std::size_t who = random() % children.size();
    if (children[who] == 0) {
      // A new set of jobs once the last is done: there is always something left to be killed at.
      children[who] = issuer(sound, book, static_cast<int>(who), jobs);
      continue;
    }
    ::usleep(static_cast<useconds_t>(random() % 5'000));
    ::kill(children[who], SIGKILL);
    if (WIFSIGNALED(wait_for(children[who]))) ++killed;
    children[who] = 0;
  }
  for (const pid_t child : children) {
    if (child != 0) CHECK(wait_for(child) == 0);
  }
  CHECK(killed == wanted);
  for (int who = 0; who < 8; ++who) CHECK(wait_for(issuer(sound, book, who, jobs)) == 0);
  const std::size_t count = static_cast<std::size_t>(8 * jobs);
  CHECK(judge(filed_in(folder.archive()), book, count) == "");
  CHECK(verify(folder.archive()).problems.empty());
  row("eight issuers killed at random: kills", killed,
      std::to_string(count) + " certificates, unique and gapless");
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
