#include <memory>

#include "base/text.h"
#include "cli/archive_common.h"
#include "cli/csv_report.h"
#include "cli/progress.h"

namespace ohmleaf::cli {
namespace {

struct FindOptions {
  Common common;
  std::vector<std::string> words;
  std::string address, client, reference, number, serial, kind, observation, from, to;
  bool observed = false;
  bool rebuild = false;
};

bool read_day(const char* option, const std::string& text, std::optional<Date>& day,
              Diagnostics& out) {
  if (text.empty()) return true;
  day = Date::parse(text);
  if (!day)
    out.error("find-date", {}, "\"" + visible(text) + "\" is no date",
              {std::string("Write ") + option + " as year-month-day: 2027-03-31."});
  return day.has_value();
}

std::optional<archive::Query> query_of(const FindOptions& o, Diagnostics& out) {
  archive::Query q;
  q.words = o.words;
  for (const auto& [name, part] : {std::pair{"premises", &o.address},
                                   {"client", &o.client},
                                   {"job", &o.reference},
                                   {"number", &o.number},
                                   {"serial", &o.serial},
                                   {"kind", &o.kind},
                                   {"observation", &o.observation}})
    if (!part->empty()) q.parts.emplace_back(name, *part);
  if (!read_day("--from", o.from, q.from, out) || !read_day("--to", o.to, q.to, out))
    return std::nullopt;
  return q;
}

/// An observation is open as long as the certificate that makes it is in force.
bool has_open_observation(const archive::Record& r) {
  return !r.withdrawn && !r.expired && !fact(r, "observation").empty();
}

/// One row a certificate, its facts as columns: what a fact's name has several of is joined.
std::string records_csv(const std::vector<archive::Record>& records) {
  Json list = Json::array();
  for (const archive::Record& r : records) {
    Json whole = record_json(r), row = Json::object();
    for (const auto& [name, value] : *whole.as_object())
      if (name != "facts") row.set(name, value);
    for (const auto& [name, value] : r.facts) {
      const std::string before = row.text(name);
      row.set(name, before.empty() ? value : before + "; " + value);
    }
    list.push(std::move(row));
  }
  return csv_of(list);
}

int answer(Environment& e, const FindOptions& o, const std::vector<archive::Record>& records) {
  if (o.common.csv) return say(e, records_csv(records));
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
               ? "The archive holds no such certificate.\n"
               : "No certificate holds all of these words. Try fewer, or part of one.\n";
  return report(e, o.common, text);
}

int run_find(Environment& e, const FindOptions& o) {
  Sources sources;
  Diagnostics out;
  const auto query = query_of(o, out);
  auto store = query ? open_archive(e, o.common, out) : std::nullopt;
  if (!store) return refuse(e, o.common, out, sources);
  if (o.rebuild) store->rebuild_index(progress_bar(e, "index"), out);
  auto asked = *query;
  asked.progress = progress_bar(e, "index");
  auto records = store->search(asked, out);
  if (!out.ok()) return refuse(e, o.common, out, sources);
  complain(e, out, sources, o.common);
  if (o.observed || !o.observation.empty())
    std::erase_if(records, [](const auto& r) { return !has_open_observation(r); });
  return answer(e, o, records);
}

}  // namespace

void add_find(Command& app, Environment& e, int& exit_code) {
  auto o = std::make_shared<FindOptions>();
  Command* c = app.add_subcommand("find", "Find issued certificates by any words of them");
  c->add_option("words", o->words,
                "Parts of an address, client, number, serial … (all must be there)")
      ->type_name("WORD");
  const auto part = [&](const char* option, std::string& text, const char* help) {
    c->add_option(option, text, help)->type_name("PART");
  };
  part("--address", o->address, "Part of the address");
  part("--client", o->client, "Part of the client's name");
  part("--ref", o->reference, "Part of the job's id, your own reference");
  part("--number", o->number, "Part of the certificate's number");
  part("--serial", o->serial, "Part of the serial number of an accessory or control");
  part("--kind", o->kind, "minor works, installation, condition report");
  part("--observation", o->observation, "Part of an open observation, or its code: C2");
  c->add_flag("--open", o->observed, "With an observation, and in force");
  c->add_option("--from", o->from, "First day of the job, year-month-day")->type_name("DATE");
  c->add_option("--to", o->to, "Last day of the job, year-month-day")->type_name("DATE");
  c->add_flag("--rebuild-index", o->rebuild, "First make the search index anew from the files");
  add_common(*c, o->common, kInstaller | kArchive | kJson | kCsv | kVolume);
  add_examples(*c,
               "  ohmleaf find brindle cross\n  ohmleaf find --serial 20418\n"
               "  ohmleaf find --client okonjo --from 2026-01-01 --to 2026-12-31");
  c->callback([o, &e, &exit_code] { exit_code = run_find(e, *o); });
}

}  // namespace ohmleaf::cli
