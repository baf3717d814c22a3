#include "cases.h"

namespace bench {
namespace {
using ohmleaf::Amps;
using ohmleaf::Metres;
using ohmleaf::SquareMm;
using record::Job;
}  // namespace

// 2.5 mm² by method C: 27 A (4D5, diynot.com 201157). Ring: 30/32 A, 2.5 mm² (engx.theiet.org 30677).
std::vector<Case> device_cases() {
  return {
      {"device-recorded", "absent", Sort::fails, kRing, Verdict::missing,
       [](Job& j) { j.circuits[kRing].device = {}; }},
      {"device-recorded", "an RCCB alone", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { j.circuits[kRing].device = device("RCCB 63 A, 30 mA type A"); }},
      {"device-recorded", "there", Sort::passes, kRing, Verdict::pass, [](Job&) {}},
      {"cable-recorded", "absent", Sort::fails, kRing, Verdict::missing,
       [](Job& j) { j.circuits[kRing].cable.line = {}; }},
      {"cable-recorded", "a size that does not exist", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) { j.circuits[kRing].cable.line = quantity<SquareMm>("25.5"); }},
      {"cable-recorded", "swapped", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) { std::swap(j.circuits[kRing].cable.line, j.circuits[kRing].cable.cpc); }},
      {"cable-recorded", "there", Sort::passes, kRing, Verdict::pass, [](Job&) {}},
      {"load-device", "over the device", Sort::fails, 0, Verdict::fail,
       [](Job& j) { j.circuits[0].load = quantity<Amps>("20.1"); }, "new-board"},
      {"load-device", "exactly the device", Sort::at_limit, 0, Verdict::pass,
       [](Job& j) { j.circuits[0].load = quantity<Amps>("20"); }, "new-board"},
      {"cable-capacity", "a device too large for it", Sort::fails, 0, Verdict::fail,
       [](Job& j) { j.circuits[0].device = device("RCBO B32, 30 mA type A, 6 kA"); }, "new-board"},
      {"cable-capacity", "a device that suits it", Sort::passes, 0, Verdict::pass, [](Job&) {},
       "new-board"},
      {"cable-capacity", "behind a rewirable fuse 0.725 of it", Sort::fails, 0, Verdict::fail,
       [](Job& j) { j.circuits[0].device = device("BS 3036 20 A, 4 kA"); }, "new-board"},
      {"volt-drop", "too long", Sort::fails, 0, Verdict::borderline,
       [](Job& j) { j.circuits[0].cable.length = quantity<Metres>("41"); }, "new-board"},
      {"volt-drop", "short enough", Sort::passes, 0, Verdict::pass, [](Job&) {}, "new-board"},
      {"ring-rules", "40 A", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { j.circuits[kRing].device = device("RCBO B40, 30 mA type A, 6 kA"); }},
      {"ring-rules", "exactly 32 A, exactly 2.5 mm²", Sort::at_limit, kRing,
       Verdict::not_applicable, [](Job&) {}},
      {"ring-rules", "1.5 mm²", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { j.circuits[kRing].cable.line = quantity<SquareMm>("1.5"); }},
      // BS 3036 30 A, 0.4 s, 1.04 Ω (table in data/limits): 230 ÷ 1.04 = 222 A rounded up;
      // √(222² × 0.4) ÷ 115 = 1.221 mm², rounded up 1.23 (BS 7671 543.1.3, number from memory).
      {"protective-conductor", "a hair under what the fault asks for", Sort::fails, 0,
       Verdict::fail,
       [](Job& j) {
         j.circuits[0].device = device("BS 3036 30 A, 4 kA");
         j.circuits[0].cable.cpc = quantity<SquareMm>("1.22");
       },
       "new-board"},
      {"protective-conductor", "exactly what the fault asks for", Sort::at_limit, 0, Verdict::pass,
       [](Job& j) {
         j.circuits[0].device = device("BS 3036 30 A, 4 kA");
         j.circuits[0].cable.cpc = quantity<SquareMm>("1.23");
       },
       "new-board"},
      {"protective-conductor", "1.5 mm² behind a circuit-breaker", Sort::passes, 0, Verdict::pass,
       [](Job&) {}, "new-board"},
  };
}

}  // namespace bench
