#pragma once
#include <string>

#include "app/workspace.h"
#include "checks/finding.h"
#include "cli/style.h"

namespace ohmleaf::cli {

struct ReportOptions {
  bool verbose = false;  ///< passes too, each with its limit
  bool quiet = false;    ///< the last line only
};

/// The report that is read on site: circuit by circuit, worst first, a one-line verdict last.
std::string report_text(const app::Workspace& workspace, const checks::Report& report,
                        const Sources& sources, const Style& style, int width,
                        ReportOptions options);

/// The last line: how many of what, and whether it can be issued.
std::string verdict_line(const checks::Report& report, const record::Job& job);

}  // namespace ohmleaf::cli
