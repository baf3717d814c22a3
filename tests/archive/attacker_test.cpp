#include <doctest/doctest.h>

#include <random>

#include "archive/sample.h"
#include "base/digest.h"

using namespace sample;

// The attacker may write everywhere. He keeps what was filed before the k-th record, changes that
// one, and files all later ones anew, so that every digest, every inventory and the chain agree.
// What he cannot reach is paper and PDFs that clients hold.

namespace {

constexpr int kRecords = 12;

void copy_whole(const stdfs::path& from, const stdfs::path& to) {
  stdfs::remove_all(to);
  stdfs::copy(from, to, stdfs::copy_options::recursive);
}

/// The 4th, 8th and 12th records are revisions of the certificate before; the rest first issues.
bool is_revision(int i) {
  return i % 4 == 0;
}
std::string job_of(int i) {
  return "job-" + std::to_string(is_revision(i) ? i - 1 : i);
}

/// What a client was given with the i-th record.
Witness file_record(const stdfs::path& root, int i, const std::string& forged) {
  Witness given;
  IssueRequest r = request(job_of(i));
  r.job_bytes += "# record " + std::to_string(i) + forged + "\n";
  r.reason = "slip " + std::to_string(i);
  const Render print = [&](const Draw& draw) -> std::optional<std::vector<File>> {
    const std::string pdf = "%PDF " + draw.number + " " + draw.chain_head + r.job_bytes;
    given = {
        draw.number, draw.chain_head.substr(0, 32), sha512_hex(pdf), {sha512_hex(r.job_bytes)}};
    return std::vector<File>{{"certificate.pdf", pdf}};
  };
  Diagnostics out;
  Archive archive = open(root);
  const std::string number = is_revision(i) ? archive.find({job_of(i)}, out).at(0).number : "";
  const IssueResult done =
      is_revision(i) ? archive.revise(r, number, print, out) : archive.issue(r, print, out);
  REQUIRE(done.state == IssueState::issued);
  return given;
}

/// An honest archive, its state before each record, and what the clients hold.
struct History {
  Folder folder;
  std::vector<Witness> held{Witness{}};  ///< from 1

  History() {
    stdfs::create_directory(before(1));  // an empty folder becomes an archive by the first issue
    for (int i = 1; i <= kRecords; ++i) {
      held.push_back(file_record(folder.archive(), i, ""));
      copy_whole(folder.archive(), before(i + 1));
    }
  }
  stdfs::path before(int i) const { return folder.path() / ("before-" + std::to_string(i)); }
};

VerifyReport verify_with(const stdfs::path& root, const Witness& witness) {
  Diagnostics out;
  return open(root).verify_with(std::nullopt, witness, out);
}

}  // namespace

TEST_CASE("archive: an attacker with full write access passes without a witness, never with one") {
  const History history;
  const stdfs::path root = history.folder.archive();
  for (int i = 1; i <= kRecords; ++i) {
    CAPTURE(i);
    CHECK(*verify_with(root, history.held[static_cast<std::size_t>(i)]).witness_holds);
  }
  std::mt19937 random(seed());
  const int attacks = runs(16, 500);
  int unseen = 0, named = 0, earlier = 0;
  const stdfs::path forged = history.folder.path() / "forged";
  for (int n = 0; n < attacks; ++n) {
    const int k = 1 + static_cast<int>(random() % kRecords);
    copy_whole(history.before(k), forged);
    stdfs::remove_all(history.folder.path() / "forged.work");
    for (int i = k; i <= kRecords; ++i) file_record(forged, i, i == k ? " forged" : "");
    const VerifyReport alone = verify(forged);
    if (alone.problems.empty() && alone.digests_hold && alone.chain_holds) ++unseen;
    const int w = k + static_cast<int>(random() % static_cast<unsigned>(kRecords - k + 1));
    CAPTURE(k);
    CAPTURE(w);
    const VerifyReport seen = verify_with(forged, history.held[static_cast<std::size_t>(w)]);
    CHECK_FALSE(*seen.witness_holds);
    if (!seen.problems.empty() && !*seen.witness_holds) ++named;
    // The control: a witness from before the change vouches for what is before it, and holds.
    if (k == 1) continue;
    ++earlier;
    CHECK(*verify_with(forged, history.held[static_cast<std::size_t>(k - 1)]).witness_holds);
  }
  row("rewritten from k on: without a witness", attacks, std::to_string(unseen) + " pass unseen");
  row("rewritten from k on: a witness numbered k or later", attacks,
      std::to_string(named) + " named");
  row("rewritten from k on: control, a witness before k", earlier, "all hold");
  CHECK(unseen == attacks);  // documented: digests prove accident, not intent
  CHECK(named == attacks);
}

TEST_CASE("archive: rolling the newest records back passes without a witness, never with one") {
  const History history;
  const stdfs::path rolled = history.folder.path() / "rolled";
  int named = 0, asked = 0;
  for (int k = 2; k <= kRecords; ++k) {
    CAPTURE(k);
    copy_whole(history.before(k), rolled);
    CHECK(verify(rolled).problems.empty());
    for (int w = k; w <= kRecords; ++w) {
      CAPTURE(w);
      const VerifyReport seen = verify_with(rolled, history.held[static_cast<std::size_t>(w)]);
      CHECK_FALSE(*seen.witness_holds);
      ++asked;
      named += !*seen.witness_holds && !seen.problems.empty() ? 1 : 0;
    }
    CHECK(*verify_with(rolled, history.held[static_cast<std::size_t>(k - 1)]).witness_holds);
  }
  CHECK(named == asked);
  row("rolled back: without a witness", kRecords - 1, "all pass unseen");
  row("rolled back: a witness that is gone", asked, std::to_string(named) + " named");
}

TEST_CASE("archive: a change of the job alone is seen by what is embedded in the held PDF") {
  const History history;
  const stdfs::path forged = history.folder.path() / "forged";
  copy_whole(history.before(kRecords), forged);
  // The last record again, with its printed PDF kept to the byte and another job filed beside it.
  Witness held = history.held[kRecords];
  IssueRequest r = request(job_of(kRecords));
  r.job_bytes += "# other readings\n";
  r.reason = "slip";
  Diagnostics out;
  std::string pdf;
  Archive honest = open(history.folder.archive());
  pdf = honest.read(held.number, 0, "certificate.pdf", out).value();
  REQUIRE(open(forged)
              .revise(
                  r, held.number,
                  [&](const Draw&) {
                    return std::vector<File>{{"certificate.pdf", pdf}};
                  },
                  out)
              .state == IssueState::issued);
  CHECK_FALSE(*verify_with(forged, held).witness_holds);
  held.embedded_sha512.clear();  // the control: the PDF's own digest cannot tell
  CHECK(*verify_with(forged, held).witness_holds);
}
