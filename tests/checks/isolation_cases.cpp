#include "cases.h"

namespace bench {
namespace {
using ohmleaf::Date;
using ohmleaf::DateTime;
using record::Job;
constexpr int kJob = -1;

ohmleaf::record::Field<DateTime> at(int hour, int minute) {
  return field(DateTime{{2026, 11, 20}, hour, minute, 0});
}
/// On another day, with no times of its own.
void tested_on(Job& j, Date day) {
  j.date = field(day);
  j.isolation.proved_dead = {};
  for (record::Circuit& c : j.circuits) {
    c.dead.done = {};
    c.live.energised = {};
  }
}
}  // namespace

std::vector<Case> isolation_cases() {
  return {
      {"isolation", "not locked off", Sort::fails, kJob, Verdict::fail,
       [](Job& j) { j.isolation.locked = field(false); }},
      {"isolation", "point not named", Sort::fails, kJob, Verdict::missing,
       [](Job& j) { j.isolation.point = {}; }},
      {"isolation", "lock not recorded", Sort::fails, kJob, Verdict::missing,
       [](Job& j) { j.isolation.locked = {}; }},
      {"isolation", "locked off", Sort::passes, kJob, Verdict::pass, [](Job&) {}},
      {"proved-dead", "not recorded", Sort::fails, kJob, Verdict::missing,
       [](Job& j) { j.isolation.proved_dead = {}; }},
      {"proved-dead", "recorded", Sort::passes, kJob, Verdict::pass, [](Job&) {}},
      {"indicator", "no proving unit", Sort::fails, kJob, Verdict::missing,
       [](Job& j) { j.isolation.proving_unit = {}; }},
      {"indicator", "an indicator that nobody knows", Sort::fails, kJob, Verdict::missing,
       [](Job& j) { j.isolation.indicator = text("vi-9"); }},
      {"indicator", "both known", Sort::passes, kJob, Verdict::pass, [](Job&) {}},
      {"order-of-work", "dead tests before it was proved dead", Sort::fails, kRing,
       Verdict::doubtful, [](Job& j) { j.circuits[kRing].dead.done = at(9, 11); }},
      {"order-of-work", "the very minute", Sort::at_limit, kRing, Verdict::not_applicable,
       [](Job& j) { j.circuits[kRing].dead.done = at(9, 12); }},
      {"order-of-work", "energised before its dead tests", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) { j.circuits[kRing].live.energised = at(13, 39); }},
      {"order-of-work", "in order", Sort::passes, kRing, Verdict::not_applicable, [](Job&) {}},
      {"calibration", "overdue on the day", Sort::fails, kJob, Verdict::fail,
       [](Job& j) { plain_meter(j); }},
      {"calibration", "due on the very day", Sort::at_limit, kJob, Verdict::pass,
       [](Job& j) {
         tested_on(j, Date{2027, 3, 16});
       }},
      {"calibration", "the day after", Sort::fails, kJob, Verdict::fail,
       [](Job& j) {
         tested_on(j, Date{2027, 3, 17});
       }},
      {"calibration", "calibrated after the tests", Sort::fails, kJob, Verdict::doubtful,
       [](Job& j) {
         tested_on(j, Date{2026, 3, 15});
       }},
      {"calibration", "the tests were earlier, in calibration", Sort::passes, kJob, Verdict::pass,
       [](Job& j) {
         j.date = field(Date{2027, 3, 20});
       }},
      {"calibration", "in calibration", Sort::passes, kJob, Verdict::pass, [](Job&) {}},
      {"instruments", "only an indicator", Sort::fails, kJob, Verdict::missing,
       [](Job& j) { j.instruments = {text("vi-2")}; }},
      {"instruments", "named by serial", Sort::passes, kJob, Verdict::not_applicable, [](Job&) {}},
      {"uncertainty", "not declared: a note", Sort::fails, kJob, Verdict::note,
       [](Job& j) { plain_meter(j); }},
      {"uncertainty", "declared", Sort::passes, kJob, Verdict::not_applicable, [](Job&) {}},
  };
}

}  // namespace bench
