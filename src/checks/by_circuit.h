#pragma once
#include <array>
#include <span>
#include <string_view>
#include <vector>

#include "checks/finding.h"

namespace ohmleaf::checks {

/// A report's findings by the circuit that they are about, and by their verdict: who asks for every
/// circuit in turn, or for the few that are not in order, must not go through all findings each time.
/// Holds pointers into the report, which must outlive it.
class ByCircuit {
 public:
  using Found = std::span<const Finding* const>;

  explicit ByCircuit(const Report& report);
  /// In the report's order; -1: those of the job itself. Empty for a circuit that it does not name.
  Found of(int circuit) const;
  Verdict worst_of(int circuit) const;  ///< as Report::worst_of

  const Tally& tally() const { return tally_; }
  // Of all circuits, in the report's order.
  Found with(Verdict verdict) const { return verdicts_[static_cast<std::size_t>(verdict)]; }
  Found observations() const { return observations_; }
  Found with_limit() const { return with_limit_; }

 private:
  std::vector<std::vector<const Finding*>> circuits_;  ///< by index + 1
  std::array<std::vector<const Finding*>, kVerdicts> verdicts_;
  std::vector<const Finding*> observations_, with_limit_;
  Tally tally_;
};

/// The findings of a circuit by the cell that they are about. Keeps those of the circuit that was asked
/// for last, in the order of their cells: a row of a schedule asks for thirty.
class ByCell {
 public:
  explicit ByCell(const ByCircuit& found) : found_(found) {}
  /// About this cell, in the report's order.
  ByCircuit::Found at(int circuit, std::string_view cell) const;
  /// About its parts, "live.zs.L1" of "live.zs".
  ByCircuit::Found below(int circuit, std::string_view cell) const;

 private:
  void turn_to(int circuit) const;
  std::vector<const Finding*>::const_iterator first_from(int circuit, std::string_view cell) const;

  const ByCircuit& found_;
  static constexpr int kNone = -2;
  mutable int circuit_ = kNone;
  mutable std::vector<const Finding*> cells_;
};

/// The first of the worst, as the report has them; null of none.
const Finding* worst(ByCircuit::Found found);

}  // namespace ohmleaf::checks
