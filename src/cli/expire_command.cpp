#include <memory>

#include "app/due.h"
#include "app/person.h"
#include "base/text.h"
#include "base/version.h"
#include "cli/archive_common.h"

namespace ohmleaf::cli {
namespace {

struct ExpireOptions {
  Common common;
  std::string given, reason, by;
  bool early = false;
};

/// What is not old enough goes only where that is said in so many words.
bool old_enough(const archive::Archive& store, const std::string& number,
                const record::Installer& installer, bool early, Date today, Diagnostics& out) {
  const auto history = store.history(number, out);
  if (history.empty() || !out.ok()) return false;
  const archive::Record& last = history.back();
  const Date until = app::kept_until(last, installer);
  if (last.expired || early || until <= today) return true;
  const auto& why = installer.numbering.retention_reason;
  out.error("too-early", {},
            number + " is to be kept until " + until.words() + (why ? ": " + visible(*why) : ""),
            {"Say --early if it shall go before that; it cannot be brought back.",
             "How long certificates are kept is retention_years in installer.toml."});
  return false;
}

int report(Environment& e, const ExpireOptions& o, const archive::IssueResult& r) {
  const bool fresh = r.state == archive::IssueState::issued;
  if (o.common.json) {
    Json j = Json::object();
    j.set("format", 1).set("removed", fresh).set("number", r.number).set("moment", r.issued.iso());
    return say(e, j.dump() + "\n");
  }
  std::string text = (fresh ? "Removed " : "Already removed: ") + r.number + "\n";
  for (const std::string& note : r.notes)
    text += wrapped(visible(note), "  note      ", "            ", text_width(e));
  if (fresh)
    text += wrapped(
        "number, dates and reason are all that is left here; copies of the archive, "
        "and what a disk keeps of deleted files, are yours to clear",
        "  next      ", "            ", text_width(e));
  return report(e, o.common, text);
}

int run_expire(Environment& e, const ExpireOptions& o) {
  Sources sources;
  Diagnostics out;
  const app::Places places = places_of(o.common, e);
  const auto person = app::person_in_charge(places, o.by, sources, out);
  const auto installer = person ? app::load_installer(places, sources, out) : std::nullopt;
  auto store = installer ? open_archive(e, o.common, out) : std::nullopt;
  const auto number = store ? number_of(*store, o.given, e, o.common, out) : std::nullopt;
  if (!number || !old_enough(*store, *number, *installer, o.early, e.now().date(), out))
    return refuse(e, o.common, out, sources);
  const archive::WithdrawRequest request{"ohmleaf " + std::string(program_version()), *person,
                                         o.reason, e.now()};
  const auto result = store->expire(request, *number, out);
  if (!out.ok()) return refuse(e, o.common, out, sources);
  complain(e, out, sources, o.common);
  if (result.state == archive::IssueState::refused) return kSystem;
  return report(e, o, result);
}

}  // namespace

void add_expire(Command& app, Environment& e, int& exit_code) {
  auto o = std::make_shared<ExpireOptions>();
  Command* c = app.add_subcommand(
      "expire", "Remove a certificate for good: number, dates and reason stay, all else goes");
  c->add_option("certificate", o->given, "Its number, the job's id, or the job's folder")
      ->required()
      ->type_name("JOB|NUMBER");
  c->add_option("--reason", o->reason, "Why; kept for ever, so name nobody in it")
      ->required()
      ->type_name("TEXT");
  c->add_option("--by", o->by, "Who removes it: a key of [person] (default: the only one)")
      ->type_name("KEY");
  c->add_flag("--early", o->early, "Although the time to keep it has not ended");
  add_common(*c, o->common, kInstaller | kArchive | kJson | kVolume);
  add_examples(*c, "  ohmleaf expire HL-0001 --reason \"kept for 15 years\" --by rh");
  c->callback([o, &e, &exit_code] { exit_code = run_expire(e, *o); });
}

}  // namespace ohmleaf::cli
