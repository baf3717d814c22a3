#include "cases.h"

namespace bench {
namespace {
using ohmleaf::Date;
using ohmleaf::Millis;
using record::Job;

void trip(Job& j, const char* text) {
  plain_meter(j);
  j.circuits[kRing].live.rcd.trip_ms = reading<Millis>(text);
}
void five(Job& j, const char* text) {
  plain_meter(j);
  j.design_date = field(Date{2019, 6, 1});  // before A2: the fast test is asked for
  for (auto& c : j.circuits) c.live.rcd.trip_x5_ms = reading<Millis>("18");
  j.circuits[kRing].live.rcd.trip_x5_ms = reading<Millis>(text);
}
void ring_device(Job& j, const char* text) {
  j.circuits[kRing].device = device(text);
}
}  // namespace

// 300 ms at IΔn: BS EN 61008/61009 (Benning IT120B manual p32); 40 ms at 5 IΔn before A2
// (engx.theiet.org 21204); 200 ms for BS 4293 (trade article, about 2008).
std::vector<Case> rcd_cases() {
  return {
      {"rcd-needed", "socket-outlets without one", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { ring_device(j, "MCB B32, 6 kA"); }},
      {"rcd-needed", "100 mA is not additional protection", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { ring_device(j, "RCBO B32, 100 mA type A, 6 kA"); }},
      {"rcd-needed", "nobody has looked at the device", Sort::fails, kRing, Verdict::missing,
       [](Job& j) { j.circuits[kRing].device = {}; }},
      {"rcd-needed", "exactly 30 mA", Sort::at_limit, kRing, Verdict::pass, [](Job&) {}},
      {"rcd-needed", "upstream of the device", Sort::passes, kRing, Verdict::pass,
       [](Job& j) {
         ring_device(j, "MCB B32, 6 kA");
         j.circuits[kRing].rcd = device("RCCB 63 A, 30 mA type A");
       }},
      {"rcd-needed", "outside a dwelling a risk assessment may stand for it", Sort::fails, kRing,
       Verdict::doubtful,
       [](Job& j) {
         j.dwelling = field(false);
         ring_device(j, "MCB B32, 6 kA");
       }},
      {"rcd-fault-protection", "TT without an RCD", Sort::fails, 0, Verdict::fail,
       [](Job& j) { j.supply.rcd = {}; }, "tt-cottage"},
      {"rcd-fault-protection", "TT with one at the origin", Sort::passes, 0, Verdict::pass,
       [](Job&) {}, "tt-cottage"},
      {"rcd-time", "too slow", Sort::fails, kRing, Verdict::fail, [](Job& j) { trip(j, "301"); }},
      {"rcd-time", "exactly 300 ms", Sort::at_limit, kRing, Verdict::pass,
       [](Job& j) { trip(j, "300"); }},
      {"rcd-time", "300.1 ms", Sort::fails, kRing, Verdict::fail, [](Job& j) { trip(j, "300.1"); }},
      {"rcd-time", "does not trip within the instrument's time", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { trip(j, ">300"); }},
      {"rcd-time", "absent", Sort::fails, kRing, Verdict::missing,
       [](Job& j) { j.circuits[kRing].live.rcd.trip_ms = {}; }},
      {"rcd-time", "an old device has 200 ms", Sort::fails, kRing, Verdict::fail,
       [](Job& j) {
         trip(j, "201");
         j.circuits[kRing].device = device("RCBO B32, 30 mA type AC, 6 kA");
         j.circuits[kRing].device.value->rcd->bs4293 = true;
       }},
      {"rcd-time", "a time where no RCD is", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) { ring_device(j, "MCB B32, 6 kA"); }},
      {"rcd-time", "the uncertainty of the instrument counts where it is declared", Sort::fails,
       kRing, Verdict::borderline,
       [](Job& j) { j.circuits[kRing].live.rcd.trip_ms = reading<Millis>("299"); }},
      {"rcd-time-x5", "too slow, before A2", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { five(j, "41"); }},
      {"rcd-time-x5", "exactly 40 ms", Sort::at_limit, kRing, Verdict::pass,
       [](Job& j) { five(j, "40"); }},
      {"rcd-time-x5", "absent, before A2", Sort::fails, kLighting, Verdict::missing,
       [](Job& j) {
         five(j, "18");
         j.circuits[kLighting].live.rcd.trip_x5_ms = {};
       }},
      {"rcd-time-x5", "not asked for since A2", Sort::passes, kRing, Verdict::not_applicable,
       [](Job&) {}},
      {"rcd-half", "trips at half", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { j.circuits[kRing].live.rcd.half_no_trip = field(false); }},
      {"rcd-half", "does not", Sort::passes, kRing, Verdict::not_applicable,
       [](Job& j) { j.circuits[kRing].live.rcd.half_no_trip = field(true); }},
      {"rcd-button", "does not trip it", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { j.circuits[kRing].live.rcd.test_button = field(false); }},
      {"rcd-button", "not pressed", Sort::fails, kRing, Verdict::missing,
       [](Job& j) { j.circuits[kRing].live.rcd.test_button = {}; }},
      {"rcd-button", "pressed", Sort::passes, kRing, Verdict::pass, [](Job&) {}},
      {"rcd-type", "type AC behind electronics, existing circuit", Sort::fails, kRing,
       Verdict::borderline, [](Job& j) { ring_device(j, "RCBO B32, 30 mA type AC, 6 kA"); }},
      {"rcd-type", "type AC behind electronics, new circuit", Sort::fails, 2, Verdict::fail,
       [](Job& j) { j.circuits[2].device = device("RCBO B16, 30 mA type AC, 6 kA"); }, "new-board"},
      {"rcd-type", "type A", Sort::passes, kRing, Verdict::not_applicable, [](Job&) {}},
      {"afdd-button", "not tried", Sort::fails, kRing, Verdict::missing,
       [](Job& j) { j.circuits[kRing].device.value->afdd = true; }},
      {"afdd-button", "tried", Sort::passes, kRing, Verdict::pass,
       [](Job& j) {
         j.circuits[kRing].device.value->afdd = true;
         j.circuits[kRing].live.afdd_button = field(true);
       }},
  };
}

}  // namespace bench
