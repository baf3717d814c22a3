#include "checks/check.h"

#include <algorithm>
#include <span>
#include <utility>

#include "checks/confirm.h"
#include "checks/judge.h"
#include "checks/scene.h"

namespace ohmleaf::checks {
namespace {

/// Circuits that are looked at together. A check runs for all of them before the next one does: the
/// code of all checks does not fit into a processor's fastest memory, the findings of so many circuits do.
constexpr int kTogether = 32;

/// Findings of so many circuits for which room is made ahead; most have fewer.
constexpr std::size_t kAlike = std::size_t{64} * kTogether;

/// Findings of one circuit, or of the job, in the order in which they were found.
using Found = std::vector<Finding*>;

/// A failed or missing dead test stops the job there: whatever is said of the circuit's live tests
/// says so too, so that nobody goes from the list straight to the switch.
void put_dead_tests_first(const Found& findings) {
  const auto stops = [](const Finding* f) {
    return f->stage == Stage::dead &&
           (f->verdict == Verdict::fail || f->verdict == Verdict::missing);
  };
  const auto open = std::find_if(findings.begin(), findings.end(), stops);
  if (open == findings.end()) return;
  const std::string first = (*open)->subject;
  for (Finding* f : findings) {
    if (f->stage != Stage::live) continue;
    if (f->verdict == Verdict::missing) {
      f->message += "; do not energise, the dead tests come first";
      f->action =
          "Leave the circuit isolated and locked off until its dead tests are complete and "
          "pass (" +
          first + "), then: " + f->action;
    } else if (f->verdict == Verdict::fail || f->verdict == Verdict::doubtful ||
               f->verdict == Verdict::borderline) {
      f->caution = "Do not energise: a dead test is open (" + first + "). " + f->caution;
    }
  }
}

/// Whoever is told to take a dead test again stands there with the circuit energised.
void say_dead_first(const Found& findings) {
  for (Finding* f : findings)
    if (f->stage == Stage::dead && f->verdict > Verdict::pass && !f->action.empty() && f->caution.empty())
      f->caution = kDeadFirst;
}

/// Worst first, then by stage.
bool comes_before(const Finding& a, const Finding& b) {
  return a.verdict != b.verdict ? a.verdict > b.verdict : a.stage < b.stage;
}

void sort(Found& findings) {
  std::stable_sort(findings.begin(), findings.end(),
                   [](const Finding* a, const Finding* b) { return comes_before(*a, *b); });
}

/// Runs the checks, some circuits at a time.
class Round {
 public:
  Round(const record::Job& job, const record::Installer& installer) : job_(job), scene_(job, installer, wide_, found_) {}

  /// Looks at the circuits from `first` to before `end`, or at the job where `first` is -1, and adds
  /// what is found to the report: circuit by circuit, each in order.
  void look(int first, int end, std::vector<Finding>& report) {
    for (const Row& row : table_) {
      if ((row.over == Over::job) != (first < 0) || !row.run) continue;  // null: judged after all others
      scene_.info = &row.info;
      for (int i = first; i < end; ++i) run(row, i);
    }
    by_circuit_.resize(static_cast<std::size_t>(end - first));
    for (Finding& f : found_) by_circuit_[static_cast<std::size_t>(f.circuit - first)].push_back(&f);
    for (Found& circuit : by_circuit_) {
      say_dead_first(circuit);
      if (first >= 0) put_dead_tests_first(circuit);
      sort(circuit);
      for (Finding* f : circuit) report.push_back(std::move(*f));
      circuit.clear();
    }
    found_.clear();
  }

 private:
  void run(const Row& row, int circuit) {
    scene_.index = circuit;
    scene_.circuit = circuit < 0 ? nullptr : &job_.circuits[static_cast<std::size_t>(circuit)];
    const std::size_t before = found_.size();
    row.run(scene_);
    for (Finding& f : std::span(found_).subspan(before)) {
      f.circuit = circuit;  // whatever the check did: it is handed over by its circuit
      if (f.source.empty()) f.source = row.info.source;
    }
  }

  const record::Job& job_;
  const std::vector<Row> table_ = rows();
  JobWide wide_;
  std::vector<Finding> found_;
  std::vector<Found> by_circuit_;
  Scene scene_;
};

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
  std::vector<Finding>& findings = report.findings;
  Round round(job, installer);
  round.look(-1, 0, findings);
  const std::size_t of_the_job = findings.size();
  const auto circuits = static_cast<int>(job.circuits.size());
  for (int first = 0; first < circuits; first += kTogether) {
    round.look(first, std::min(first + kTogether, circuits), findings);
    if (first > 0) continue;
    // Circuits are much alike: what is found grows without being moved about.
    const std::size_t here = std::min(findings.size() - of_the_job, kAlike);
    findings.reserve(of_the_job + (here + here / 4) * job.circuits.size() / kTogether);
  }
  const auto found = static_cast<std::ptrdiff_t>(findings.size());
  apply_confirmations(job, installer, findings);
  if (static_cast<std::size_t>(found) < findings.size()) {  // what they added is of the job
    const auto begin = findings.begin(), end_of_job = begin + static_cast<std::ptrdiff_t>(of_the_job);
    const auto added = findings.end() - (begin + found);
    std::rotate(end_of_job, begin + found, findings.end());
    std::stable_sort(begin, end_of_job + added, comes_before);
  }
  if (job.kind && *job.kind == record::JobKind::condition_report)
    for (Finding& f : findings)
      f.observation = f.stage != Stage::paper &&  // a flaw of the report is none of the premises
                      (f.verdict == Verdict::fail || f.verdict == Verdict::missing);
  report.verdict = report.tally().worst;
  return report;
}

void Tally::add(const Finding& finding) {
  ++counts[static_cast<std::size_t>(finding.verdict)];
  worst = std::max(worst, weight(finding));
  issuable = issuable && !finding.blocks();
}

Tally Report::tally() const {
  Tally all;
  for (const Finding& f : findings) all.add(f);
  return all;
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
