#pragma once
#include <span>
#include <vector>

#include "checks/finding.h"

namespace ohmleaf::checks {

/// A report's findings by the circuit that they are about: who asks for every circuit in turn must
/// not go through all findings each time. Holds pointers into the report, which must outlive it.
class ByCircuit {
 public:
  explicit ByCircuit(const Report& report);
  /// In the report's order; -1: those of the job itself. Empty for a circuit that it does not name.
  std::span<const Finding* const> of(int circuit) const;
  const Finding* at(int circuit, std::string_view cell) const;  ///< as Report::at
  Verdict worst_of(int circuit) const;                          ///< as Report::worst_of

 private:
  std::vector<std::vector<const Finding*>> circuits_;  ///< by index + 1
};

}  // namespace ohmleaf::checks
