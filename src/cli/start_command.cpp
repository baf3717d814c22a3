#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "app/new_job.h"
#include "base/files.h"
#include "base/text.h"
#include "base/toml.h"
#include "checks/check.h"
#include "cli/archive_common.h"
#include "cli/command.h"
#include "cli/interrupt.h"
#include "cli/questions.h"
#include "cli/start_installer.h"
#include "cli/start_options.h"
#include "record/not_known.h"
#include "record/read.h"

// A job folder from a kind of work and the installer's profile.

namespace ohmleaf::cli {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kVisitsShown = 9;

std::vector<std::string> work_words() {
  std::vector<std::string> out;
  for (const app::Work& w : app::works()) out.push_back(std::string(w.key));
  return out;
}

/// "9-tallow-yard" is a fair first guess at the premises, and no more.
std::string from_folder(const fs::path& folder) {
  fs::path path = folder.lexically_normal();
  if (!path.has_filename()) path = path.parent_path();
  std::string out = path.filename().string();
  std::replace_if(
      out.begin(), out.end(), [](char c) { return c == '-' || c == '_'; }, ' ');
  return out == "." || out == ".." ? std::string() : out;
}

class Start {
 public:
  Start(Environment& e, const StartOptions& o) : e_(e), o_(o), ask_(e, o.common) {}

  int run() {
    Sources sources;
    Diagnostics out;
    std::error_code ec;
    file_ = fs::path(o_.folder) / "job.toml";
    if (fs::exists(fs::symlink_status(file_, ec)))
      out.error("already-there", {}, file_.string() + " is there already, and is left as it is",
                {"Choose another folder; ohmleaf note " + o_.folder + " goes on with this one."});
    if (!out.ok() || !load_profile(sources, out)) return complain(e_, out, sources, o_.common);
    if (!answers(out)) {
      complain(e_, out, sources, o_.common);
      const int code = ask_.settle(example());
      return code != kFine ? code : kInput;
    }
    if (const int code = ask_.settle(example()); code != kFine) return code;
    return write(sources, out);
  }

 private:
  std::string example() const {
    return "ohmleaf start FOLDER --work ring-outlet --premises \"9 Example Row\" --client \"A. "
           "Client\"; --help names all of them";
  }

  bool load_profile(Sources& sources, Diagnostics& out) {
    const auto path = app::installer_path_for(o_.folder, places_of(o_.common, e_), out);
    if (!path) return false;
    const auto bytes = read_file(*path, kTomlMaxBytes, out);
    if (!bytes) return false;
    auto profile = record::read_installer(sources, sources.add(path->string(), *bytes), out);
    if (!profile) return false;
    profile_ = std::move(*profile);
    profile_path_ = *path;
    archive_ = app::archive_beside(*path, places_of(o_.common, e_));
    return true;
  }

  /// Every answer in turn; false where it ended early (an error stands in `out`, or the
  /// questions know why).
  bool answers(Diagnostics& out) {
    return kind() && place(out) && people() && circuit() && fitted() && instruments();
  }

  bool kind() {
    std::string key = o_.work;
    Wanted w{.flag = "--work",
             .words = "Kind of work",
             .into = &key,
             .otherwise = "ring-outlet",
             .needed = true,
             .choices = work_words(),
             .only_choices = true};
    for (const app::Work& work : app::works()) w.notes.emplace_back(work.title);
    if (!ask_.take(w)) return false;
    job_.work = app::work_of(key.empty() ? w.otherwise : key);
    return job_.work != nullptr;
  }

  bool place(Diagnostics& out) {
    job_.premises = o_.premises;
    const auto all = o_.fresh ? std::vector<app::Visit>{} : app::visits(profile_path_, archive_);
    if (!o_.like.empty()) {
      last_ = app::visit_named(all, o_.like);
      if (!last_) {
        out.error(
            "unknown-visit", {},
            "there is no certificate or job folder \"" + visible(o_.like) + "\" below " +
                profile_path_.parent_path().string(),
            {"Give a certificate's number or a job's folder; ohmleaf find lists certificates."});
        return false;
      }
      if (job_.premises.empty()) job_.premises = last_->premises;
    }
    Wanted w{.flag = "--premises",
             .words = "Premises: a number, or a new address with postcode",
             .into = &job_.premises,
             .otherwise = from_folder(o_.folder),
             .needed = true};
    for (const app::Visit& v : app::latest_of_each(all, kVisitsShown))
      w.choices.push_back(v.premises);
    if (w.choices.empty()) w.words = "Premises, with postcode";
    if (!ask_.take(w)) return false;
    if (!last_ && !o_.fresh) last_ = app::visit_named(all, job_.premises);
    return take_over(out);
  }

  /// The data of the last visit, offered; with flags alone they are taken unless --fresh says no.
  bool take_over(Diagnostics& out) {
    if (!last_) return true;
    if (ask_.on_terminal() && o_.like.empty()) {
      std::string answer;
      const Wanted w{
          .flag = "--fresh",
          .words = fmt::format("Take over supply, earthing, bonding and circuits of {} ({})",
                               last_->day.words(), last_->name),
          .into = &answer,
          .otherwise = "y",
          .needed = true};
      if (!ask_.take(w)) return false;
      if (ascii_lower(answer).starts_with('n')) return true;
    }
    job_.last = app::job_of(*last_, archive_, out);
    return job_.last.has_value();
  }

  bool people() {
    job_.client = o_.client;
    job_.client_contact = o_.contact;
    if (job_.last && job_.client_contact.empty())
      job_.client_contact = job_.last->job.client_contact.value_or("");
    Wanted client{.flag = "--client",
                  .words = "Client",
                  .into = &job_.client,
                  .otherwise = last_ ? last_->client : "The occupier",
                  .needed = !job_.last};
    if (!ask_.take(client)) return false;
    job_.person = o_.person;
    Wanted who{.flag = "--person",
               .words = "Who tests and signs",
               .into = &job_.person,
               .needed = profile_.people.empty(),
               .only_choices = true};
    for (const record::Person& p : profile_.people) who.choices.push_back(p.id);
    for (const record::Person& p : profile_.people) who.notes.push_back(p.name.value_or(""));
    if (!who.choices.empty()) who.otherwise = who.choices.front();
    if (who.choices.size() == 1 && job_.person.empty()) job_.person = who.otherwise;
    if (!ask_.take(who)) return false;
    job_.nation = o_.nation;
    if (job_.nation.empty() && job_.last) job_.nation = job_.last->job.nation.value_or("");
    std::string day = o_.date;
    const Wanted date{.flag = "--date",
                      .words = "Day of the work",
                      .into = &day,
                      .otherwise = e_.wall_clock().date.iso(),
                      .wrong = [](const std::string& text) {
                        return Date::parse(text) ? std::string()
                                                 : "write year, month and day, as 2026-11-20";
                      }};
    if (!ask_.take(date)) return false;
    job_.date = Date::parse(day).value_or(Date{});
    return true;
  }

  /// Circuits of the last visit that are of the kind, first; "3" or "CU1/3" in words.
  const record::Circuit* known_circuit(const std::string& ref) const {
    if (!job_.last) return nullptr;
    for (const record::Circuit& c : job_.last->job.circuits)
      if (c.ref && *c.ref == ref && (job_.board.empty() || c.board.value_or("") == job_.board))
        return &c;
    return nullptr;
  }

  bool circuit() {
    const app::Work& w = *job_.work;
    job_.board = o_.board;
    job_.ref = o_.circuit;
    job_.name = o_.name;
    job_.device = o_.device;
    if (w.every_circuit && job_.last) return true;  // all of them, as they were
    Wanted ref{.flag = "--circuit",
               .words = "Circuit: the number of its way at the board",
               .into = &job_.ref,
               .otherwise = std::string(record::kNotKnown)};
    std::string shown;
    if (job_.last && !w.is_new) {
      for (const record::Circuit& c : job_.last->job.circuits) {
        shown += fmt::format("{}{} {}", shown.empty() ? "" : ", ", c.ref.value_or("?"),
                             c.name.value_or(""));
        if (c.ref && c.type && *c.type == w.type && ref.otherwise == std::string(record::kNotKnown))
          ref.otherwise = *c.ref;
      }
      if (ask_.on_terminal() && job_.ref.empty()) ask_.say().detail("known", shown);
    }
    if (!ask_.take(ref)) return false;
    if (const record::Circuit* known = known_circuit(job_.ref); known && !w.is_new) {
      if (job_.board.empty()) job_.board = known->board.value_or("");
      return true;  // name, device and cable come with it
    }
    if (job_.board.empty()) job_.board = "CU1";
    Wanted name{.flag = "--name",
                .words = "Name of the circuit",
                .into = &job_.name,
                .otherwise = std::string(w.name)};
    Wanted device{
        .flag = "--device",
        .words = fmt::format("Device, off its label, as \"{}\"; Enter: find out on site", w.device),
        .into = &job_.device};
    return ask_.take(name) && ask_.take(device);
  }

  /// Keys of the catalogue that suit the work, the likeliest first.
  std::vector<std::string> suitable() const {
    std::vector<std::string> out;
    for (const std::string_view wanted : job_.work->classes)
      for (const bool radio : {true, false})
        for (const record::CatalogueItem& item : profile_.catalogue)
          if (!wanted.empty() && item.kind == wanted && item.radio.value_or(false) == radio)
            out.push_back(item.id);
    if (!job_.work->prefers_radio)
      std::stable_sort(out.begin(), out.end(), [&](const auto& a, const auto& b) {
        return !profile_.item(a)->radio.value_or(false) &&
               profile_.item(b)->radio.value_or(false) &&
               profile_.item(a)->kind == profile_.item(b)->kind;
      });
    return out;
  }

  bool fitted() {
    job_.item = o_.accessory;
    job_.where = o_.where;
    if (job_.work->every_circuit) return true;
    Wanted item{
        .flag = "--accessory", .words = "Accessory", .into = &job_.item, .choices = suitable()};
    if (!item.choices.empty()) item.otherwise = item.choices.front();
    for (const std::string& key : item.choices)
      item.notes.push_back(profile_.item(key)->name.value_or(""));
    item.wrong = [this](const std::string& key) {
      return key.empty() || profile_.item(key) != nullptr
                 ? std::string()
                 : "installer.toml has no accessory \"" + key + "\"";
    };
    if (!item.choices.empty() || !job_.item.empty())
      if (!ask_.take(item)) return false;
    if (job_.item.empty()) return true;
    const Wanted where{.flag = "--where",
                       .words = "Where it goes, so that it is found again",
                       .into = &job_.where,
                       .otherwise = std::string(record::kNotKnown)};
    return ask_.take(where);
  }

  /// Separated by commas; a tester, an indicator and a proving unit where nothing else is said.
  bool instruments() {
    std::string keys = o_.instruments;
    const auto usual = app::instruments_for(profile_, job_.date);
    Wanted w{.flag = "--instruments",
             .words = "Instruments taken along",
             .into = &keys,
             .otherwise = join(usual, ", ")};
    w.wrong = [this](const std::string& text) {
      for (const std::string_view key : split(text, ','))
        if (!trim(key).empty() && profile_.instrument(trim(key)) == nullptr)
          return "installer.toml has no instrument \"" + std::string(trim(key)) + "\"";
      return std::string();
    };
    if (!w.otherwise.empty() || !keys.empty())
      if (!ask_.take(w)) return false;
    for (const std::string_view key : split(keys, ','))
      if (!trim(key).empty()) job_.instruments.emplace_back(trim(key));
    return true;
  }

  int write(Sources& sources, Diagnostics& out) {
    const fs::path folder = o_.folder;
    const auto text = app::new_job_text(job_, profile_, from_folder(folder), out);
    if (!text) return complain(e_, out, sources, o_.common);
    if (ask_.say().interrupted()) return kInterrupted;
    std::error_code ec;
    const bool made = fs::create_directories(folder, ec);
    if (ec) {
      out.system_error("cannot-write",
                       folder.string() + ": cannot make this folder: " + ec.message());
      return complain(e_, out, sources, o_.common);
    }
    if (!write_new_file(file_, *text, out, 0644)) {
      if (made) fs::remove(folder, ec);  // only where it is still empty
      return complain(e_, out, sources, o_.common);
    }
    std::string said = visible(file_.string()) + ": written\n";
    if (job_.last)
      said += wrapped(
          "Supply, earthing, bonding and what is known of its circuits are taken from " +
              job_.last->name + " of " + job_.last->day.words() + ": look whether they still hold.",
          "  ", "  ", text_width(e_));
    const std::string name = visible(o_.folder);
    said += wrapped("ohmleaf sheet " + name + " prints what to take along, ohmleaf note " + name +
                        " asks for the readings on site, ohmleaf check " + name + " judges them.",
                    "  ", "  ", text_width(e_));
    return say(e_, said);
  }

  Environment& e_;
  const StartOptions& o_;
  Questions ask_;
  fs::path file_, profile_path_, archive_;
  record::Installer profile_;
  std::optional<app::Visit> last_;
  app::NewJob job_;
};

int run_start(Environment& e, const StartOptions& o) {
  if (o.folder.empty()) {
    e.err(
        "ohmleaf: error: no folder was named\n  → ohmleaf start FOLDER --work ring-outlet, or "
        "ohmleaf start installer\n");
    return kInput;
  }
  const Interrupt watched;
  return Start(e, o).run();
}

}  // namespace

void add_start(Command& app, Environment& e, int& exit_code) {
  auto o = std::make_shared<StartOptions>();
  Command* c = app.add_subcommand(
      "start", "Begin a job: a job.toml that teaches which readings to take, in which order");
  c->require_subcommand(0, 1);
  add_start_options(*c, *o);
  add_start_installer(*c, e, exit_code, o->installer);
  std::string kinds = "\nKinds of work:\n";
  for (const app::Work& w : app::works())
    kinds += "  " + padded(w.key, 18) + std::string(w.title) + "\n";
  add_examples(*c,
               "  ohmleaf start installer\n"
               "  ohmleaf start sewing-room\n"
               "  ohmleaf start sewing-room --work ring-outlet --premises \"9 Tallow Yard, Brindle "
               "Cross\" --client \"M. Okonjo-Pryce\" --circuit 3\n\n"
               "On a terminal it asks for what was not given; every answer is also an option.\n" +
                   kinds);
  c->final_callback([o, &e, &exit_code] {
    if (!o->installer) exit_code = run_start(e, *o);
  });
}

}  // namespace ohmleaf::cli
