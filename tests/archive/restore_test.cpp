#include <doctest/doctest.h>

#include <functional>

#include "archive/index.h"
#include "archive/sample.h"

using namespace sample;

namespace {

/// Certificates of two prefixes in eleven streets, some revised, some withdrawn.
void fill(const stdfs::path& root, int count) {
  static const std::vector<std::string> kStreets{
      "Tallow Yard",  "Brindle Row", "Quarry Hill", "Sluice Lane", "Łódka Passage", "Ŵern Close",
      "Großer Anger", "Fen End",     "Kiln Bank",   "Osier Holt",  "Rope Walk"};
  Archive archive = open(root);
  Diagnostics out;
  for (int i = 1; i <= count; ++i) {
    const std::string job = "job-" + std::to_string(i);
    IssueRequest r = request(job, i % 3 == 0 ? "NW" : "SP");
    r.facts[0].second =
        std::to_string(i) + " " + kStreets[static_cast<std::size_t>(i) % kStreets.size()];
    const std::string number = archive.issue(r, render(), out).number;
    r.reason = "slip " + std::to_string(i);
    r.job_bytes += "# corrected\n";
    if (i % 7 == 0) archive.revise(r, number, render("%PDF-1.7 revised\n"), out);
    const WithdrawRequest w{"ohmleaf test", "R. Hollins", "wrong flat", r.now};
    if (i % 11 == 0) archive.withdraw(w, number, out);
  }
  REQUIRE(out.ok());
}

const std::vector<std::vector<std::string>> kQuestions{{},
                                                       {"tallow"},
                                                       {"lodka"},
                                                       {"grosser", "anger"},
                                                       {"wern"},
                                                       {"sp-0004"},
                                                       {"nw-"},
                                                       {"job-1", "row"},
                                                       {"e"},
                                                       {"Kiln Bank"},
                                                       {"no such"},
                                                       {"7"},
                                                       {"osier", "job-2"}};

/// All that one can ask of an archive, as text, but for where it lies.
std::string answers(const stdfs::path& root) {
  Diagnostics out;
  const Archive archive = open(root);
  std::string text;
  const auto add = [&](const Record& r) {
    text += r.number + "|" + std::to_string(r.revision) + "|" + r.job_id + "|" + r.issued.iso() +
            "|" + r.person + "|" + r.reason + "|" + r.replaces + (r.withdrawn ? "|withdrawn" : "") +
            "|" + stdfs::relative(r.folder, root).string();
    for (const auto& [key, value] : r.facts) text += "|" + key + "=" + value;
    text += "\n";
  };
  for (const auto& words : kQuestions) {
    text += "?";
    for (const std::string& w : words) text += " " + w;
    text += "\n";
    for (const Record& r : archive.find(words, out)) add(r);
  }
  for (const char* number : {"SP-0001", "SP-0004", "NW-0002"}) {
    for (const Record& r : archive.history(number, out)) add(r);
    text += archive.read(number, 0, "certificate.pdf", out).value_or("unread") + "\n";
  }
  const VerifyReport report = archive.verify(std::nullopt, std::nullopt, out);
  text += report.head + " " + std::to_string(report.objects) + " " +
          std::to_string(report.versions) + " " + std::to_string(report.files) + " " +
          std::to_string(report.bytes) + "\n" + all_problems(report);
  for (const Diagnostic& d : out.all()) text += d.message + "\n";
  return text;
}

}  // namespace

TEST_CASE("archive: a copy without index and lock folder gives the same answers once rebuilt") {
  const Folder folder;
  const int count = runs(24, 300);
  fill(folder.archive(), count);
  Diagnostics out;
  REQUIRE(open(folder.archive()).rebuild_index({}, out));
  const std::string before = answers(folder.archive());
  CHECK(before.find("withdrawn") != std::string::npos);
  // The drill: another disk, the archive's own folder and nothing else.
  const Folder other;
  stdfs::copy(folder.archive(), other.archive(), stdfs::copy_options::recursive);
  const stdfs::path work = other.path() / "archive.work";
  REQUIRE_FALSE(stdfs::exists(work));
  CHECK(answers(other.archive()) == before);  // from the files alone
  std::size_t steps = 0;
  REQUIRE(open(other.archive()).rebuild_index([&](std::size_t, std::size_t) { ++steps; }, out));
  CHECK(steps >= static_cast<std::size_t>(count));
  CHECK(stdfs::exists(work / std::string(kIndexFile)));
  CHECK(answers(other.archive()) == before);
  CHECK(out.empty());
  // And once more in place: the folder beside the archive is deleted under a program's feet.
  stdfs::remove_all(work);
  CHECK(answers(other.archive()) == before);
  CHECK(issue(other.archive(), "job-new", "NW").number ==
        issue(folder.archive(), "job-new", "NW").number);
  row("restore drill: certificates", count, "the same answers");
  // The control: one certificate is left behind in the copying.
  stdfs::remove_all(other.archive() / "sp-0002");
  const std::string without = answers(other.archive());
  CHECK(without != before);
  CHECK(without.find("SP-0002 is missing") != std::string::npos);
  row("restore drill: control, one certificate left behind", 1, "caught");
}
