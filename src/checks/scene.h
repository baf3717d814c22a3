#pragma once
#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "checks/check.h"
#include "checks/finding.h"

// What one check is given, and the table it stands in. Internal to checks/.

namespace ohmleaf::checks {

/// What checks of single circuits ask of the whole job: worked out when first asked for, then kept,
/// so that a job twice as long takes twice as long and no more.
struct JobWide {
  /// The reading that marks the end of a range of insulation tests, by instrument and voltage.
  std::optional<std::map<std::string, const record::Measured<Megohms>*>> range_ends;
  /// How many circuits nearest to the shared RCD carry a reading, by the question asked.
  std::map<bool (*)(const record::Circuit&), std::size_t> behind_shared_rcd;
};

/// The job as one check sees it. A check reads from it and adds findings to it; it changes nothing
/// else, so checks can run in any order.
class Scene {
 public:
  Scene(const record::Job& the_job, const record::Installer& the_installer, JobWide& job_wide,
        std::vector<Finding>& out)
      : job(the_job),
        installer(the_installer),
        wide(job_wide),
        edition(the_job.edition()),
        out_(out) {}

  const record::Job& job;
  const record::Installer& installer;
  JobWide& wide;
  limits::Edition edition;
  const CheckInfo* info = nullptr;           ///< the row that is running
  const record::Circuit* circuit = nullptr;  ///< null for a check of the job itself
  int index = -1;                            ///< of the circuit

  /// Adds a finding of the running check; the reference is good until the next one is added.
  Finding& add(Verdict verdict, Stage stage, std::string cell, std::string subject,
               std::string message, Span span);
  bool is_report() const {
    return job.kind.value_or(record::JobKind::minor_works) == record::JobKind::condition_report;
  }

 private:
  std::vector<Finding>& out_;
};

enum class Over { job, circuit };

/// One row of the table of checks.
struct Row {
  CheckInfo info;
  Over over = Over::circuit;
  void (*run)(Scene&) = nullptr;
};

// Each theme keeps its rows beside their functions; `rows()` is all of them, in the order of work.
std::span<const Row> zs_rows();
std::span<const Row> rcd_rows();
std::span<const Row> supply_rows();
std::span<const Row> bonding_rows();
std::span<const Row> isolation_rows();
std::span<const Row> continuity_rows();
std::span<const Row> ring_rows();
std::span<const Row> insulation_rows();
std::span<const Row> fault_current_rows();
std::span<const Row> consistency_rows();
std::span<const Row> believable_rows();
std::span<const Row> phase_rows();
std::span<const Row> asked_rows();
std::span<const Row> trap_rows();
std::span<const Row> ring_point_rows();
std::span<const Row> device_rows();
std::span<const Row> protective_conductor_rows();
std::span<const Row> accessory_rows();
std::span<const Row> point_rows();
std::span<const Row> network_rows();
std::span<const Row> paper_rows();
std::span<const Row> signing_rows();
std::span<const Row> agreement_rows();
std::span<const Row> instrument_rows();
std::vector<Row> rows();

}  // namespace ohmleaf::checks
