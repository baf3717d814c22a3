#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "base/text.h"
#include "checks/facts.h"
#include "checks/judge.h"

// The instruments: known by serial, in calibration on the day, with a declared uncertainty.

namespace ohmleaf::checks {
namespace {

bool says(const record::Text& text, std::string_view word) {
  return text && ascii_lower(*text).find(word) != std::string::npos;
}

/// A proving unit or a voltage indicator tells live from dead; it measures nothing that is printed.
bool measures(const record::Instrument& i) {
  return !says(i.kind, "proving") && !says(i.kind, "indicator") && !says(i.kind, "lock");
}

std::string called(const record::Instrument& i) {
  std::string out = i.kind.value_or("instrument");
  out += " \"" + i.id + "\"";
  return out;
}

/// First and last day on which the instrument was used: of the tests that name a time, else the
/// job's own date.
struct Days {
  Date first, last;
};
Days days_of(const Scene& s, const record::Instrument& instrument) {
  std::vector<Date> days;
  const auto use = [&](const record::Instrument* used, const record::Field<DateTime>& when) {
    if (used == &instrument) days.push_back(when ? when->date : *s.job.date);
  };
  const record::Isolation& x = s.job.isolation;
  for (const record::Text* tool : {&x.indicator, &x.proving_unit})
    if (*tool) use(s.installer.instrument(**tool), x.proved_dead);
  for (const record::Circuit& c : s.job.circuits) {
    use(instrument_of(s.job, s.installer, c.dead.instrument), c.dead.done);
    use(instrument_of(s.job, s.installer, c.live.instrument), c.live.energised);
  }
  if (days.empty()) return {*s.job.date, *s.job.date};
  const auto [first, last] = std::minmax_element(days.begin(), days.end());
  return {*first, *last};
}

void in_calibration(Scene& s) {
  if (!s.job.date) return;
  for (const record::Instrument* i : instruments_used(s.job, s.installer)) {
    const Days used = days_of(s, *i);
    const Date day = used.last;
    const std::string cell = "instrument." + i->id;
    if (i->calibration_due && *i->calibration_due < day) {
      Finding& f = s.add(Verdict::fail, Stage::before, cell, "Calibration",
                         fmt::format("the {} was due for calibration on {}, before the tests on {}",
                                     called(*i), i->calibration_due->words(), day.words()),
                         i->calibration_due.span);
      f.reading = i->calibration_due->iso();
      f.limit = "not before " + day.iso();
      f.labels = {{s.job.date.span, "tested on this day"}};
      f.action =
          "Repeat the tests with an instrument in calibration, or enter the calibration that it "
          "has.";
      continue;
    }
    if (i->calibrated && *i->calibrated > used.first) {
      Finding& f = s.add(Verdict::doubtful, Stage::before, cell, "Calibration",
                         fmt::format("the {} was calibrated on {}, after the tests", called(*i),
                                     i->calibrated->words()),
                         i->calibrated.span);
      f.labels = {{s.job.date.span, "tested on this day"}};
      f.action =
          "Check both dates; confirm with the earlier certificate's number if it was in "
          "calibration.";
      continue;
    }
    if (!measures(*i)) continue;
    if (!i->calibration_due) {
      s.add(Verdict::missing, Stage::before, cell, "Calibration",
            fmt::format("the {} has no calibration date", called(*i)), i->span)
          .action = "Enter calibration_due from its certificate.";
      continue;
    }
    Finding& f =
        s.add(Verdict::pass, Stage::before, cell, "Calibration",
              fmt::format("the {} was in calibration", called(*i)), i->calibration_due.span);
    f.reading = i->calibration_due->iso();
    f.limit = "not before " + day.iso();
  }
}

void known(Scene& s) {
  bool meter = false;
  for (const record::Instrument* i : instruments_used(s.job, s.installer)) {
    if (!measures(*i)) continue;
    meter = true;
    if (i->serial && !trim(*i->serial).empty()) continue;
    s.add(Verdict::missing, Stage::before, "instrument." + i->id + ".serial", "Instrument",
          fmt::format("the {} has no serial number", called(*i)), i->span)
        .action =
        "Enter the serial number from its label: a certificate names its instruments by it.";
  }
  if (meter) return;
  s.add(Verdict::missing, Stage::before, "instruments", "Instruments",
        "no measuring instrument is recorded", s.job.date.span)
      .action = "Enter the tester in installer.toml, and name it in the job.";
}

void uncertainty(Scene& s) {
  for (const record::Instrument* i : instruments_used(s.job, s.installer)) {
    if (!measures(*i) || i->loop_percent || i->continuity_percent || i->insulation_percent)
      continue;
    Finding& f =
        s.add(Verdict::note, Stage::before, "instrument." + i->id + ".uncertainty", "Uncertainty",
              fmt::format("the {} has no declared operating uncertainty, so readings are taken as "
                          "they stand",
                          called(*i)),
              i->span);
    f.action = "Enter loop_percent and the others from its manual; verdicts then allow for them.";
  }
}

constexpr Row kRows[] = {
    {{"calibration", "Instruments in calibration on the day",
      "A reading counts only if its instrument was in calibration when it was taken.",
      "common practice", Confirmable::with_reason},
     Over::job,
     in_calibration},
    {{"instruments", "Instruments known by serial",
      "The certificate names each measuring instrument by its serial number.", "common practice",
      Confirmable::never},
     Over::job,
     known},
    {{"uncertainty", "Operating uncertainty not declared",
      "A note: without a declared uncertainty readings are compared as they stand.",
      "BS EN 61557 allows up to 30 %; adding it unasked would make sound work borderline (common "
      "practice)",
      Confirmable::never},
     Over::job,
     uncertainty},
};

}  // namespace

std::span<const Row> instrument_rows() {
  return kRows;
}

}  // namespace ohmleaf::checks
