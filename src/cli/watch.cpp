#include "cli/watch.h"

#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "base/file_watch.h"
#include "base/text.h"
#include "checks/check.h"
#include "checks/site_sheet.h"
#include "cli/dialogue.h"
#include "cli/interrupt.h"
#include "cli/report_text.h"

namespace ohmleaf::cli {
namespace {

namespace fs = std::filesystem;
using checks::Finding;
using checks::Verdict;

constexpr int kLook = 500;         ///< ms between looks where nothing is told
constexpr int kGone = 4;           ///< looks without the file: it is gone, not being saved
constexpr std::size_t kShown = 8;  ///< lines of what is open

bool same_place(const Finding& a, const Finding& b) {
  return a.check == b.check && a.circuit == b.circuit && a.cell == b.cell;
}
bool same(const Finding& a, const Finding& b) {
  return same_place(a, b) && a.verdict == b.verdict && a.reading == b.reading &&
         a.message == b.message && a.limit == b.limit && a.confirmed_by == b.confirmed_by;
}
const Finding* twin(const Finding& f, const std::vector<Finding>& among) {
  const auto it =
      std::find_if(among.begin(), among.end(), [&](const Finding& o) { return same_place(f, o); });
  return it == among.end() ? nullptr : &*it;
}

Tone tone_of(Verdict v) {
  if (v == Verdict::fail || v == Verdict::missing) return Tone::bad;
  if (v == Verdict::doubtful || v == Verdict::borderline) return Tone::doubt;
  return v == Verdict::pass ? Tone::good : Tone::quiet;
}

class Watch {
 public:
  Watch(Environment& e, const Common& common, std::string job)
      : e_(e), common_(common), job_(std::move(job)), say_(e, style_for(common, e, false)) {}

  int run() {
    std::error_code ec;
    file_ = fs::is_directory(job_, ec) ? fs::path(job_) / "job.toml" : fs::path(job_);
    if (!fs::exists(file_, ec)) return look();  // says what is missing
    FileWatch first({file_});
    look();
    auto watch = std::make_unique<FileWatch>(files());
    bool changed = first.wait(0);  // saved while it was judged
    for (int gone = 0; say_.open(); changed = watch->wait(kLook)) {
      if (say_.interrupted()) return kInterrupted;
      gone = fs::exists(file_, ec) ? 0 : gone + 1;
      if (gone >= kGone) return removed();
      if (!changed || gone > 0) continue;
      const fs::path profile = profile_;
      look();
      if (profile != profile_) watch = std::make_unique<FileWatch>(files());
    }
    return kSystem;
  }

 private:
  std::vector<fs::path> files() const {
    std::vector<fs::path> out{file_};
    if (!profile_.empty()) out.push_back(profile_);
    return out;
  }

  int removed() {
    say_.line(file_.string() + " is gone: nothing more to watch.");
    return kInput;
  }

  int look() {
    say_.heading(e_.wall_clock().iso().substr(11) + "  " + file_.string());
    Sources sources;
    Diagnostics out;
    const auto w = app::load(job_, places_of(common_, e_), sources, out);
    const int code = complain(e_, out, sources, common_);
    if (!w) {
      say_.line("It cannot be read as it stands; it is looked at again when it is saved.",
                Tone::bad);
      return code;
    }
    profile_ = w->installer_path;
    checks::Report report = checks::check(w->job, w->installer);
    if (known_) changes(w->job, report);
    state(w->job, report);
    before_ = std::move(report);
    known_ = true;
    return kFine;
  }

  static std::string place(const record::Job& job, int circuit) {
    if (circuit < 0 || static_cast<std::size_t>(circuit) >= job.circuits.size()) return {};
    const record::Circuit& c = job.circuits[static_cast<std::size_t>(circuit)];
    return fmt::format("{}{}: ", c.board ? *c.board + "/" : std::string(), c.ref.value_or("?"));
  }

  void one(Verdict verdict, const std::string& text) {
    const std::string lead = "  " + padded(checks::name(verdict), 12);
    std::string line = wrapped(visible(text), lead, std::string(lead.size(), ' '), say_.width());
    line.pop_back();
    line.replace(0, lead.size(), say_.style()(tone_of(verdict), lead));
    say_.raw(line + "\n");
  }

  void changes(const record::Job& job, const checks::Report& report) {
    std::size_t shown = 0;
    for (const Finding& f : report.findings) {
      const Finding* old = twin(f, before_.findings);
      if (f.verdict <= Verdict::note || (old && same(f, *old))) continue;
      // Of several limits on one reading that all pass, one line is enough.
      if (f.verdict == Verdict::pass && report.at(f.circuit, f.cell) != &f) continue;
      std::string text = place(job, f.circuit) + f.message;
      if (old && old->verdict != f.verdict)
        text += fmt::format(" (was {})", checks::name(old->verdict));
      one(f.verdict, text);
      ++shown;
    }
    for (const Finding& old : before_.findings) {
      if (old.verdict < Verdict::borderline || twin(old, report.findings)) continue;
      one(Verdict::note, fmt::format("{}settled, was {}: {}", place(job, old.circuit),
                                     checks::name(old.verdict), old.message));
      ++shown;
    }
    if (shown == 0) say_.line("  No verdict changed.", Tone::quiet);
  }

  void state(const record::Job& job, const checks::Report& report) {
    std::vector<const Finding*> open;
    for (const Verdict v : {Verdict::fail, Verdict::doubtful})
      for (const Finding& f : report.findings)
        if (f.verdict == v && f.blocks()) open.push_back(&f);
    for (const Finding* f : checks::missing_in_order(report)) open.push_back(f);
    if (!open.empty()) say_.line("Open, what comes first on top:", Tone::strong);
    for (std::size_t i = 0; i < std::min(open.size(), kShown); ++i)
      one(open[i]->verdict, place(job, open[i]->circuit) + open[i]->message);
    if (open.size() > kShown)
      say_.line(fmt::format("  and {} more: ohmleaf check {}", open.size() - kShown, job_),
                Tone::quiet);
    say_.line("verdict: " + verdict_line(report, job));
  }

  Environment& e_;
  const Common& common_;
  std::string job_;
  Dialogue say_;
  fs::path file_, profile_;
  checks::Report before_;
  bool known_ = false;
};

}  // namespace

int watch_check(Environment& e, const Common& common, const std::string& job) {
  const Interrupt watched;
  return Watch(e, common, job).run();
}

}  // namespace ohmleaf::cli
