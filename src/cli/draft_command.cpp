#include <memory>

#include "app/documents.h"
#include "base/files.h"
#include "base/json.h"
#include "base/text.h"
#include "base/version.h"
#include "checks/check.h"
#include "cli/command.h"
#include "cli/report_text.h"

namespace ohmleaf::cli {
namespace {

struct DraftOptions {
  Common common;
  std::string job;
  std::string output;
  std::vector<std::string> documents;
};

/// A draft carries the job's own date, never the clock: the same job gives the same bytes.
Instant instant_of(const record::Job& job) {
  return Instant::parse(job.date.value_or(Date{}).iso() + "T00:00:00Z").value_or(Instant{});
}

int refuse_draft(Environment& e, const DraftOptions& o, const Diagnostics& out,
                 const Sources& sources) {
  return o.common.json ? complain_json(e, out, sources) : complain(e, out, sources, o.common);
}

int render_draft(Environment& e, const DraftOptions& o, const char* suffix) {
  Sources sources;
  Diagnostics out;
  const auto w = app::load(o.job, places_of(o.common, e), sources, out);
  if (!w) return refuse_draft(e, o, out, sources);
  tell(e, o.common, "profile", w->installer_path);
  const checks::Report report = checks::check(w->job, w->installer);
  const auto names = o.documents.empty() ? app::document_names(w->job) : o.documents;
  const auto stationery = app::load_stationery(*w, names, sources, out);
  if (!stationery) return refuse_draft(e, o, out, sources);
  layout::IssueFacts facts;
  facts.draft = true;
  facts.program = "ohmleaf " + std::string(program_version());
  const auto pdf = app::render(*w, report, *stationery, facts, instant_of(w->job), sources, out);
  if (!pdf) return refuse_draft(e, o, out, sources);
  const std::string path = o.output.empty() ? w->job.job_id() + suffix : o.output;
  if (!write_file(path, *pdf, out, 0644)) return refuse_draft(e, o, out, sources);
  if (o.common.json) {
    Json documents = Json::array();
    for (const std::string& name : names) documents.push(name);
    Json j = Json::object();
    j.set("format", 1).set("written", path).set("documents", std::move(documents));
    j.set("verdict", checks::name(report.verdict)).set("issuable", report.issuable());
    return say(e, j.dump() + "\n");
  }
  complain(e, out, sources, o.common);
  const std::string verdict =
      wrapped(verdict_line(report, w->job), "verdict: ", "         ", text_width(e));
  return say(e, visible(path) + ": written\n" + (o.common.quiet ? "" : verdict));
}

void add_one(Command& app, Environment& e, int& exit_code, const char* name, const char* help,
             const char* suffix, std::vector<std::string> documents) {
  auto o = std::make_shared<DraftOptions>();
  Command* c = app.add_subcommand(name, help);
  c->add_option("job", o->job, "Job file, or the folder that holds job.toml")
      ->required()
      ->type_name("JOB");
  c->add_option("-o,--output", o->output,
                std::string("The PDF to write (default: the job's id") + suffix + ")")
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
  const std::string tail = suffix;
  c->callback([o, &e, &exit_code, tail] { exit_code = render_draft(e, *o, tail.c_str()); });
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
