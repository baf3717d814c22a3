#include "cli/start_installer.h"

#include <algorithm>
#include <memory>

#include "app/new_installer.h"
#include "base/files.h"
#include "base/text.h"
#include "cli/archive_common.h"
#include "cli/interrupt.h"
#include "cli/questions.h"

// The installer's profile, begun once.

namespace ohmleaf::cli {
namespace {

namespace fs = std::filesystem;

constexpr const char* kClasses =
    "socket-outlet, fused connection unit, switch, dimmer, luminaire, fan, blind control, "
    "thermostat";

struct ProfileOptions {
  Common common;
  std::string to = ".";
  std::string firm, address, phone, email, registration, prefix;
  std::string name, key, role;
  std::string tester_make, tester_model, tester_serial, calibrated, calibration_due;
  std::string indicator_make, indicator_serial, unit_make, unit_serial;
  std::string accessories;
};

std::string date_or_nothing(const std::string& text) {
  return text.empty() || Date::parse(text) ? std::string()
                                           : "write year, month and day, as 2026-03-16";
}

/// Options and questions in one list, so that neither can lack what the other has.
std::vector<Wanted> wanted(ProfileOptions& o) {
  const auto optional = [](const char* flag, const char* words, std::string& into) {
    return Wanted{.flag = flag, .words = words, .into = &into};
  };
  std::vector<Wanted> out{
      {.flag = "--firm", .words = "Name of the firm", .into = &o.firm, .needed = true},
      optional("--address", "Address of the firm", o.address),
      optional("--phone", "Telephone", o.phone),
      optional("--email", "Email", o.email),
      optional("--registration", "Registration of the firm, in its own words", o.registration),
      {.flag = "--prefix",
       .words = "Certificate numbers begin with",
       .into = &o.prefix,
       .otherwise = "?"},
      {.flag = "--name",
       .words = "Your name, as printed and signed",
       .into = &o.name,
       .needed = true},
      {.flag = "--key",
       .words = "Short key for you, as jobs name you",
       .into = &o.key,
       .otherwise = "?"},
      {.flag = "--role",
       .words = "Position in the firm",
       .into = &o.role,
       .otherwise = "Electrician"},
      optional("--tester-make", "Multifunction tester, make", o.tester_make),
      optional("--tester-model", "Multifunction tester, model", o.tester_model),
      optional("--tester-serial", "Multifunction tester, serial number", o.tester_serial),
      optional("--calibrated", "Its last calibration, as 2026-03-16", o.calibrated),
      optional("--calibration-due", "Its next calibration, as 2027-03-16", o.calibration_due),
      optional("--indicator-make", "Voltage indicator, make", o.indicator_make),
      optional("--indicator-serial", "Voltage indicator, serial number", o.indicator_serial),
      optional("--proving-unit-make", "Proving unit, make", o.unit_make),
      optional("--proving-unit-serial", "Proving unit, serial number", o.unit_serial),
      {.flag = "--accessories",
       .words = "Classes of accessories you fit, with commas",
       .into = &o.accessories,
       .otherwise = kClasses},
  };
  for (Wanted& w : out)
    if (w.flag == "--calibrated" || w.flag == "--calibration-due") w.wrong = date_or_nothing;
  return out;
}

app::NewInstaller profile_of(const ProfileOptions& o) {
  app::NewInstaller p{o.firm, o.address, o.phone, o.email, o.registration, o.prefix, o.key,
                      o.name, o.role,    {},      {}};
  p.instruments = {{"mft-1", "multifunction tester", o.tester_make, o.tester_model, o.tester_serial,
                    o.calibrated, o.calibration_due},
                   {"vi-1", "voltage indicator", o.indicator_make, "", o.indicator_serial, "", ""},
                   {"pu-1", "proving unit", o.unit_make, "", o.unit_serial, "", ""}};
  for (const std::string_view one : split(o.accessories, ','))
    if (!trim(one).empty()) p.classes.emplace_back(trim(one));
  return p;
}

int run_profile(Environment& e, ProfileOptions& o) {
  const Interrupt watched;
  const fs::path file = fs::path(o.to) / "installer.toml";
  const Sources none;
  Diagnostics out;
  std::error_code ec;
  if (fs::exists(fs::symlink_status(file, ec))) {
    out.error("already-there", {}, file.string() + " is there already, and is left as it is",
              {"Change it with an editor, or choose another folder with --to."});
    return complain(e, out, none, o.common);
  }
  Questions ask(e, o.common);
  const std::string example =
      "ohmleaf start installer --firm \"Example Electrical\" --name \"A. Person\"; --help names "
      "all of them";
  for (Wanted& w : wanted(o)) {
    if (w.flag == "--prefix") w.otherwise = app::initials(o.firm);
    if (w.flag == "--key") w.otherwise = ascii_lower(app::initials(o.name));
    if (!ask.take(w)) return std::max<int>(ask.settle(example), kInput);
  }
  if (const int code = ask.settle(example); code != kFine) return code;
  const auto text = app::new_installer_text(profile_of(o), out);
  if (!text) return complain(e, out, none, o.common);
  fs::create_directories(o.to, ec);
  if (!write_new_file(file, *text, out, 0644)) return complain(e, out, none, o.common);
  return say(e, visible(file.string()) + ": written\n" +
                    wrapped("Put your jobs in folders beside it: ohmleaf start FOLDER. What is "
                            "still open in it, calibration dates above all, waits behind a #.",
                            "  ", "  ", text_width(e)));
}

}  // namespace

void add_start_installer(Command& start, Environment& e, int& exit_code, bool& chosen) {
  auto o = std::make_shared<ProfileOptions>();
  Command* c = start.add_subcommand("installer",
                                    "Begin the profile: firm, people, instruments, accessories");
  c->add_option("--to", o->to, "Folder for installer.toml (default: here)")->type_name("FOLDER");
  for (const Wanted& w : wanted(*o)) c->add_option(w.flag, *w.into, w.words)->type_name("TEXT");
  add_common(*c, o->common, 0);
  add_examples(*c,
               "  ohmleaf start installer\n"
               "  ohmleaf start installer --firm \"Hobday Lane Electrical\" --name \"Rosalind "
               "Hobday\" --tester-serial LM6-20418 --calibration-due 2027-03-16");
  c->callback([o, &e, &exit_code, &chosen] {
    chosen = true;
    exit_code = run_profile(e, *o);
  });
}

}  // namespace ohmleaf::cli
