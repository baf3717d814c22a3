#include <fmt/format.h>

#include <memory>

#include "archive/archive.h"
#include "base/json.h"
#include "base/text.h"
#include "cli/command.h"

namespace ohmleaf::cli {
namespace {

struct ArchiveOptions {
  Common common;
  std::vector<std::string> words;
  std::string number;
  std::vector<std::string> witness;  ///< number and chain head
};

std::string fact(const archive::Record& r, std::string_view key) {
  for (const auto& [k, v] : r.facts)
    if (k == key) return v;
  return {};
}

Json record_json(const archive::Record& r) {
  Json j = Json::object();
  j.set("number", r.number).set("revision", r.revision).set("withdrawn", r.withdrawn);
  j.set("job", r.job_id).set("issued", r.issued.iso()).set("folder", r.folder.string());
  Json facts = Json::array();
  for (const auto& [k, v] : r.facts) {
    Json one = Json::object();
    one.set("name", k).set("value", v);
    facts.push(std::move(one));
  }
  j.set("facts", std::move(facts));
  return j;
}

std::string record_text(const archive::Record& r, int width) {
  std::string head = r.number;
  if (r.revision > 1) head += " revision " + std::to_string(r.revision);
  if (r.withdrawn) head += " WITHDRAWN";
  std::string text = fmt::format("{}  {}  {}\n", visible(head), fact(r, "date"), fact(r, "kind"));
  for (const char* key : {"premises", "client", "work"})
    if (const std::string v = fact(r, key); !v.empty())
      text += wrapped(visible(v), "    " + padded(key, 10), std::string(14, ' '), width);
  return text + "    " + padded("file", 10) + visible((r.folder / "certificate.pdf").string()) + "\n";
}

std::optional<archive::Archive> open(Environment& e, const ArchiveOptions& o, Diagnostics& out) {
  const auto root = app::archive_root(places_of(o.common, e), out);
  if (!root) return std::nullopt;
  return archive::Archive::open(*root, out);
}

int run_find(Environment& e, const ArchiveOptions& o) {
  Sources sources;
  Diagnostics out;
  auto store = open(e, o, out);
  if (!store) return complain(e, out, sources, o.common);
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
    text = o.words.empty() ? "The archive holds no certificate yet.\n"
                           : "No certificate holds all of these words. Try fewer, or part of one.\n";
  return say(e, text);
}

Json problem_json(const archive::Problem& p) {
  Json j = Json::object();
  j.set("number", p.number).set("file", p.file.string()).set("what", p.what).set("remedy", p.remedy);
  return j;
}

Json verify_json(const archive::VerifyReport& r) {
  Json j = Json::object();
  j.set("format", 1).set("objects", r.objects).set("versions", r.versions).set("files", r.files);
  j.set("bytes", static_cast<std::int64_t>(r.bytes)).set("digests_hold", r.digests_hold);
  j.set("chain_holds", r.chain_holds);
  j.set("witness_holds", r.witness_holds ? Json(*r.witness_holds) : Json());
  j.set("head", r.head);
  Json problems = Json::array();
  for (const auto& p : r.problems) problems.push(problem_json(p));
  j.set("problems", std::move(problems));
  return j;
}

std::string verify_text(const archive::VerifyReport& r, int width) {
  std::string text;
  for (const auto& p : r.problems) {
    text += wrapped(visible(p.what), visible(p.file.string()) + ": ", "  ", width);
    text += wrapped(visible(p.remedy), "  → ", "    ", width);
  }
  text += fmt::format("{} certificate{}, {} version{}, {} files, {} KiB read\n", r.objects,
                      r.objects == 1 ? "" : "s", r.versions, r.versions == 1 ? "" : "s", r.files,
                      (r.bytes + 1023) / 1024);
  text += std::string("digests   ") + (r.digests_hold ? "every file is as it was filed" : "DO NOT HOLD") + "\n";
  text += std::string("chain     ") + (r.chain_holds ? "unbroken from the first certificate to the last" : "BROKEN") + "\n";
  if (r.witness_holds)
    text += std::string("witness   ") + (*r.witness_holds ? "agrees with the archive" : "DISAGREES") + "\n";
  else
    text += wrapped("none given: digests and chain show accident, not intent. A certificate in a "
                    "client's hands is a witness: give its number and chain head with --witness.",
                    "witness   ", "          ", width);
  if (!r.head.empty()) text += "head      " + r.head.substr(0, 32) + "\n";
  return text;
}

int run_verify(Environment& e, const ArchiveOptions& o) {
  Sources sources;
  Diagnostics out;
  auto store = open(e, o, out);
  if (!store) return complain(e, out, sources, o.common);
  std::optional<std::string> only;
  if (!o.number.empty()) only = o.number;
  std::optional<std::pair<std::string, std::string>> witness;
  if (o.witness.size() == 2) witness.emplace(o.witness[0], o.witness[1]);
  const auto report = store->verify(only, witness, out);
  if (const int code = complain(e, out, sources, o.common); code != kFine) return code;
  const bool holds = report.problems.empty() && report.digests_hold && report.chain_holds &&
                     report.witness_holds.value_or(true);
  const int code = holds ? kFine : kFindings;
  return say(e, o.common.json ? verify_json(report).dump() + "\n" : verify_text(report, text_width(e)), code);
}

}  // namespace

void add_archive(Command& app, Environment& e, int& exit_code) {
  auto f = std::make_shared<ArchiveOptions>();
  Command* find = app.add_subcommand("find", "Find issued certificates by any words of them");
  find->add_option("words", f->words, "Parts of an address, client, number, serial … (all must be there)")
      ->type_name("WORD");
  add_common(*find, f->common, kInstaller | kArchive | kJson);
  find->callback([f, &e, &exit_code] { exit_code = run_find(e, *f); });

  auto v = std::make_shared<ArchiveOptions>();
  Command* verify = app.add_subcommand("verify", "Prove that the archive is unchanged");
  verify->add_option("number", v->number, "Only this certificate (default: all)")->type_name("NUMBER");
  verify->add_option("--witness", v->witness,
                     "Number and chain head as printed on a certificate that a client still has")
      ->expected(2)
      ->type_name("NUMBER HEAD");
  add_common(*verify, v->common, kInstaller | kArchive | kJson);
  verify->callback([v, &e, &exit_code] { exit_code = run_verify(e, *v); });
}

}  // namespace ohmleaf::cli
