#pragma once
#include <vector>

#include "checks/finding.h"
#include "record/installer.h"
#include "record/job.h"

namespace ohmleaf::checks {

/// Marks the doubtful findings that the job confirms with a reason and a name. A confirmation that
/// names no check, lacks reason or name, or is of a check that cannot be confirmed adds a finding
/// of its own that points at it; it never changes another verdict.
void apply_confirmations(const record::Job& job, const record::Installer& installer,
                         std::vector<Finding>& findings);

}  // namespace ohmleaf::checks
