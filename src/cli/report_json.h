#pragma once
#include "app/workspace.h"
#include "base/diagnostic.h"
#include "base/json.h"
#include "checks/finding.h"

namespace ohmleaf::cli {

/// The report with everything in it. The shape is versioned by its "format" and described in
/// DEVELOPERS.md; members are added, never renamed.
Json report_json(const app::Workspace& workspace, const checks::Report& report,
                 const Sources& sources);

/// Diagnostics as JSON, for `--json` where the input itself was wrong.
Json diagnostics_json(const Diagnostics& diagnostics, const Sources& sources);

}  // namespace ohmleaf::cli
