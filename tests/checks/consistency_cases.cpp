#include "cases.h"

namespace bench {
namespace {
using ohmleaf::Millis;
using ohmleaf::Ohms;
using record::Job;

void zs(Job& j, const char* text) {
  plain_meter(j);
  j.circuits[kRing].live.zs = reading<Ohms>(text);
}
}  // namespace

// The ring: Ze 0.21, R1+R2 0.25, so Zs about 0.46; ± 0.05 Ω allowed.
std::vector<Case> consistency_cases() {
  return {
      {"zs-sum", "more than 0.05 Ω above the sum", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) { zs(j, "0.52"); }},
      {"zs-sum", "exactly 0.05 Ω above", Sort::at_limit, kRing, Verdict::not_applicable,
       [](Job& j) { zs(j, "0.51"); }},
      {"zs-sum", "below R1+R2", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) { zs(j, "0.14"); }},
      {"zs-sum", "below Ze: a query", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) {
         j.supply.ze = reading<Ohms>("0.34");
         zs(j, "0.28");
       }},
      {"zs-sum", "below the sum by a parallel path", Sort::passes, kRing, Verdict::not_applicable,
       [](Job& j) { zs(j, "0.35"); }},
      {"zs-sum", "a calculated Zs is the sum", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) {
         zs(j, "0.48");
         j.circuits[kRing].live.zs_by = field(record::Means::calculated);
       }},
      {"zs-sum", "R2 alone, by the sizes, and Zs a point out", Sort::fails, kRing,
       Verdict::doubtful,
       [](Job& j) {  // 0.21 + 0.15 × (7.41 + 12.1) ÷ 12.1 = 0.452
         zs(j, "4.5");
         j.circuits[kRing].type = field(record::CircuitType::radial);
         j.circuits[kRing].dead.r1r2 = {};
         j.circuits[kRing].dead.r2_only = reading<Ohms>("0.15");
       }},
      {"zs-sum", "R2 alone, exactly at what is allowed", Sort::at_limit, kRing,
       Verdict::not_applicable,
       [](Job& j) {  // 0.242 and a tenth of it, and 0.05: 0.526
         zs(j, "0.526");
         j.circuits[kRing].type = field(record::CircuitType::radial);
         j.circuits[kRing].dead.r1r2 = {};
         j.circuits[kRing].dead.r2_only = reading<Ohms>("0.15");
       }},
      {"zs-sum", "not asked on TT", Sort::passes, 0, Verdict::not_applicable,
       [](Job& j) { j.supply.ze = reading<Ohms>("0.2"); }, "tt-cottage"},
      {"zs-ra", "a point slipped on TT", Sort::fails, 0, Verdict::doubtful,
       [](Job& j) { j.circuits[0].live.zs = reading<Ohms>("6.84"); }, "tt-cottage"},
      {"zs-ra", "about the electrode", Sort::passes, 0, Verdict::not_applicable, [](Job&) {},
       "tt-cottage"},
      {"zs-ra", "lowered by bonding", Sort::passes, 0, Verdict::not_applicable,
       [](Job& j) { j.circuits[0].live.zs = reading<Ohms>("20"); }, "tt-cottage"},
      {"rcd-time-plausible", "zero", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) { j.circuits[kRing].live.rcd.trip_ms = reading<Millis>("0"); }},
      {"rcd-time-plausible", "a point slipped", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) { j.circuits[kRing].live.rcd.trip_ms = reading<Millis>("2.4"); }},
      {"rcd-time-plausible", "exactly 5 ms", Sort::at_limit, kRing, Verdict::not_applicable,
       [](Job& j) { j.circuits[kRing].live.rcd.trip_ms = reading<Millis>("5"); }},
      {"rcd-time-plausible", "under 3 ms at five times", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) { j.circuits[kRing].live.rcd.trip_x5_ms = reading<Millis>("2.9"); }},
      {"rcd-time-plausible", "exactly 3 ms at five times", Sort::at_limit, kRing,
       Verdict::not_applicable,
       [](Job& j) { j.circuits[kRing].live.rcd.trip_x5_ms = reading<Millis>("3"); }},
      {"rcd-time-plausible", "slower at five times", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) { j.circuits[kRing].live.rcd.trip_x5_ms = reading<Millis>("30"); }},
      {"resolution", "more places than an instrument shows", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) { zs(j, "0.4613"); }},
      {"resolution", "exactly zero", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) { j.circuits[kRing].dead.r1 = reading<Ohms>("0.00"); }},
      {"resolution", "three places", Sort::at_limit, kRing, Verdict::not_applicable,
       [](Job& j) { zs(j, "0.461"); }},
      {"resolution", "no more than three", Sort::passes, kRing, Verdict::not_applicable,
       [](Job&) {}},
  };
}

}  // namespace bench
