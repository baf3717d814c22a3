#include <fmt/format.h>

#include <memory>

#include "app/take.h"
#include "base/files.h"
#include "base/json.h"
#include "base/text.h"
#include "checks/check.h"
#include "cli/archive_common.h"
#include "record/read.h"

namespace ohmleaf::cli {
namespace {

struct TakeOptions {
  Common common;
  std::string first, second, as;
  bool replace = false, show = false, headings = false;
};

std::string_view name(app::Taken::What what) {
  switch (what) {
    case app::Taken::What::fresh:
      return "new";
    case app::Taken::What::same:
      return "the same";
    case app::Taken::What::replaced:
      return "replaced";
    case app::Taken::What::differs:
      return "differs";
  }
  return "";
}

/// The job as it is with the readings in it, judged.
std::optional<checks::Report> judged(const app::Workspace& w, const app::TakeResult& taken,
                                     Sources& sources, Diagnostics& out) {
  const SourceId source = sources.add(w.job_path.string(), taken.job_bytes);
  const auto job = record::read_job(sources, source, w.job.folder_name, out);
  if (!job) return std::nullopt;
  return checks::check(*job, w.installer);
}

std::string place_of(const record::Circuit& c) {
  return (c.board ? *c.board + " " : std::string()) + c.ref.value_or("");
}

Json take_json(const app::Workspace& w, const app::TakeResult& taken, const checks::Report& report,
               bool written) {
  Json list = Json::array();
  for (const app::Taken& t : taken.readings) {
    const auto& c = w.job.circuits.at(static_cast<std::size_t>(t.circuit));
    const checks::Finding* f = report.at(t.circuit, t.key);
    Json one = Json::object();
    one.set("board", c.board.value_or("")).set("circuit", c.ref.value_or("")).set("key", t.key);
    one.set("reading", t.text).set("what", name(t.what)).set("before", t.before);
    one.set("limit", f ? f->limit : "").set("verdict", f ? Json(checks::name(f->verdict)) : Json());
    list.push(std::move(one));
  }
  Json j = Json::object();
  j.set("format", 1).set("job", w.job_path.string()).set("written", written);
  j.set("readings", std::move(list)).set("verdict", checks::name(report.verdict));
  return j.set("issuable", report.issuable());
}

std::string take_text(const app::Workspace& w, const app::TakeResult& taken,
                      const checks::Report& report, const Style& style, int width) {
  std::string text;
  int circuit = -1;
  for (const app::Taken& t : taken.readings) {
    const auto& c = w.job.circuits.at(static_cast<std::size_t>(t.circuit));
    if (t.circuit != circuit)
      text += style(Tone::strong, visible(place_of(c) + " · " + c.name.value_or(""))) + "\n";
    circuit = t.circuit;
    const checks::Finding* f = report.at(t.circuit, t.key);
    std::string line = padded(t.key, 28) + padded(t.text, 12);
    if (f != nullptr)
      line += std::string(checks::name(f->verdict)) + (f->limit.empty() ? "" : ", " + f->limit);
    line += "; " + std::string(name(t.what));
    if (t.what == app::Taken::What::replaced) line += ", before " + t.before;
    text += wrapped(visible(line), "  ", std::string(42, ' '), width);
  }
  return text;
}

int headings(Environment& e, const TakeOptions& o) {
  Sources sources;
  Diagnostics out;
  const auto text = app::suggest_mapping(o.second.empty() ? o.first : o.second, sources, out);
  if (!text) return refuse(e, o.common, out, sources);
  return say(e,
             "# For installer.toml. Name it as you like, and give each "
             "column that counts its key.\n" +
                 *text);
}

int run_take(Environment& e, const TakeOptions& o) {
  if (o.headings) return headings(e, o);
  Sources sources;
  Diagnostics out;
  if (o.second.empty())
    out.error("no-csv", {}, "no CSV file was named", {"ohmleaf take JOB FILE.csv"});
  const auto w = out.ok() ? app::load(o.first, places_of(o.common, e), sources, out) : std::nullopt;
  const auto taken = w ? app::take(*w, o.second, o.as, o.replace, sources, out) : std::nullopt;
  const auto report = taken ? judged(*w, *taken, sources, out) : std::nullopt;
  if (!report || !out.ok()) return refuse(e, o.common, out, sources);
  const bool changed = taken->job_bytes != w->job_bytes;
  if (changed && !o.show &&
      replace_file(w->job_path, w->job_bytes, taken->job_bytes, out) != Replaced::yes)
    return refuse(e, o.common, out, sources);
  if (o.common.json)
    return say(e, take_json(*w, *taken, *report, changed && !o.show).dump() + "\n");
  complain(e, out, sources, o.common);
  std::string text;
  if (!o.common.quiet)
    text = take_text(*w, *taken, *report, style_for(o.common, e, false), text_width(e));
  text += visible(w->job_path.string()) +
          (!changed ? ": nothing new"
           : o.show ? ": not written, as asked"
                    : ": written") +
          "\n";
  return say(e, text);
}

}  // namespace

void add_take(Command& app, Environment& e, int& exit_code) {
  auto o = std::make_shared<TakeOptions>();
  Command* c = app.add_subcommand("take", "Take readings from a CSV file into the job");
  c->add_option("job", o->first, "Job file, or the folder that holds job.toml")
      ->required()
      ->type_name("JOB");
  c->add_option("file", o->second, "The CSV file, read as [csv.NAME] in installer.toml says")
      ->type_name("FILE.csv");
  c->add_option("--as", o->as, "NAME of [csv.NAME], where there are several")->type_name("NAME");
  c->add_flag("--replace", o->replace, "Also where the job has another reading already");
  c->add_flag("--show", o->show, "Show what would be taken, and write nothing");
  c->add_flag("--headings", o->headings,
              "Write a [csv.NAME] for installer.toml from the headings of a file");
  add_common(*c, o->common, kInstaller | kJson | kVolume);
  add_examples(*c,
               "  ohmleaf take --headings bench.csv\n"
               "  ohmleaf take sewing-workshop bench.csv --show\n"
               "  ohmleaf take sewing-workshop bench.csv");
  c->callback([o, &e, &exit_code] { exit_code = run_take(e, *o); });
}

}  // namespace ohmleaf::cli
