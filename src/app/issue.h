#pragma once
#include <optional>
#include <string>
#include <vector>

#include "app/workspace.h"
#include "archive/archive.h"
#include "checks/finding.h"
#include "seal/key.h"

namespace ohmleaf::app {

struct IssueOutcome {
  checks::Report report;
  archive::IssueResult result;
  bool blocked = false;      ///< findings stand in the way: nothing was written
  std::string certificate;   ///< the PDF's bytes, where something was issued
  std::string signed_by;     ///< whom the filed certificate's electronic signature names; or empty
};

/// Checks the job; if nothing blocks, draws the next number, renders and files it. The same job
/// bytes again answer "already issued". Nothing is written unless it is issued whole. With a key the
/// PDF is signed before it is filed.
std::optional<IssueOutcome> issue(const Workspace& workspace, Instant now, Sources& sources,
                                  Diagnostics& out, const seal::Key* key = nullptr);

/// A new version of an issued certificate, with the reason.
std::optional<IssueOutcome> revise(const Workspace& workspace, const std::string& number,
                                   const std::string& reason, Instant now, Sources& sources,
                                   Diagnostics& out, const seal::Key* key = nullptr);

/// The name of the searchable fact that an electronic signature leaves in the archive's record.
inline constexpr const char* kSignedBy = "signed by";

}  // namespace ohmleaf::app
