#include <memory>

#include "cli/archive_common.h"

namespace ohmleaf::cli {
namespace {

struct FindOptions {
  Common common;
  std::vector<std::string> words;
};

int run_find(Environment& e, const FindOptions& o) {
  Sources sources;
  Diagnostics out;
  auto store = open_archive(e, o.common, out);
  if (!store) return refuse(e, o.common, out, sources);
  const auto records = store->find(o.words, out);
  const int code = complain(e, out, sources, o.common);
  if (code != kFine) return code;
  if (o.common.json) {
    Json list = Json::array();
    for (const auto& r : records) list.push(record_json(r));
    Json j = Json::object();
    j.set("format", 1).set("certificates", std::move(list));
    return say(e, j.dump() + "\n");
  }
  std::string text;
  for (const auto& r : records) text += record_text(r, text_width(e));
  if (records.empty())
    text = o.words.empty()
               ? "The archive holds no certificate yet.\n"
               : "No certificate holds all of these words. Try fewer, or part of one.\n";
  return say(e, text);
}

}  // namespace

void add_find(CLI::App& app, Environment& e, int& exit_code) {
  auto o = std::make_shared<FindOptions>();
  CLI::App* find = app.add_subcommand("find", "Find issued certificates by any words of them");
  find->add_option("words", o->words,
                   "Parts of an address, client, number, serial … (all must be there)")
      ->type_name("WORD");
  add_common(*find, o->common, kInstaller | kArchive | kJson);
  find->callback([o, &e, &exit_code] { exit_code = run_find(e, *o); });
}

}  // namespace ohmleaf::cli
