#pragma once
#include "checks/finding.h"
#include "cli/command.h"

namespace ohmleaf::cli {

/// `check --plot` and `--plot-to`.
struct PlotOptions {
  bool text = false;
  std::string to;  ///< a file ending in .svg, or a folder
  bool asked() const { return text || !to.empty(); }
};
void add_plot_options(Command& command, PlotOptions& options);

/// Shows the pictures of a judged job in the terminal, or writes them: one file, or a folder with
/// one for each circuit. Says where they are. kFine, or kSystem where nothing could be written.
int show_plot(Environment& environment, const PlotOptions& options, const Common& common,
              const app::Workspace& workspace, const checks::Report& report);

}  // namespace ohmleaf::cli
