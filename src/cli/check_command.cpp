#include <algorithm>
#include <memory>

#include "base/text.h"
#include "checks/check.h"
#include "cli/command.h"
#include "cli/csv_report.h"
#include "cli/plot_command.h"
#include "cli/report_json.h"
#include "cli/report_text.h"
#include "cli/watch.h"

namespace ohmleaf::cli {
namespace {

struct CheckOptions {
  Common common;
  std::vector<std::string> jobs;
  bool list = false, watch = false;
  std::string explain;
  PlotOptions plot;
};

int list_checks(Environment& e) {
  std::string text;
  for (const checks::CheckInfo& c : checks::all_checks())
    text += wrapped(std::string(c.subject), padded(c.id, 28) + "  ", std::string(30, ' '), text_width(e));
  return say(e, text);
}

int explain_check(Environment& e, const std::string& id) {
  std::vector<std::string_view> known;
  for (const checks::CheckInfo& c : checks::all_checks()) {
    if (c.id == id) {
      std::string text = wrapped(std::string(c.subject), std::string(c.id) + ": ", "  ", text_width(e));
      text += wrapped(std::string(c.says), "  ", "  ", text_width(e));
      text += wrapped(std::string(c.source), "  source: ", "          ", text_width(e));
      return say(e, text);
    }
    known.push_back(c.id);
  }
  const auto near = nearest(id, known);
  e.err("ohmleaf: error: there is no check named \"" + visible(id) + "\"\n  → " +
        (near ? "Did you mean \"" + *near + "\"? " : "") + "`ohmleaf check --list` names them all.\n");
  return kInput;
}

int check_one(Environment& e, const CheckOptions& o, const std::string& path, Json& all) {
  Sources sources;
  Diagnostics out;
  const auto w = app::load(path, places_of(o.common, e), sources, out);
  if (!w) {
    if (!o.common.json || o.common.csv) return complain(e, out, sources, o.common);
    Json one = Json::object();
    one.set("format", 1).set("file", path).set("errors", diagnostics_json(out, sources));
    all.push(std::move(one));
    return out.trouble() == Trouble::system ? kSystem : kInput;
  }
  if (const int code = complain(e, out, sources, o.common); code != kFine) return code;
  const checks::Report report = checks::check(w->job, w->installer);
  int code = report.issuable() ? kFine : kFindings;
  if (o.common.json || o.common.csv) {
    all.push(report_json(*w, report, sources));
    return std::max(code, show_plot(e, o.plot, o.common, *w, report));
  }
  ReportOptions options;
  options.verbose = o.common.verbose;
  options.quiet = o.common.quiet;
  code = say(e, report_text(*w, report, sources, style_for(o.common, e, false), text_width(e), options),
             code);
  return o.plot.asked() ? std::max(code, show_plot(e, o.plot, o.common, *w, report)) : code;
}

/// One row for each cell that was judged, the job's file in front.
std::string findings_csv(const Json& reports) {
  Json rows = Json::array();
  for (const Json& report : *reports.as_array()) {
    const Json *job = report.find("job"), *findings = report.find("findings");
    if (job == nullptr || findings == nullptr) continue;
    for (const Json& finding : *findings->as_array()) {
      Json row = Json::object();
      row.set("job", job->text("file"));
      for (const auto& [name, value] : *finding.as_object())
        if (name != "see") row.set(name, value);
      rows.push(std::move(row));
    }
  }
  return csv_of(rows);
}

int run_check(Environment& e, const CheckOptions& o) {
  if (o.list) return list_checks(e);
  if (!o.explain.empty()) return explain_check(e, o.explain);
  if (o.jobs.empty()) {
    e.err("ohmleaf: error: no job was named\n  → ohmleaf check FOLDER, where FOLDER holds job.toml\n");
    return kInput;
  }
  if (o.watch && o.jobs.size() == 1 && !o.common.json) return watch_check(e, o.common, o.jobs.front());
  if (o.watch) {
    e.err("ohmleaf: error: --watch looks at one job, and prints text\n  → ohmleaf check --watch FOLDER\n");
    return kInput;
  }
  int worst = kFine;
  Json all = Json::array();
  for (std::size_t i = 0; i < o.jobs.size(); ++i) {
    if (o.jobs.size() > 1 && !o.common.json && !o.common.csv)
      worst = std::max(worst, say(e, (i > 0 ? "\n" : "") + visible(o.jobs[i]) + "\n"));
    worst = std::max(worst, check_one(e, o, o.jobs[i], all));
  }
  if (o.common.csv) return say(e, findings_csv(all), worst);
  if (!o.common.json) return worst;
  const Json& shown = o.jobs.size() == 1 ? all.as_array()->front() : all;
  return say(e, shown.dump() + "\n", worst);
}

}  // namespace

void add_check(Command& app, Environment& e, int& exit_code) {
  auto o = std::make_shared<CheckOptions>();
  Command* c = app.add_subcommand("check", "Judge every reading of a job against its limit");
  c->add_option("job", o->jobs, "Job files, or folders that hold job.toml")->type_name("JOB");
  c->add_flag("--watch", o->watch, "Judge it again whenever it is saved in the editor beside; Ctrl-C ends");
  c->add_flag("--list", o->list, "Name every check");
  c->add_option("--explain", o->explain, "What one check looks at, and why")->type_name("CHECK");
  add_plot_options(*c, o->plot);
  add_common(*c, o->common, kInstaller | kJson | kCsv | kVolume);
  add_examples(*c,
               "  ohmleaf check sewing-workshop\n"
               "  ohmleaf check sewing-workshop --verbose\n"
               "  ohmleaf check sewing-workshop --plot-to pictures\n"
               "  ohmleaf check sewing-workshop --csv > readings.csv\n"
               "  ohmleaf check --explain continuity");
  c->callback([o, &e, &exit_code] { exit_code = run_check(e, *o); });
}

}  // namespace ohmleaf::cli
