#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <set>

#include "app/answers.h"
#include "base/text.h"
#include "checks/check.h"
#include "checks/expected.h"
#include "cli/archive_common.h"
#include "cli/command.h"
#include "cli/dialogue.h"
#include "cli/interrupt.h"
#include "cli/note_words.h"
#include "cli/report_text.h"

// Guided entry on site: one reading after the other in the safe order, each saved at once.

namespace ohmleaf::cli {
namespace {

using app::Question;
using app::Saved;
using checks::Finding;
using checks::Step;
using checks::Verdict;

struct NoteOptions {
  Common common;
  std::string job;
};

constexpr const char* kDoNotEnergise = "Do not energise; leave isolated and locked off";

class Note {
 public:
  Note(Environment& e, const NoteOptions& o, app::Workspace w)
      : e_(e), options_(o), w_(std::move(w)), say_(e, style_for(o.common, e, false)) {}

  int run() {
    judge();
    open();
    bool on = true;
    while (on) {
      const auto next = next_question();
      if (!next) break;
      on = ask(*next);
    }
    return close();
  }

 private:
  void judge() { report_ = checks::check(w_.job, w_.installer); }

  void open() {
    say_.line(w_.job.premises.value_or(""), Tone::strong);
    say_.line(
        "Enter leaves a question open, ? explains it, b goes back, s stops. Each answer is "
        "saved at once.",
        Tone::quiet);
  }

  /// The first open question that was not left open before; none where its step may not be offered.
  std::optional<Question> next_question() {
    for (Question& q : app::open_questions(w_, report_)) {
      if (left_.count(q.path) != 0) continue;
      stop_ = checks::stop_before(report_, q.step);
      if (stop_ != nullptr) return std::nullopt;
      return std::move(q);
    }
    return std::nullopt;
  }

  void introduce(const Question& q) {
    if (!step_ || *step_ != q.step || circuit_ != q.finding.circuit) {
      std::string title(checks::name(q.step));
      if (q.finding.circuit >= 0)
        title += " · " + circuit_words(w_.job, q.finding.circuit) + " · " +
                 w_.job.circuits[static_cast<std::size_t>(q.finding.circuit)].name.value_or("");
      say_.heading(title);
      if (q.step == Step::live && (!step_ || *step_ != Step::live))
        say_.line(
            "Every dead test that is asked for is recorded, and none fails. Energise only "
            "now, covers on, nobody near open parts; then test.",
            Tone::doubt);
      step_ = q.step;
      circuit_ = q.finding.circuit;
    } else {
      say_.line("");
    }
    say_.line(q.finding.subject, Tone::strong);
    if (q.again) say_.detail("now", q.finding.message);
    if (q.path.find("accessory") != std::string::npos) say_.detail("where", point(q));
    if (ascii_lower(q.shape->help) != ascii_lower(q.finding.subject))
      say_.detail("what", q.shape->help);
    say_.detail("limit", q.finding.limit);
    say_.detail("expect", checks::expected_value(w_.job, q.finding.circuit, q.finding.cell));
    if (!q.shape->words.empty()) say_.detail("choose", choice_words(*q.shape));
  }

  /// "socket-outlet, kitchen": which of several accessories.
  std::string point(const Question& q) const {
    const TomlPath path = toml_path(q.path);
    if (path.size() < 2 || path[1].key != "accessory") return {};
    const auto& c = w_.job.circuits[static_cast<std::size_t>(path[0].index)];
    const auto& a = c.accessories[static_cast<std::size_t>(path[1].index)];
    return a.where.value_or(a.item.value_or(""));
  }

  /// False: stop here.
  bool ask(const Question& q) {
    introduce(q);
    for (;;) {
      const auto typed = say_.ask(prompt_for(q, w_.installer));
      if (!typed) return false;
      const std::string word = ascii_lower(*typed);
      if (word == "s" || word == "stop" || word == "q" || word == "quit") return false;
      if (word == "?" || word == "h" || word == "help") {
        explain(say_, q);
        continue;
      }
      if (word == "b" || word == "back") return back(q);
      if (word.empty()) {
        left_.insert(q.path);
        return true;
      }
      switch (take(q, *typed)) {
        case Taken::again:
          continue;
        case Taken::moved:
          return true;
        case Taken::over:
          return false;
      }
    }
  }

  /// Asks the last answer again: it stands until another one is given.
  bool back(const Question& q) {
    if (answered_.empty()) {
      say_.line("There is nothing before this.");
      return ask(q);
    }
    Question before = answered_.back();
    answered_.pop_back();
    before.again = false;
    return ask(before);
  }

  enum class Taken { again, moved, over };

  Taken take(const Question& q, const std::string& typed) {
    const checks::Report before = report_;
    const std::string value =
        app::toml_answer(*q.shape, typed, e_.wall_clock(), w_.job.date.value_or(Date{}));
    Diagnostics out;
    switch (app::save_answer(w_, q.path, value, out)) {
      case Saved::yes:
        break;
      case Saved::not_taken:
        not_taken(out);
        return Taken::again;
      case Saved::changed:
        not_taken(out);
        return reload() ? Taken::moved : Taken::over;
      case Saved::failed:
        not_taken(out);
        code_ = kSystem;
        return Taken::over;
    }
    judge();
    answered_.push_back(q);
    return verdict(q, before);
  }

  void not_taken(const Diagnostics& out) {
    for (const Diagnostic& d : out.all()) {
      say_.line("not saved: " + d.message, Tone::bad);
      for (const std::string& hint : d.hints) say_.detail("→", hint);
    }
  }

  bool reload() {
    Sources sources;
    Diagnostics out;
    auto fresh = app::load(w_.job_path, places_of(options_.common, e_), sources, out);
    if (!fresh) {
      code_ = complain(e_, out, sources, options_.common);
      return false;
    }
    w_ = std::move(*fresh);
    judge();
    say_.line("The file was read again.");
    return true;
  }

  static bool speaks(const Finding& f, const std::vector<Finding>& before) {
    if (f.verdict < Verdict::borderline || f.verdict == Verdict::missing) return false;
    return std::none_of(before.begin(), before.end(), [&](const Finding& b) {
      return b.check == f.check && b.circuit == f.circuit && b.cell == f.cell &&
             b.verdict == f.verdict && b.reading == f.reading;
    });
  }

  /// What the answer came to; a bad one is asked for again, kept, or ends the session.
  Taken verdict(const Question& q, const checks::Report& before) {
    std::vector<const Finding*> bad;
    for (const Finding& f : report_.findings) {
      const bool here = f.circuit == q.finding.circuit && f.cell == q.finding.cell;
      const bool unusable = here && f.verdict == Verdict::missing;
      if (unusable && q.path.find("cable") == std::string::npos && f.cell != "inspection")
        bad.push_back(&f);
      else if (speaks(f, before.findings))
        bad.push_back(&f);
    }
    if (bad.empty()) {
      good(q);
      return Taken::moved;
    }
    Verdict worst = Verdict::borderline;
    for (const Finding* f : bad) {
      worst = std::max(worst, f->verdict);
      tell(say_, *f);
    }
    if (worst == Verdict::borderline) return Taken::moved;
    const bool stops = !checks::is_energised(q.step) && checks::stop_before(report_, Step::live);
    if (stops) say_.line(std::string(kDoNotEnergise) + ".", Tone::bad);
    std::vector<Finding> doubts;
    for (const Finding* f : bad)
      if (f->verdict == Verdict::doubtful && f->confirmable == checks::Confirmable::with_reason)
        doubts.push_back(*f);
    if (worst != Verdict::doubtful) doubts.clear();
    return retest(q, doubts);
  }

  void good(const Question& q) {
    const Finding* f = report_.at(q.finding.circuit, q.finding.cell);
    std::string line = "saved";
    if (f && f->verdict == Verdict::pass && !f->limit.empty())
      line = fmt::format("pass: {}, limit {}{}", f->reading, f->limit,
                         f->difference.empty() ? "" : ", " + f->difference);
    else if (f && f->verdict == Verdict::pass)
      line = "saved" + (f->reading.empty() || f->reading == "yes" ? "" : " " + f->reading) + ": " +
             f->message;
    say_.line(line, Tone::good);
  }

  /// `doubts` may be confirmed away, with a reason and the name of the one who signs.
  Taken retest(const Question& q, const std::vector<Finding>& doubts) {
    const std::string prompt =
        doubts.empty()
            ? "r to test again, s to stop, Enter to keep it and go on"
            : "r to test again, c to confirm it with the reason, s to stop, Enter to go on";
    for (;;) {
      const auto typed = say_.ask(prompt);
      if (!typed) return Taken::over;
      const std::string word = ascii_lower(*typed);
      if (word == "r" || word == "retest") return Taken::again;
      if (word == "s" || word == "stop") return Taken::over;
      if (word == "c" && !doubts.empty()) return confirm(doubts);
      if (!word.empty()) {
        say_.line(doubts.empty() ? "Type r, s, or nothing." : "Type r, c, s, or nothing.");
        continue;
      }
      left_.insert(q.path);
      return Taken::moved;
    }
  }

  Taken confirm(const std::vector<Finding>& doubts) {
    for (const Finding& f : doubts) {
      say_.line(f.message);
      const auto reason = say_.ask("Why does it stand after all");
      if (!reason) return Taken::over;
      if (reason->empty()) continue;
      Diagnostics out;
      const Saved saved = app::save_confirmation(w_, f, *reason, w_.job.person.value_or(""), out);
      not_taken(out);
      if (saved == Saved::changed) return reload() ? Taken::moved : Taken::over;
      if (saved == Saved::failed) code_ = kSystem;
      if (saved == Saved::failed) return Taken::over;
      if (saved == Saved::yes) say_.line("saved: confirmed by " + w_.job.person.value_or("?"));
      judge();
    }
    return Taken::moved;
  }

  int close() {
    const bool interrupted = say_.interrupted();
    if (stop_ == nullptr && !interrupted) stop_ = checks::stop_before(report_, Step::live);
    say_.heading("Where it stands");
    if (stop_ != nullptr) tell_stop(*stop_);
    const auto open = app::open_questions(w_, report_);
    for (const Finding& f : app::not_asked(report_))
      say_.line("not asked here: " + f.message + ". " + f.action);
    if (!open.empty())
      say_.line(
          fmt::format("Open: {}. Everything answered is saved; ohmleaf note goes on where "
                      "you stopped.",
                      open.size()));
    say_.line("verdict: " + verdict_line(report_, w_.job));
    if (!say_.open()) return kSystem;
    if (code_ != kFine) return code_;
    if (interrupted) return kInterrupted;
    return report_.issuable() ? kFine : kFindings;
  }

  void tell_stop(const Finding& f) {
    const std::string where = circuit_words(w_.job, f.circuit);
    say_.line(std::string(kDoNotEnergise) + ".", Tone::bad);
    say_.line((where.empty() ? "" : where + ": ") + f.message + ".");
    say_.line(checks::step_of(f) == Step::isolate
                  ? "Nothing is offered that means touching, until it is isolated and proved dead."
                  : "No live test is offered until that is cured.");
  }

  Environment& e_;
  const NoteOptions& options_;
  app::Workspace w_;
  Dialogue say_;
  checks::Report report_;
  std::set<std::string> left_;  ///< left open in this session
  std::vector<Question> answered_;
  std::optional<Step> step_;
  int circuit_ = -2;
  const Finding* stop_ = nullptr;
  int code_ = kFine;
};

int run_note(Environment& e, const NoteOptions& o) {
  Sources sources;
  Diagnostics out;
  auto w = app::load(o.job, places_of(o.common, e), sources, out);
  if (!w) return complain(e, out, sources, o.common);
  complain(e, out, sources, o.common);
  const Interrupt watched;
  return Note(e, o, std::move(*w)).run();
}

}  // namespace

void add_note(Command& app, Environment& e, int& exit_code) {
  auto o = std::make_shared<NoteOptions>();
  Command* c = app.add_subcommand(
      "note", "Enter readings on site, one after the other in the safe order, each judged at once");
  c->add_option("job", o->job, "Job file, or the folder that holds job.toml")
      ->required()
      ->type_name("JOB");
  add_common(*c, o->common, kInstaller);
  add_examples(
      *c,
      "  ohmleaf note sewing-workshop\n"
      "  ohmleaf note sewing-workshop < answers.txt\n\n"
      "Answers: 0.42, >999, <0.01, N/A: why; y or n; Enter leaves a question open; "
      "? explains it; b goes back; s, Ctrl-D or Ctrl-C stops. Each answer is saved at once.");
  c->callback([o, &e, &exit_code] { exit_code = run_note(e, *o); });
}

}  // namespace ohmleaf::cli
