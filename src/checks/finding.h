#pragma once
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "limits/limit.h"

namespace ohmleaf::checks {

/// Worst last: a report's verdict is the greatest of its findings'.
enum class Verdict { not_applicable, note, pass, borderline, doubtful, missing, fail };
inline constexpr std::size_t kVerdicts = static_cast<std::size_t>(Verdict::fail) + 1;
std::string_view name(Verdict verdict);  ///< "pass", "not applicable" …
bool blocks_issue(Verdict verdict);      ///< doubtful (until confirmed), missing, fail

/// Whether an installer may confirm a finding away with a reason and a name. Default: never.
enum class Confirmable { never, with_reason };

/// When in the safe order of testing a finding belongs.
enum class Stage { paper, before, isolation, fitting, dead, live, setting_up, handover };

/// One judged cell or rule: passes too, so that every printed reading has its limit beside it.
/// Terminal, JSON and page read this one value.
struct Finding {
  // What is asked of every finding in turn stands together, in front.
  Verdict verdict = Verdict::pass;
  Stage stage = Stage::live;
  int circuit = -1;  ///< index into Job::circuits; -1: the job itself
  Confirmable confirmable = Confirmable::never;
  /// In a condition report a fail or a missing reading is an observation and blocks nothing.
  bool observation = false;
  /// Share of the limit that the reading uses, in thousandths (1000 = at the limit), for the
  /// headroom bar; for a minimum the limit's share of the reading.
  std::optional<int> used_permille;
  std::optional<limits::Provenance> provenance;
  Span span;                 ///< of the reading, or of where it should stand
  std::string_view check;    ///< id in the table of checks, which outlives every finding: "zs-overcurrent"
  std::string cell;          ///< what was judged, path within the circuit or job: "live.zs"
  std::string subject;       ///< for people: "Zs", "Insulation, live to earth"
  std::string message;       ///< one sentence: "Zs 1.52 Ω is over its limit of 1.37 Ω"
  std::string reading;       ///< as written, with unit: "1.52 Ω"; empty if there is none
  std::string limit;         ///< as printed: "≤ 1.37 Ω"; empty if there is none
  std::string exact;         ///< unrounded limit without unit
  std::string difference;    ///< "0.15 Ω over", "11 % in hand"
  std::string derivation;    ///< how the limit was worked out
  /// How the verdict allows for the instrument: "pass only where 0.46 ± 0.063 Ω (declared operating
  /// uncertainty) is wholly inside the limit …"; empty where nothing is declared.
  std::string decision;
  std::string source;        ///< where it comes from; else where the check does
  std::vector<Label> labels;        ///< what set the limit
  std::vector<std::string> causes;  ///< most likely first
  std::string action;               ///< the next thing to do, for one standing there
  std::string caution;              ///< where the action can hurt
  std::string confirmed_by;         ///< name, where it was confirmed
  std::string confirmed_reason;

  bool blocks() const { return blocks_issue(verdict) && confirmed_by.empty() && !observation; }
};

/// What a finding counts for in a report's verdict: a confirmed doubt, like an observation, as
/// borderline.
Verdict weight(const Finding& finding);

/// What a report's findings come to.
struct Tally {
  std::array<std::size_t, kVerdicts> counts{};  ///< by verdict
  Verdict worst = Verdict::pass;                ///< confirmed doubts counted as borderline
  bool issuable = true;                         ///< nothing blocks
  std::size_t count(Verdict verdict) const { return counts[static_cast<std::size_t>(verdict)]; }
  void add(const Finding& finding);
};

struct Report {
  limits::Edition edition = limits::Edition::y2026;
  std::vector<Finding> findings;    ///< the job, then each circuit; worst first, then by stage
  Verdict verdict = Verdict::pass;  ///< worst, confirmed doubts counted as borderline

  Tally tally() const;
  bool issuable() const { return tally().issuable; }
  std::size_t count(Verdict wanted) const { return tally().count(wanted); }
  /// The finding that a printed cell shows: the worst one for that cell.
  const Finding* at(int circuit, std::string_view cell) const;
  Verdict worst_of(int circuit) const;
};

}  // namespace ohmleaf::checks
