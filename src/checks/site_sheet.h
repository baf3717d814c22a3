#pragma once
#include <string>
#include <vector>

#include "checks/finding.h"

// Where on the site sheet a reading is written, and in which order the missing ones are taken.

namespace ohmleaf::checks {

/// "3 · Circuits (Dead, isolated and locked off)", in the words of the site sheet's own headings;
/// empty for what the sheet does not ask. Its pages depend on the job, its sections do not.
std::string site_sheet_place(const Finding& finding);

/// The missing readings of a report in the safe order of testing (order_of_work.h): before anything
/// is touched, isolation, earthing and bonding, fitting, the dead tests of every circuit, then the
/// live tests, setting up, handover, paper.
std::vector<const Finding*> missing_in_order(const Report& report);

}  // namespace ohmleaf::checks
