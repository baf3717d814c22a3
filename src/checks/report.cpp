#include "checks/check.h"

#include <algorithm>
#include <numeric>
#include <span>
#include <utility>

#include "checks/confirm.h"
#include "checks/judge.h"
#include "checks/scene.h"

namespace ohmleaf::checks {
namespace {

/// Findings of one circuit for which room is made ahead; most have fewer.
constexpr std::size_t kAlike = 64;

/// A failed or missing dead test stops the job there: whatever is said of the circuit's live tests
/// says so too, so that nobody goes from the list straight to the switch.
void put_dead_tests_first(std::span<Finding> findings) {
  const auto stops = [](const Finding& f) {
    return f.stage == Stage::dead &&
           (f.verdict == Verdict::fail || f.verdict == Verdict::missing);
  };
  const auto open = std::find_if(findings.begin(), findings.end(), stops);
  if (open == findings.end()) return;
  const std::string first = open->subject;
  for (Finding& f : findings) {
    if (f.stage != Stage::live) continue;
    if (f.verdict == Verdict::missing) {
      f.message += "; do not energise, the dead tests come first";
      f.action =
          "Leave the circuit isolated and locked off until its dead tests are complete and "
          "pass (" +
          first + "), then: " + f.action;
    } else if (f.verdict == Verdict::fail || f.verdict == Verdict::doubtful ||
               f.verdict == Verdict::borderline) {
      f.caution = "Do not energise: a dead test is open (" + first + "). " + f.caution;
    }
  }
}

/// Whoever is told to take a dead test again stands there with the circuit energised.
void say_dead_first(std::span<Finding> findings) {
  for (Finding& f : findings)
    if (f.stage == Stage::dead && f.verdict > Verdict::pass && !f.action.empty() && f.caution.empty())
      f.caution = kDeadFirst;
}

/// Within one circuit.
bool comes_before(const Finding& a, const Finding& b) {
  if (a.verdict != b.verdict) return a.verdict > b.verdict;
  return a.stage < b.stage;
}

/// Sorts the findings of one circuit. A finding is a dozen texts: places are sorted, and each
/// finding is moved once.
void sort_stably(std::span<Finding> findings) {
  std::vector<std::size_t> from(findings.size());
  std::iota(from.begin(), from.end(), std::size_t{0});
  std::stable_sort(from.begin(), from.end(), [&](std::size_t a, std::size_t b) {
    return comes_before(findings[a], findings[b]);
  });
  for (std::size_t start = 0; start < from.size(); ++start) {
    if (from[start] == start) continue;
    Finding first = std::move(findings[start]);
    std::size_t to = start;
    while (from[to] != start) {
      findings[to] = std::move(findings[from[to]]);
      to = std::exchange(from[to], to);
    }
    findings[to] = std::move(first);
    from[to] = to;
  }
}

/// They stand circuit by circuit, so only the order within each is left to make.
void sort_each_circuit(std::span<Finding> findings) {
  while (!findings.empty()) {
    const auto other = std::find_if(findings.begin(), findings.end(), [&](const Finding& f) {
      return f.circuit != findings.front().circuit;
    });
    const auto count = static_cast<std::size_t>(other - findings.begin());
    sort_stably(findings.first(count));
    findings = findings.subspan(count);
  }
}

}  // namespace

Verdict weight(const Finding& f) {
  if (f.observation) return Verdict::borderline;
  if (f.verdict == Verdict::doubtful && !f.confirmed_by.empty()) return Verdict::borderline;
  return f.verdict;
}

std::string_view name(Verdict verdict) {
  switch (verdict) {
    case Verdict::not_applicable:
      return "not applicable";
    case Verdict::note:
      return "note";
    case Verdict::pass:
      return "pass";
    case Verdict::borderline:
      return "borderline";
    case Verdict::doubtful:
      return "doubtful";
    case Verdict::missing:
      return "missing";
    case Verdict::fail:
      return "fail";
  }
  return "?";
}

bool blocks_issue(Verdict verdict) {
  return verdict == Verdict::doubtful || verdict == Verdict::missing || verdict == Verdict::fail;
}

Report check(const record::Job& job, const record::Installer& installer) {
  Report report;
  report.edition = job.edition();
  const std::vector<Row> table = rows();
  const auto count = static_cast<int>(job.circuits.size());
  JobWide wide;
  std::size_t of_the_job = 0;
  for (int index = -1; index < count; ++index) {
    const std::size_t first = report.findings.size();
    Scene scene(job, installer, wide, report.findings);
    scene.index = index;
    if (index >= 0) scene.circuit = &job.circuits[static_cast<std::size_t>(index)];
    for (const Row& row : table) {
      if ((row.over == Over::job) != (index < 0)) continue;
      scene.info = &row.info;
      if (row.run) row.run(scene);  // null: judged after all others (confirmations)
    }
    say_dead_first(std::span(report.findings).subspan(first));
    if (index >= 0) put_dead_tests_first(std::span(report.findings).subspan(first));
    if (index < 0) of_the_job = report.findings.size();
    if (index == 0)  // circuits are much alike: what is found grows without being moved about
      report.findings.reserve(first + std::min(report.findings.size() - first, kAlike) * job.circuits.size());
  }
  const std::size_t found = report.findings.size();
  apply_confirmations(job, installer, report.findings);
  const auto begin = report.findings.begin();  // what they added is of the job, and stands with it
  std::rotate(begin + static_cast<std::ptrdiff_t>(of_the_job),
              begin + static_cast<std::ptrdiff_t>(found), report.findings.end());
  if (job.kind && *job.kind == record::JobKind::condition_report)
    for (Finding& f : report.findings)
      f.observation = f.stage != Stage::paper &&  // a flaw of the report is none of the premises
                      (f.verdict == Verdict::fail || f.verdict == Verdict::missing);
  sort_each_circuit(report.findings);
  report.verdict = Verdict::pass;
  for (const Finding& f : report.findings) report.verdict = std::max(report.verdict, weight(f));
  return report;
}

bool Report::issuable() const {
  return std::none_of(findings.begin(), findings.end(),
                      [](const Finding& f) { return f.blocks(); });
}

std::size_t Report::count(Verdict wanted) const {
  return static_cast<std::size_t>(std::count_if(
      findings.begin(), findings.end(), [&](const Finding& f) { return f.verdict == wanted; }));
}

const Finding* Report::at(int circuit, std::string_view cell) const {
  const Finding* worst = nullptr;
  for (const Finding& f : findings)
    if (f.circuit == circuit && f.cell == cell && (!worst || f.verdict > worst->verdict))
      worst = &f;
  return worst;
}

Verdict Report::worst_of(int circuit) const {
  Verdict worst = Verdict::not_applicable;
  for (const Finding& f : findings)
    if (f.circuit == circuit) worst = std::max(worst, weight(f));
  return worst;
}

}  // namespace ohmleaf::checks
