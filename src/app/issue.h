#pragma once
#include <optional>
#include <string>
#include <vector>

#include "app/workspace.h"
#include "archive/archive.h"
#include "checks/finding.h"

namespace ohmleaf::app {

struct IssueOutcome {
  checks::Report report;
  archive::IssueResult result;
  bool blocked = false;      ///< findings stand in the way: nothing was written
  std::string certificate;   ///< the PDF's bytes, where something was issued
};

/// Checks the job; if nothing blocks, draws the next number, renders and files it. The same job
/// bytes again answer "already issued". Nothing is written unless it is issued whole.
std::optional<IssueOutcome> issue(const Workspace& workspace, Instant now, Sources& sources,
                                  Diagnostics& out);

/// A new version of an issued certificate, with the reason.
std::optional<IssueOutcome> revise(const Workspace& workspace, const std::string& number,
                                   const std::string& reason, Instant now, Sources& sources,
                                   Diagnostics& out);

}  // namespace ohmleaf::app
