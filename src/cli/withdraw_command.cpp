#include <memory>

#include "app/person.h"
#include "base/text.h"
#include "base/version.h"
#include "cli/archive_common.h"

namespace ohmleaf::cli {
namespace {

struct WithdrawOptions {
  Common common;
  std::string given, reason, by;
};

int report(Environment& e, const WithdrawOptions& o, const archive::IssueResult& r) {
  const bool fresh = r.state == archive::IssueState::issued;
  if (o.common.json) {
    Json j = Json::object();
    j.set("format", 1).set("withdrawn", fresh).set("number", r.number).set("revision", r.revision);
    j.set("moment", r.issued.iso()).set("folder", r.folder.string());
    return say(e, j.dump() + "\n");
  }
  std::string text = (fresh ? "Withdrawn " : "Already withdrawn: ") + r.number + "\n";
  for (const std::string& note : r.notes)
    text += wrapped(visible(note), "  note      ", "            ", text_width(e));
  if (fresh)
    text += "  next      tell the client; find and show say that it is withdrawn, its files stay\n";
  return report(e, o.common, text);
}

int run_withdraw(Environment& e, const WithdrawOptions& o) {
  Sources sources;
  Diagnostics out;
  const auto person = app::person_in_charge(places_of(o.common, e), o.by, sources, out);
  auto store = person ? open_archive(e, o.common, out) : std::nullopt;
  const auto number = store ? number_of(*store, o.given, e, o.common, out) : std::nullopt;
  if (!number) return refuse(e, o.common, out, sources);
  const archive::WithdrawRequest request{"ohmleaf " + std::string(program_version()), *person,
                                         o.reason, e.now()};
  const auto result = store->withdraw(request, *number, out);
  if (!out.ok()) return refuse(e, o.common, out, sources);
  complain(e, out, sources, o.common);
  if (result.state == archive::IssueState::refused) return kSystem;
  return report(e, o, result);
}

}  // namespace

void add_withdraw(Command& app, Environment& e, int& exit_code) {
  auto o = std::make_shared<WithdrawOptions>();
  Command* c = app.add_subcommand("withdraw", "Take a certificate out of force; its files stay");
  c->add_option("certificate", o->given, "Its number, the job's id, or the job's folder")
      ->required()
      ->type_name("JOB|NUMBER");
  c->add_option("--reason", o->reason, "Why; kept for ever")->required()->type_name("TEXT");
  c->add_option("--by", o->by, "Who withdraws it: a key of [person] (default: the only one)")
      ->type_name("KEY");
  add_common(*c, o->common, kInstaller | kArchive | kJson | kVolume);
  add_examples(*c, "  ohmleaf withdraw HL-0001 --reason \"issued for the wrong flat\" --by rh");
  c->callback([o, &e, &exit_code] { exit_code = run_withdraw(e, *o); });
}

}  // namespace ohmleaf::cli
