#include "cli/plot_command.h"

#include "base/files.h"
#include "base/text.h"
#include "cli/plot.h"

namespace ohmleaf::cli {
namespace {

namespace fs = std::filesystem;

int write_pictures(Environment& e, const Common& common, const fs::path& to, const std::string& job,
                   const std::vector<PlotCircuit>& circuits) {
  Diagnostics out;
  std::string said;
  const auto write = [&](const fs::path& file, const std::vector<PlotCircuit>& shown) {
    if (write_file(file, plot_svg(shown), out, 0644)) said += visible(file.string()) + "\n";
  };
  if (to.extension() == ".svg") {
    write(to, circuits);
  } else {
    std::error_code ec;
    fs::create_directories(to, ec);
    for (const PlotCircuit& c : circuits) write(to / (job + "-" + c.file + ".svg"), {c});
  }
  if (!out.ok()) return complain(e, out, {}, common);
  return common.quiet || common.json ? kFine : say(e, said);
}

}  // namespace

void add_plot_options(Command& command, PlotOptions& options) {
  command.add_flag("--plot", options.text,
                   "Draw each circuit's readings against their limits, and its device's time and "
                   "current with the measured loop's fault current, in the terminal");
  command
      .add_option("--plot-to", options.to, "The same as SVG: a file, or a folder for one a circuit")
      ->type_name("FILE.svg|FOLDER");
}

int show_plot(Environment& e, const PlotOptions& o, const Common& common, const app::Workspace& w,
              const checks::Report& report) {
  const auto circuits = plot_of(w, report);
  if (!o.to.empty())
    if (const int code = write_pictures(e, common, o.to, w.job.job_id(), circuits); code != kFine)
      return code;
  if (!o.text || common.json) return kFine;
  return say(e, "\n" + plot_text(circuits, style_for(common, e, false), text_width(e), e.unicode));
}

}  // namespace ohmleaf::cli
