#pragma once
#include <span>
#include <string_view>

#include "checks/finding.h"
#include "record/installer.h"
#include "record/job.h"

namespace ohmleaf::checks {

/// Judges a whole job. Pure: no I/O, no clock; the same job gives the same report.
Report check(const record::Job& job, const record::Installer& installer);

/// One row of the table of checks.
struct CheckInfo {
  std::string_view id;
  std::string_view subject;  ///< what it looks at
  std::string_view says;     ///< one paragraph for `check --explain`
  std::string_view source;
  Confirmable confirmable = Confirmable::never;
};
std::span<const CheckInfo> all_checks();

}  // namespace ohmleaf::checks
