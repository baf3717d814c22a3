#include <memory>

#include "app/person.h"
#include "base/files.h"
#include "base/text.h"
#include "base/version.h"
#include "cli/archive_common.h"
#include "cli/signature_text.h"
#include "seal/stamp.h"

namespace ohmleaf::cli {
namespace {

constexpr std::size_t kMaxToken = std::size_t{1} << 20;

struct TimestampOptions {
  Common common;
  std::string given, token, request, roots, by;
};

std::string line(const char* what, const std::string& said, Environment& e) {
  return wrapped(visible(said), "  " + padded(what, 10), std::string(12, ' '), text_width(e));
}

int write_request(Environment& e, const TimestampOptions& o, const std::string& number,
                  const std::string& pdf, const Sources& sources, Diagnostics& out) {
  const std::string request = seal::stamp_request(pdf);
  if (request.empty()) out.system_error("stamp-request", "the request could not be made");
  if (request.empty() || !write_file(o.request, request, out, 0644))
    return refuse(e, o.common, out, sources);
  complain(e, out, sources, o.common);
  if (o.common.json) {
    Json j = Json::object();
    j.set("format", 1).set("number", number).set("request", o.request);
    return say(e, j.dump() + "\n");
  }
  return report(e, o.common, "Request for a time-stamp of " + number + "\n" +
                    line("written", o.request + ": a digest of the certificate, nothing else", e) +
                    line("next",
                         "ohmleaf uses no network. Send the file to a time-stamping service that "
                         "you trust, as application/timestamp-query by HTTP POST (RFC 3161), and "
                         "save its answer as token.tsr. Then: ohmleaf timestamp " +
                             number + " token.tsr",
                         e));
}

bool is_good(const seal::StampCheck& check, const std::string& file, bool asked, Diagnostics& out) {
  if (check.state != seal::StampState::holds) {
    out.error("bad-stamp", {}, visible(file) + ": " + visible(check.why),
              {"Nothing was filed. Ask for a time-stamp of the certificate as it is filed: "
               "--request FILE.tsq."});
    return false;
  }
  if (!asked || check.trust.state == seal::TrustState::trusted) return true;
  out.error(
      "stamp-not-trusted", {}, visible(file) + ": " + visible(check.trust.why),
      {"Nothing was filed. Ask another service, or give its root as well: --roots FILE.pem."});
  return false;
}

int report(Environment& e, const TimestampOptions& o, const archive::IssueResult& r,
           const seal::StampCheck& check) {
  const bool fresh = r.state == archive::IssueState::issued;
  if (o.common.json) {
    Json j = Json::object();
    j.set("format", 1).set("filed", fresh).set("number", r.number);
    j.set("folder", r.folder.string()).set("time_stamp", stamp_json(check));
    return say(e, j.dump() + "\n");
  }
  std::string text =
      (fresh ? "Filed a time-stamp beside " : "Filed already beside ") + r.number + "\n";
  text += line("filed in", r.folder.string(), e);
  for (const std::string& note : r.notes) text += line("note", note, e);
  text += line("moment", moment_words(check.time), e) + line("service", check.service->who(), e);
  text += line("proves",
               "that the certificate was there at that moment, byte for byte as it is now; it says "
               "nothing of who made it, and is worth as much as the service's word",
               e);
  if (o.roots.empty())
    text += line("note",
                 "whether the service is one that you trust was not asked: --roots FILE.pem", e);
  return report(e, o.common, text);
}

int run_timestamp(Environment& e, const TimestampOptions& o) {
  Sources sources;
  Diagnostics out;
  if (o.token.empty() == o.request.empty()) {
    out.error("timestamp-what", {}, "a time-stamp is asked for by --request, or filed from a token",
              {"ohmleaf timestamp HL-0001 --request FILE.tsq, then ohmleaf timestamp HL-0001 "
               "token.tsr."});
    return refuse(e, o.common, out, sources);
  }
  auto store = open_archive(e, o.common, out);
  const auto number = store ? number_of(*store, o.given, e, o.common, out) : std::nullopt;
  const auto pdf = number ? store->read(*number, 0, "certificate.pdf", out) : std::nullopt;
  if (!pdf) return refuse(e, o.common, out, sources);
  if (!o.request.empty()) return write_request(e, o, *number, *pdf, sources, out);
  const auto token = read_file(o.token, kMaxToken, out);
  const auto roots = read_roots(o.roots, out);
  if (!token || !out.ok()) return refuse(e, o.common, out, sources);
  const auto check = seal::check_stamp(*token, *pdf, roots ? &*roots : nullptr);
  const auto person = is_good(check, o.token, roots.has_value(), out)
                          ? app::person_in_charge(places_of(o.common, e), o.by, sources, out)
                          : std::nullopt;
  if (!person) return refuse(e, o.common, out, sources);
  const auto result = store->timestamp(
      {"ohmleaf " + std::string(program_version()), *person,
       "of " + check.time.iso() + " by " + check.service->who(), *pdf, *token, e.now()},
      *number, out);
  if (!out.ok()) return refuse(e, o.common, out, sources);
  complain(e, out, sources, o.common);
  if (result.state == archive::IssueState::refused) return kSystem;
  return report(e, o, result, check);
}

}  // namespace

void add_timestamp(Command& app, Environment& e, int& exit_code) {
  auto o = std::make_shared<TimestampOptions>();
  Command* c = app.add_subcommand(
      "timestamp", "Ask for a time-stamp of a certificate, or file the one that you got");
  c->add_option("certificate", o->given, "Its number, the job's id, or the job's folder")
      ->required()
      ->type_name("JOB|NUMBER");
  c->add_option("token", o->token, "The service's answer, to be checked and filed")
      ->type_name("TOKEN.tsr");
  c->add_option("--request", o->request, "Write the request for a time-stamping service here")
      ->type_name("FILE.tsq");
  c->add_option("--roots", o->roots,
                "Certificates that you trust (PEM): the service must have one of them above it")
      ->type_name("FILE.pem");
  c->add_option("--by", o->by, "Who files it: a key of [person] (default: the only one)")
      ->type_name("KEY");
  add_common(*c, o->common, kInstaller | kArchive | kJson | kVolume);
  add_examples(*c,
               "  ohmleaf timestamp HL-0001 --request hl-0001.tsq\n"
               "  ohmleaf timestamp HL-0001 token.tsr");
  c->callback([o, &e, &exit_code] { exit_code = run_timestamp(e, *o); });
}

}  // namespace ohmleaf::cli
