#pragma once
#include <cstddef>
#include <string>
#include <string_view>

#include "checks/finding.h"

// In which order a job is worked through, and what must be there before the next step may be taken.

namespace ohmleaf::checks {

/// The steps in their safe order. (Source: safe isolation sequence and BS 7671 643.1, number from
/// memory: dead tests before live tests; inspection before energising: 641.3, from memory.)
enum class Step { look, isolate, origin, fit, dead, inspect, live, set_up, hand_over, paper };
std::string_view name(Step step);  ///< "Dead tests: isolated, locked off, proved dead"

/// The step in which this is seen, measured or written.
Step step_of(const Finding& finding);
/// Its place within the step and the circuit: r1 before rn, the reading before the reconnecting.
std::size_t place_in_step(const Finding& finding);

/// What must be cured or recorded before this step may be offered; null where nothing stands in its
/// way. Nothing that means opening or touching is offered before the job was isolated and proved
/// dead; nothing live while a dead test of any circuit fails or is missing, while earthing, bonding
/// or a protective device fails, or while the earthing conductor is not confirmed back.
const Finding* stop_before(const Report& report, Step step);

/// True from `Step::live` on: this step is done with the installation energised.
bool is_energised(Step step);

}  // namespace ohmleaf::checks
