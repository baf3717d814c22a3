#pragma once
#include <string>
#include <vector>

#include "checks/check.h"

// Which readings a circuit of some kind needs, and why: not a list of its own, but what the checks
// miss in a circuit that has none.

namespace ohmleaf::checks {

/// A circuit as it is known before anything is measured.
struct CircuitAsked {
  record::CircuitType type = record::CircuitType::ring_final;
  limits::Device device;
  std::optional<limits::Device> rcd;  ///< upstream of the device, of its own
  limits::Earthing earthing = limits::Earthing::tn_c_s;
  std::vector<std::string> feeds, places;  ///< words of the job's keys of these names
  bool is_new = false;
  bool three_phase = false;
  Date date{2026, 4, 15};  ///< of the design: it chooses the edition of the rules
};

/// One reading, tick or fact that the circuit needs.
struct Need {
  Stage stage = Stage::dead;
  std::string key;     ///< where the job has it: "dead.R1R2", "supply.ze"
  std::string what;    ///< "R1+R2"
  std::string limit;   ///< as printed, empty where there is none before the reading: "≤ 1.37 Ω"
  std::string how;     ///< what to do
  std::string why;     ///< what its check says
  std::string source;  ///< of the check, or of the limit
};

/// In the safe order of testing: before touching, isolation, dead, live.
std::vector<Need> needs_of(const CircuitAsked& asked);

/// "before touching", "dead tests": as reports say it.
std::string_view name(Stage stage);

}  // namespace ohmleaf::checks
