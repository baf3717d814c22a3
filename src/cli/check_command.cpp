#include <algorithm>
#include <memory>

#include "base/text.h"
#include "checks/check.h"
#include "cli/batch.h"
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
  int workers = 0;
};

int list_checks(Environment& e) {
  std::string text;
  for (const checks::CheckInfo& c : checks::all_checks())
    text += wrapped(std::string(c.subject), padded(c.id, 28) + "  ", std::string(30, ' '),
                    text_width(e));
  return say(e, text);
}

int explain_check(Environment& e, const std::string& id) {
  std::vector<std::string_view> known;
  for (const checks::CheckInfo& c : checks::all_checks()) {
    if (c.id == id) {
      std::string text =
          wrapped(std::string(c.subject), std::string(c.id) + ": ", "  ", text_width(e));
      text += wrapped(std::string(c.says), "  ", "  ", text_width(e));
      text += wrapped(std::string(c.source), "  source: ", "          ", text_width(e));
      return say(e, text);
    }
    known.push_back(c.id);
  }
  const auto near = nearest(id, known);
  e.err("ohmleaf: error: there is no check named \"" + visible(id) + "\"\n  → " +
        (near ? "Did you mean \"" + *near + "\"? " : "") +
        "`ohmleaf check --list` names them all.\n");
  return kInput;
}

/// One row for each cell that was judged, the job's file in front; the headings first.
std::string findings_csv(const Json& report) {
  Json rows = Json::array();
  for (const Json& finding : *report.find("findings")->as_array()) {
    Json row = Json::object();
    row.set("job", report.find("job")->text("file"));
    for (const auto& [name, value] : *finding.as_object())
      if (name != "see") row.set(name, value);
    rows.push(std::move(row));
  }
  return csv_of(rows);
}

/// `alone`: nothing is done after it.
int check_one(Environment& e, const CheckOptions& o, const std::string& path, bool alone) {
  Sources sources;
  Diagnostics out;
  const auto w = app::load(path, places_of(o.common, e), sources, out);
  if (!w) {
    if (!o.common.json || o.common.csv) return complain(e, out, sources, o.common);
    Json one = Json::object();
    one.set("format", 1).set("file", path).set("errors", diagnostics_json(out, sources));
    return say(e, one.dump() + (alone ? "\n" : ""), out.trouble() == Trouble::system ? kSystem : kInput);
  }
  if (const int code = complain(e, out, sources, o.common); code != kFine) return code;
  const checks::Report report = checks::check(w->job, w->installer);
  int code = report.issuable() ? kFine : kFindings;
  if (o.common.csv || o.common.json) {
    const Json json = report_json(*w, report, sources);
    code = say(e, o.common.csv ? findings_csv(json) : json.dump() + (alone ? "\n" : ""), code);
    code = std::max(code, show_plot(e, o.plot, o.common, *w, report));
    return alone ? leave(e, code) : code;
  }
  ReportOptions options;
  options.verbose = o.common.verbose;
  options.quiet = o.common.quiet;
  code = say(
      e, report_text(*w, report, sources, style_for(o.common, e, false), text_width(e), options),
      code);
  if (o.plot.asked()) code = std::max(code, show_plot(e, o.plot, o.common, *w, report));
  return alone ? leave(e, code) : code;
}

/// What stands before the report of a job: its name, or what joins the parts of an array.
std::string before_report(const CheckOptions& o, const std::string& job, std::size_t place) {
  if (o.common.csv) return {};
  if (o.common.json) return place == 0 ? "[\n" : ",\n";
  return (place > 0 ? "\n" : "") + visible(job) + "\n";
}

/// One report after the other and a summary; as JSON, an array of what one job gives; as CSV, one
/// table.
int check_many(Environment& e, const CheckOptions& o, const Jobs& jobs) {
  Summary summary;
  const bool json = o.common.json && !o.common.csv;
  bool headed = false;
  const auto work = [&](Environment& quiet, const std::string& job) {
    Outcome one;
    one.code = check_one(quiet, o, job, false);
    return one;
  };
  const auto take = [&](std::size_t place, Outcome&& one) {
    if (json && one.out.empty()) one.out = lost_json(jobs.paths[place]);
    if (o.common.csv && headed) one.out.erase(0, one.out.find('\n') + 1);  // one line of headings
    headed = headed || !one.out.empty();
    const std::string before = before_report(o, jobs.paths[place], place);
    summary.count(print(e, before + one.out, one.err, one.code));
  };
  run_batch(e, jobs, {o.workers, "checking"}, work, take);
  if (json) return say(e, "\n]\n", summary.worst());
  if (o.common.csv) return summary.worst();
  return say(e, "\n" + summary.text("with nothing in the way of an issue"), summary.worst());
}

int run_check(Environment& e, const CheckOptions& o) {
  if (o.list) return list_checks(e);
  if (!o.explain.empty()) return explain_check(e, o.explain);
  if (o.jobs.empty()) {
    e.err(
        "ohmleaf: error: no job was named\n  → ohmleaf check FOLDER, where FOLDER holds "
        "job.toml\n");
    return kInput;
  }
  if (o.watch && o.jobs.size() == 1 && !o.common.json)
    return watch_check(e, o.common, o.jobs.front());
  if (o.watch) {
    e.err(
        "ohmleaf: error: --watch looks at one job, and prints text\n  → ohmleaf check --watch "
        "FOLDER\n");
    return kInput;
  }
  const Jobs jobs = jobs_named(o.jobs);
  return jobs.many ? check_many(e, o, jobs) : check_one(e, o, jobs.paths.front(), true);
}

}  // namespace

void add_check(Command& app, Environment& e, int& exit_code) {
  auto o = std::make_shared<CheckOptions>();
  Command* c = app.add_subcommand("check", "Judge every reading of a job against its limit");
  c->add_option("job", o->jobs, "Job files, folders that hold job.toml, or folders of such folders")
      ->type_name("JOB");
  c->add_flag("--watch", o->watch,
              "Judge it again whenever it is saved in the editor beside; Ctrl-C ends");
  c->add_flag("--list", o->list, "Name every check");
  c->add_option("--explain", o->explain, "What one check looks at, and why")->type_name("CHECK");
  add_plot_options(*c, o->plot);
  add_workers(*c, o->workers);
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
