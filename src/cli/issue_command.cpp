#include <memory>

#include "app/issue.h"
#include "base/files.h"
#include "base/json.h"
#include "base/text.h"
#include "checks/check.h"
#include "cli/archive_common.h"
#include "cli/command.h"
#include "cli/password.h"
#include "cli/report_json.h"
#include "cli/report_text.h"

namespace ohmleaf::cli {
namespace {

struct IssueOptions {
  Common common;
  std::string job;
  std::string copy;
  std::string number;   ///< revise only
  std::string reason;   ///< revise only
  SigningOptions signing;
};

Json result_json(const app::IssueOutcome& o, bool fresh) {
  Json j = Json::object();
  j.set("format", 1).set("issued", fresh).set("number", o.result.number);
  j.set("revision", o.result.revision).set("moment", o.result.issued.iso());
  j.set("signed_by", o.signed_by);
  j.set("certificate", (o.result.folder / "certificate.pdf").string());
  return j;
}

/// Printed once the certificate is filed. A copy that fails does not undo the issue.
int report_issued(Environment& e, const IssueOptions& o, const app::IssueOutcome& outcome,
                  Sources& sources, Diagnostics& out) {
  const auto& r = outcome.result;
  std::string text = "Issued " + r.number;
  if (r.revision > 1) text += " revision " + std::to_string(r.revision);
  text += "\n  filed as  " + visible((r.folder / "certificate.pdf").string()) + "\n";
  if (!outcome.signed_by.empty())
    text += wrapped("electronically, with the certificate of " + visible(outcome.signed_by),
                    "  signed    ", "            ", text_width(e));
  int code = kFine;
  if (!o.copy.empty()) {
    if (write_file(o.copy, outcome.certificate, out, 0644))
      text += "  copy      " + visible(o.copy) + "\n";
    else
      code = complain(e, out, sources, o.common);
  }
  for (const std::string& note : r.notes) text += wrapped(visible(note), "  note      ", "            ", text_width(e));
  text += std::string("  next      ") + (outcome.signed_by.empty() ? "sign it, and " : "") +
          "hand the client a copy; `ohmleaf verify` proves the archive unchanged\n";
  if (o.common.json) return say(e, result_json(outcome, true).dump() + "\n", code);
  return report(e, o.common, text, code);
}

int report_blocked(Environment& e, const IssueOptions& o, const app::Workspace& w,
                   const app::IssueOutcome& outcome, const Sources& sources) {
  if (o.common.json) return say(e, report_json(w, outcome.report, sources).dump() + "\n", kFindings);
  e.err(report_text(w, outcome.report, sources, style_for(o.common, e, true), text_width(e), {}));
  e.err("ohmleaf: nothing was issued; mend what blocks, or confirm a doubt with a reason and a name\n");
  return kFindings;
}

int report_changed(Environment& e, const app::IssueOutcome& outcome, const IssueOptions& o) {
  const std::string& n = outcome.result.number;
  e.err("ohmleaf: error: this job was issued as " + n + ", and job.toml has changed since\n" +
        wrapped("To correct the certificate: ohmleaf revise " + n + " " + visible(o.job) +
                    " --reason \"what was wrong\". If this is another job, give it an id of its own "
                    "(id = \"…\" in job.toml).",
                "  → ", "    ", text_width(e)));
  return kFindings;
}

/// A key of somebody else signs as well as one's own: it is said, and left to the signer.
void warn_of_other_name(const app::Workspace& w, const seal::Holder& holder, Diagnostics& out) {
  const std::string named = fold_for_search(holder.who());
  const auto* person = w.installer.person(w.job.person.value_or(""));
  std::vector<std::string> expected;
  if (person != nullptr && person->name) expected.push_back(*person->name);
  if (w.installer.firm.name) expected.push_back(*w.installer.firm.name);
  for (const std::string& name : expected)
    if (named.find(fold_for_search(name)) != std::string::npos) return;
  if (expected.empty()) return;
  out.warning("other-signer", {},
              "the signing certificate is that of " + visible(holder.who()) +
                  ", and the job is signed by " + visible(expected.front()),
              {"Where that is a mistake: ohmleaf revise signs anew, with the right key."});
}

/// The job was issued before. Where it was to be signed and is not, that is not what was asked for.
int report_already(Environment& e, const IssueOptions& o, const app::IssueOutcome& outcome) {
  const std::string& n = outcome.result.number;
  const bool lacks = !o.signing.key.empty() && outcome.signed_by.empty();
  std::string text = "Already issued as " + n + "\n  filed as  " +
                     visible((outcome.result.folder / "certificate.pdf").string()) + "\n";
  if (!outcome.signed_by.empty())
    text += wrapped("electronically, with the certificate of " + visible(outcome.signed_by),
                    "  signed    ", "            ", text_width(e));
  if (lacks)
    text += wrapped("it was issued without an electronic signature, and stays so. A signed revision "
                    "takes its place: ohmleaf revise " + n + " " + visible(o.job) + " --sign " +
                        visible(o.signing.key) + " --reason \"signed electronically\"",
                    "  note      ", "            ", text_width(e));
  return say(e, o.common.json ? result_json(outcome, false).dump() + "\n" : text,
             lacks ? kFindings : kFine);
}

int run_issue(Environment& e, const IssueOptions& o, bool revise) {
  Sources sources;
  Diagnostics out;
  const auto w = app::load(o.job, places_of(o.common, e), sources, out);
  if (!w) return o.common.json ? complain_json(e, out, sources) : complain(e, out, sources, o.common);
  tell(e, o.common, "profile", w->installer_path);
  tell(e, o.common, "archive", w->archive_root);
  std::optional<seal::Key> key;
  // Nobody is asked for a password while the job's own findings stand in the way.
  if (!o.signing.key.empty() && checks::check(w->job, w->installer).issuable()) {
    key = open_key(o.signing, e.now(), out);
    if (!key) return o.common.json ? complain_json(e, out, sources) : complain(e, out, sources, o.common);
    warn_of_other_name(*w, key->holder(), out);
  }
  const seal::Key* with = key ? &*key : nullptr;
  const auto outcome = revise ? app::revise(*w, o.number, o.reason, e.now(), sources, out, with)
                              : app::issue(*w, e.now(), sources, out, with);
  key.reset();
  if (!outcome) return o.common.json ? complain_json(e, out, sources) : complain(e, out, sources, o.common);
  if (outcome->blocked) return report_blocked(e, o, *w, *outcome, sources);
  complain(e, out, sources, o.common);
  switch (outcome->result.state) {
    case archive::IssueState::issued: return report_issued(e, o, *outcome, sources, out);
    case archive::IssueState::already_issued: return report_already(e, o, *outcome);
    case archive::IssueState::changed_since: return report_changed(e, *outcome, o);
    case archive::IssueState::refused: break;
  }
  return kSystem;
}

}  // namespace

void add_issue(Command& app, Environment& e, int& exit_code) {
  auto o = std::make_shared<IssueOptions>();
  Command* c = app.add_subcommand("issue", "Issue the certificate and file it in the archive");
  c->add_option("job", o->job, "Job file, or the folder that holds job.toml")->required()->type_name("JOB");
  c->add_option("--copy", o->copy, "Write a copy of the PDF here as well")->type_name("FILE");
  add_signing(*c, o->signing);
  add_common(*c, o->common, kInstaller | kArchive | kJson | kTheme | kLanguage | kVolume);
  add_examples(*c,
               "  ohmleaf issue sewing-workshop\n  ohmleaf issue sewing-workshop --copy certificate.pdf\n"
               "  ohmleaf issue sewing-workshop --sign my-key.p12");
  c->callback([o, &e, &exit_code] { exit_code = run_issue(e, *o, false); });

  auto r = std::make_shared<IssueOptions>();
  Command* v = app.add_subcommand("revise", "Correct an issued certificate by a new revision; the old one stays");
  v->add_option("number", r->number, "The certificate to replace")->required()->type_name("NUMBER");
  v->add_option("job", r->job, "The corrected job")->required()->type_name("JOB");
  v->add_option("--reason", r->reason, "Why it is replaced; kept for ever")->required()->type_name("TEXT");
  v->add_option("--copy", r->copy, "Write a copy of the PDF here as well")->type_name("FILE");
  add_signing(*v, r->signing);
  add_common(*v, r->common, kInstaller | kArchive | kJson | kTheme | kLanguage | kVolume);
  add_examples(*v, "  ohmleaf revise HL-0001 sewing-workshop --reason \"the client's name was misspelt\"");
  v->callback([r, &e, &exit_code] { exit_code = run_issue(e, *r, true); });
}

}  // namespace ohmleaf::cli
