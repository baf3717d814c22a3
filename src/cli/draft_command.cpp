#include <filesystem>
#include <map>
#include <memory>

#include "app/documents.h"
#include "base/files_quick.h"
#include "base/json.h"
#include "base/text.h"
#include "base/version.h"
#include "checks/check.h"
#include "cli/batch.h"
#include "cli/command.h"
#include "cli/report_text.h"
#include "pdf/pdf.h"

namespace ohmleaf::cli {
namespace {

struct DraftOptions {
  Common common;
  std::vector<std::string> jobs;
  std::string suffix;
  int workers = 0;
  std::string output;
  std::vector<std::string> documents;
};

/// A draft carries the job's own date, never the clock: the same job gives the same bytes.
Instant instant_of(const record::Job& job) {
  return Instant::parse(job.date.value_or(Date{}).iso() + "T00:00:00Z").value_or(Instant{});
}

/// Where a job's PDF goes: the file that was named, or its own name in the folder that was named.
std::string output_path(const DraftOptions& o, const std::string& id, bool many) {
  const std::string own = id + o.suffix;
  if (o.output.empty()) return own;
  return many ? (std::filesystem::path(o.output) / own).string() : o.output;
}

std::string written_json(const std::string& path, const std::vector<std::string>& names,
                         const checks::Report& report) {
  Json documents = Json::array();
  for (const std::string& name : names) documents.push(name);
  Json j = Json::object();
  j.set("format", 1).set("written", path).set("documents", std::move(documents));
  j.set("verdict", checks::name(report.verdict)).set("issuable", report.issuable());
  return j.dump() + "\n";
}

/// Draws one job; what is to be written is in the outcome.
Outcome draw(Environment& e, const DraftOptions& o, const std::string& job, bool many) {
  Outcome made;
  const auto fail = [&](const Diagnostics& out, const Sources& sources) {
    made.code =
        o.common.json ? complain_json(e, out, sources) : complain(e, out, sources, o.common);
    return made;
  };
  Sources sources;
  Diagnostics out;
  const auto w = app::load(job, places_of(o.common, e), sources, out);
  if (!w) return fail(out, sources);
  tell(e, o.common, "profile", w->installer_path);
  checks::Report report = checks::check(w->job, w->installer);
  const auto names = o.documents.empty() ? app::document_names(w->job) : o.documents;
  const auto stationery = app::load_stationery(*w, names, sources, out);
  if (!stationery) return fail(out, sources);
  layout::IssueFacts facts;
  facts.draft = true;
  facts.program = "ohmleaf " + std::string(program_version());
  const std::string path = output_path(o, w->job.job_id(), many);
  std::string said;  // before the pages are made, which take the report with them
  if (o.common.json) {
    said = written_json(path, names, report);
  } else {
    said = visible(path) + ": written\n";
    if (!o.common.quiet)
      said += wrapped(verdict_line(report, w->job), "verdict: ", "         ", text_width(e));
  }
  auto pdf =
      app::render(*w, std::move(report), *stationery, facts, instant_of(w->job), sources, out);
  if (!pdf) return fail(out, sources);
  if (!o.common.json) complain(e, out, sources, o.common);
  made.path = path;
  made.bytes = std::move(*pdf);
  made.done = std::move(said);
  return made;
}

/// Writes what a job made and says so.
int finish(Environment& e, const DraftOptions& o, Outcome&& made, bool many) {
  Diagnostics out;
  const bool written = made.path.empty() || write_quick(made.path, made.bytes, out);
  if (!written) {
    print(e, made.out, made.err, made.code);
    return complain(e, out, Sources(), o.common);
  }
  const std::string said = made.out + (made.path.empty() ? "" : made.done);
  if (many || said.empty()) return print(e, said, made.err, made.code);
  if (!made.err.empty()) e.err(made.err);
  return say(e, said, made.code);  // which tells of a standard output that is closed or full
}

/// Two jobs of one id would write one file: the first has it, the other is told.
bool claimed(std::map<std::string, std::string>& files, Outcome& made, const std::string& job) {
  if (made.path.empty()) return true;
  const auto [first, fresh] = files.try_emplace(made.path, job);
  if (fresh) return true;
  made.err += "ohmleaf: error: " + visible(job) + ": " + visible(made.path) +
              " is already the file of " + visible(first->second) +
              "\n  → Both jobs have the same id; give one of them another: id = \"…\" in its "
              "job.toml\n";
  made.path.clear();
  made.code = kInput;
  return false;
}

int draw_many(Environment& e, const DraftOptions& o, const Jobs& jobs) {
  std::error_code ec;
  if (!o.output.empty() && !std::filesystem::is_directory(o.output, ec)) {
    e.err("ohmleaf: error: " + visible(o.output) +
          " is no folder\n  → With several jobs, -o names the folder that their files go to.\n");
    return kInput;
  }
  pdf::font_metrics().has_glyph(layout::Face::regular, U' ');  // the faces, once for all workers
  Summary summary;
  std::map<std::string, std::string> files;
  const auto work = [&](Environment& quiet, const std::string& job) {
    return draw(quiet, o, job, true);
  };
  const auto take = [&](std::size_t place, Outcome&& made) {
    claimed(files, made, jobs.paths[place]);
    if (o.common.json) {
      if (made.path.empty() && made.out.empty()) made.out = lost_json(jobs.paths[place]);
      e.out(place == 0 ? "[\n" : ",\n");
    }
    summary.count(finish(e, o, std::move(made), true));
  };
  run_batch(e, jobs, {o.workers, "drawing"}, work, take);
  if (o.common.json) return say(e, "]\n", summary.worst());
  return say(e, "\n" + summary.text("written"), summary.worst());
}

int render_drafts(Environment& e, const DraftOptions& o) {
  const Jobs jobs = jobs_named(o.jobs);
  if (jobs.many) return draw_many(e, o, jobs);
  return finish(e, o, draw(e, o, jobs.paths.front(), false), false);
}

void add_one(Command& app, Environment& e, int& exit_code, const char* name, const char* help,
             const char* suffix, std::vector<std::string> documents) {
  auto o = std::make_shared<DraftOptions>();
  Command* c = app.add_subcommand(name, help);
  c->add_option("job", o->jobs, "Job files, folders that hold job.toml, or folders of such folders")
      ->required()
      ->type_name("JOB");
  c->add_option(
       "-o,--output", o->output,
       std::string("The PDF to write, or with several jobs the folder (default: the job's id") +
           suffix + ")")
      ->type_name("FILE");
  const bool documents_chosen = documents.empty();
  if (documents_chosen)
    c->add_option("--document", o->documents,
                  "Documents to print instead of those the job asks for")
        ->type_name("FORM");
  else
    o->documents = std::move(documents);
  add_common(*c, o->common, kInstaller | kJson | kTheme | kLanguage | kVolume);
  std::string examples = std::string("  ohmleaf ") + name + " sewing-workshop";
  if (documents_chosen)
    examples += "\n  ohmleaf draft sewing-workshop --theme harbour -o for-the-client.pdf";
  add_examples(*c, examples);
  add_workers(*c, o->workers);
  o->suffix = suffix;
  c->callback([o, &e, &exit_code] { exit_code = render_drafts(e, *o); });
}

}  // namespace

void add_draft(Command& app, Environment& e, int& exit_code) {
  add_one(app, e, exit_code, "sheet",
          "Print the sheet to take on site: tests in safe order, limits worked out", "-sheet.pdf",
          {"site-sheet"});
  add_one(app, e, exit_code, "notice",
          "Print the notice of a danger, whatever the verdict: the client gets it at once",
          "-notice.pdf", {"danger-notice"});
  add_one(app, e, exit_code, "draft", "Print the certificate as a draft, whatever the verdict",
          "-draft.pdf", {});
}

}  // namespace ohmleaf::cli
