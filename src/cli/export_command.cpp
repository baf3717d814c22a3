#include <memory>

#include "app/readings.h"
#include "base/files.h"
#include "base/text.h"
#include "base/version.h"
#include "cli/archive_common.h"
#include "cli/progress.h"

namespace ohmleaf::cli {
namespace {

struct ExportOptions {
  Common common;
  std::vector<std::string> given, words;
  std::string to, readings;
  bool all = false;
};

std::optional<std::vector<archive::Record>> chosen(const archive::Archive& store,
                                                   const ExportOptions& o, Environment& e,
                                                   Diagnostics& out) {
  const bool one_way = (!o.given.empty()) + (!o.words.empty()) + o.all <= 1;
  const bool any = !o.given.empty() || !o.words.empty() || o.all || o.to.empty();
  if (!one_way || !any || (o.to.empty() && o.readings.empty())) {
    out.error("export-what", {}, "it is not clear what to export, or where to",
              {"Name certificates, or --find WORD …, or --all; and --to FOLDER, --to FILE.zip or "
               "--readings FILE.csv."});
    return std::nullopt;
  }
  if (o.given.empty()) return store.find(o.words, out);
  std::vector<archive::Record> records;
  for (const std::string& given : o.given) {
    const auto number = number_of(store, given, e, o.common, out);
    if (!number) return std::nullopt;
    auto history = store.history(*number, out);
    if (history.empty()) return std::nullopt;
    records.push_back(std::move(history.back()));
  }
  return records;
}

int report(Environment& e, const ExportOptions& o, const std::vector<archive::Record>& records) {
  if (o.common.json) {
    Json numbers = Json::array();
    for (const auto& r : records) numbers.push(r.number);
    Json j = Json::object();
    j.set("format", 1).set("to", o.to).set("readings", o.readings);
    j.set("certificates", std::move(numbers));
    return say(e, j.dump() + "\n");
  }
  std::string text = "Exported " + std::to_string(records.size()) +
                     (records.size() == 1 ? " certificate\n" : " certificates\n");
  if (!o.to.empty())
    text += "  package   " + visible(o.to) +
            "\n  check     in its folder: sha512sum -c manifest-sha512.txt\n";
  if (!o.readings.empty()) text += "  readings  " + visible(o.readings) + "\n";
  return ohmleaf::cli::report(e, o.common, text);
}

bool write_all(const archive::Archive& store, const ExportOptions& o,
               const std::vector<archive::Record>& records, Environment& e, Diagnostics& out) {
  if (!o.to.empty()) {
    archive::ExportRequest request;
    for (const auto& r : records) request.numbers.push_back(r.number);
    request.to = o.to;
    request.program = "ohmleaf " + std::string(program_version());
    request.now = e.now();
    request.progress = progress_bar(e, "export");
    if (!store.export_bag(request, out)) return false;
  }
  if (o.readings.empty()) return true;
  const auto csv = app::readings_csv(store, records, out);
  return csv && write_file(o.readings, *csv, out);
}

int run_export(Environment& e, const ExportOptions& o) {
  Sources sources;
  Diagnostics out;
  const auto store = open_archive(e, o.common, out);
  const auto records = store ? chosen(*store, o, e, out) : std::nullopt;
  if (!records || !out.ok() || !write_all(*store, o, *records, e, out))
    return refuse(e, o.common, out, sources);
  complain(e, out, sources, o.common);
  return report(e, o, *records);
}

struct ImportOptions {
  Common common;
  std::string from;
};

int run_import(Environment& e, const ImportOptions& o) {
  Sources sources;
  Diagnostics out;
  auto store = open_archive(e, o.common, out);
  const auto result =
      store ? store->import_bag(o.from, progress_bar(e, "import"), out) : std::nullopt;
  if (!result) return refuse(e, o.common, out, sources);
  complain(e, out, sources, o.common);
  if (o.common.json) {
    Json j = Json::object();
    j.set("format", 1).set("added", result->added).set("renewed", result->renewed);
    j.set("already", result->already);
    return say(e, j.dump() + "\n");
  }
  std::string text = "Imported " + std::to_string(result->added) + ", renewed " +
                     std::to_string(result->renewed) + ", already here " +
                     std::to_string(result->already) + "\n";
  for (const std::string& note : result->notes)
    text += wrapped(visible(note), "  note      ", "            ", text_width(e));
  return ohmleaf::cli::report(e, o.common, text);
}

}  // namespace

void add_export(Command& app, Environment& e, int& exit_code) {
  auto o = std::make_shared<ExportOptions>();
  Command* c = app.add_subcommand(
      "export", "Pack certificates to hand over or to move (a BagIt bag), or list their readings");
  c->add_option("certificates", o->given, "Numbers, ids of jobs, or their folders")
      ->type_name("JOB|NUMBER");
  c->add_option("--find", o->words, "All that hold these words, as find shows them")
      ->type_name("WORD");
  c->add_flag("--all", o->all, "The whole archive");
  c->add_option("--to", o->to, "A folder, or a file ending in .zip, that is not there yet")
      ->type_name("FOLDER|FILE.zip");
  c->add_option("--readings", o->readings, "Every reading as CSV, one a row")
      ->type_name("FILE.csv");
  add_common(*c, o->common, kInstaller | kArchive | kJson | kVolume);
  add_examples(*c,
               "  ohmleaf export HL-0001 --to for-the-client.zip\n"
               "  ohmleaf export --find brindle cross --to bag\n"
               "  ohmleaf export --all --to whole-archive.zip\n"
               "  ohmleaf export --readings readings.csv");
  c->callback([o, &e, &exit_code] { exit_code = run_export(e, *o); });

  auto i = std::make_shared<ImportOptions>();
  Command* m = app.add_subcommand(
      "import", "Take in what export packed, on this or another machine; conflicts are refused");
  m->add_option("package", i->from, "The folder or zip file")
      ->required()
      ->type_name("BAG|FILE.zip");
  add_common(*m, i->common, kInstaller | kArchive | kJson | kVolume);
  add_examples(*m, "  ohmleaf import whole-archive.zip");
  m->callback([i, &e, &exit_code] { exit_code = run_import(e, *i); });
}

}  // namespace ohmleaf::cli
