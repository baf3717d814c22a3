#include <fmt/format.h>

#include <memory>

#include "base/text.h"
#include "cli/archive_common.h"

namespace ohmleaf::cli {
namespace {

struct ShowOptions {
  Common common;
  std::string given;
};

/// What became of a version: its successor says so.
std::string fate(const std::vector<archive::Record>& history, std::size_t i) {
  if (history[i].expired) return "removed on purpose";
  if (history[i].withdrawn) return "withdrawn";
  if (i + 1 == history.size()) return "in force";
  if (history[i + 1].timestamped) return fate(history, i + 1);
  const archive::Record& next = history[i + 1];
  if (next.withdrawn) return "withdrawn on " + next.issued.date().words();
  return "replaced by revision " + std::to_string(next.revision) + " on " +
         next.issued.date().words();
}

std::string version_text(const std::vector<archive::Record>& history, std::size_t i, int width) {
  const archive::Record& r = history[i];
  const auto line = [&](const char* what, const std::string& text) {
    return wrapped(visible(text), "    " + padded(what, 10), std::string(14, ' '), width);
  };
  const std::string what = r.expired     ? "removal"
                           : r.withdrawn ? "withdrawal"
                           : r.timestamped ? "time-stamp"
                                         : "revision " + std::to_string(r.revision);
  std::string text = fmt::format("  v{}  {}: {}\n", i + 1, what, fate(history, i));
  text += line("when", r.issued.iso());
  text += line("who", r.person);
  if (!r.reason.empty()) text += line(r.timestamped ? "stamp" : "why", r.reason);
  if (const std::string signer = fact(r, "signed by"); !signer.empty())
    text += line("signed", "electronically, with the certificate of " + signer);
  if (!r.replaces.empty() && !r.withdrawn && !r.timestamped) text += line("replaces", r.replaces);
  text += line("folder", r.folder.string());
  for (const auto& [name, size] : r.files)
    text += line("file", fmt::format("{} ({} bytes)", name, size));
  return text;
}

std::string show_text(const std::vector<archive::Record>& history, int width) {
  const archive::Record& last = history.back();
  std::string text = record_text(last, width);
  if (const std::string next = fact(last, "next inspection"); !next.empty())
    text += "    " + padded("next", 10) + "inspection by " + visible(next) + "\n";
  for (std::size_t i = 0; i < history.size(); ++i) text += version_text(history, i, width);
  return text;
}

Json show_json(const std::vector<archive::Record>& history) {
  Json versions = Json::array();
  for (std::size_t i = 0; i < history.size(); ++i) {
    Json v = record_json(history[i]);
    v.set("version", static_cast<std::int64_t>(i + 1)).set("state", fate(history, i));
    Json files = Json::array();
    for (const auto& [name, size] : history[i].files) {
      Json f = Json::object();
      f.set("name", name).set("bytes", static_cast<std::int64_t>(size));
      files.push(std::move(f));
    }
    v.set("files", std::move(files));
    versions.push(std::move(v));
  }
  Json j = Json::object();
  j.set("format", 1).set("number", history.back().number);
  j.set("withdrawn", history.back().withdrawn).set("versions", std::move(versions));
  return j;
}

int run_show(Environment& e, const ShowOptions& o) {
  Sources sources;
  Diagnostics out;
  const auto store = open_archive(e, o.common, out);
  const auto number = store ? number_of(*store, o.given, e, o.common, out) : std::nullopt;
  if (!number) return refuse(e, o.common, out, sources);
  const auto history = store->history(*number, out);
  if (history.empty() || !out.ok()) return refuse(e, o.common, out, sources);
  complain(e, out, sources, o.common);
  if (o.common.json) return say(e, show_json(history).dump() + "\n");
  return report(e, o.common, show_text(history, text_width(e)));
}

}  // namespace

void add_show(Command& app, Environment& e, int& exit_code) {
  auto o = std::make_shared<ShowOptions>();
  Command* c = app.add_subcommand("show", "Show one certificate: each version, who, when and why");
  c->add_option("certificate", o->given, "Its number, the job's id, or the job's folder")
      ->required()
      ->type_name("JOB|NUMBER");
  add_common(*c, o->common, kInstaller | kArchive | kJson | kVolume);
  add_examples(*c, "  ohmleaf show HL-0001\n  ohmleaf show sewing-workshop --json");
  c->callback([o, &e, &exit_code] { exit_code = run_show(e, *o); });
}

}  // namespace ohmleaf::cli
