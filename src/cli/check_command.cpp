#include <algorithm>
#include <memory>

#include "base/text.h"
#include "checks/check.h"
#include "cli/batch.h"
#include "cli/command.h"
#include "cli/report_json.h"
#include "cli/report_text.h"

namespace ohmleaf::cli {
namespace {

struct CheckOptions {
  Common common;
  std::vector<std::string> jobs;
  bool list = false;
  std::string explain;
  int workers = 0;
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

int check_one(Environment& e, const CheckOptions& o, const std::string& path) {
  Sources sources;
  Diagnostics out;
  const auto w = app::load(path, places_of(o.common, e), sources, out);
  if (!w) {
    if (!o.common.json) return complain(e, out, sources, o.common);
    Json one = Json::object();
    one.set("file", path).set("errors", diagnostics_json(out, sources));
    return say(e, one.dump(), out.trouble() == Trouble::system ? kSystem : kInput);
  }
  if (const int code = complain(e, out, sources, o.common); code != kFine) return code;
  const checks::Report report = checks::check(w->job, w->installer);
  const int code = report.issuable() ? kFine : kFindings;
  if (o.common.json) return say(e, report_json(*w, report, sources).dump(), code);
  ReportOptions options;
  options.verbose = o.common.verbose;
  options.quiet = o.common.quiet;
  return say(e, report_text(*w, report, sources, style_for(o.common, e, false), text_width(e), options),
             code);
}

/// One report after the other and a summary; as JSON, an array of what one job gives.
int check_many(Environment& e, const CheckOptions& o, const Jobs& jobs) {
  Summary summary;
  const bool json = o.common.json;
  const auto work = [&](Environment& quiet, const std::string& job) {
    Outcome one;
    one.code = check_one(quiet, o, job);
    return one;
  };
  const auto take = [&](std::size_t place, Outcome&& one) {
    if (json && one.out.empty()) one.out = lost_json(jobs.paths[place]);
    const std::string before = json ? (place == 0 ? "[\n" : ",\n")
                                    : (place > 0 ? "\n" : "") + visible(jobs.paths[place]) + "\n";
    summary.count(print(e, before + one.out, one.err, one.code));
  };
  run_batch(e, jobs, {o.workers, "checking"}, work, take);
  if (json) return say(e, "\n]\n", summary.worst());
  return say(e, "\n" + summary.text("with nothing in the way of an issue"), summary.worst());
}

int run_check(Environment& e, const CheckOptions& o) {
  if (o.list) return list_checks(e);
  if (!o.explain.empty()) return explain_check(e, o.explain);
  if (o.jobs.empty()) {
    e.err("ohmleaf: error: no job was named\n  → ohmleaf check FOLDER, where FOLDER holds job.toml\n");
    return kInput;
  }
  const Jobs jobs = jobs_named(o.jobs);
  if (!jobs.many) {
    const int code = check_one(e, o, jobs.paths.front());
    return o.common.json ? say(e, "\n", code) : code;
  }
  return check_many(e, o, jobs);
}

}  // namespace

void add_check(Command& app, Environment& e, int& exit_code) {
  auto o = std::make_shared<CheckOptions>();
  Command* c = app.add_subcommand("check", "Judge every reading of a job against its limit");
  c->add_option("job", o->jobs, "Job files, folders that hold job.toml, or folders of such folders")
      ->type_name("JOB");
  c->add_flag("--list", o->list, "Name every check");
  c->add_option("--explain", o->explain, "What one check looks at, and why")->type_name("CHECK");
  add_workers(*c, o->workers);
  add_common(*c, o->common, kInstaller | kJson | kVolume);
  c->callback([o, &e, &exit_code] { exit_code = run_check(e, *o); });
}

}  // namespace ohmleaf::cli
