#include "cases.h"

namespace bench {
namespace {
using ohmleaf::Kiloamps;
using ohmleaf::Megohms;
using ohmleaf::Millis;
using ohmleaf::Ohms;
using ohmleaf::SquareMm;
using record::Job;
constexpr int kJob = -1;

void earth(Job& j, const char* megohms) {
  j.circuits[kRing].dead.insulation.live_earth = reading<Megohms>(megohms);
}
void trip(Job& j, const char* ms) {
  plain_meter(j);
  j.circuits[kRing].live.rcd.trip_ms = reading<Millis>(ms);
}
void r1r2(Job& j, const char* ohms) {
  j.circuits[kLighting].dead.r1r2 = reading<Ohms>(ohms);
}
}  // namespace

// 1.5/1.0 mm²: 12.1 + 18.1 = 30.2 mΩ/m (IEC 60228), so 150 m are 4.53 Ω. BS 4293: 200 ms. 80 A
// fuse: 1.6 × 80 A = 0.128 kA.
std::vector<Case> believable_cases() {
  return {
      {"insulation-range", "two ends of one range", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) { earth(j, ">99.9"); }},
      {"insulation-range", "more than the range shows", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) { earth(j, "1000"); }},
      {"insulation-range", "exactly the end of the range", Sort::at_limit, kRing,
       Verdict::not_applicable, [](Job& j) { earth(j, "999"); }},
      {"insulation-range", "another end at another voltage", Sort::passes, kRing,
       Verdict::not_applicable,
       [](Job& j) {
         auto& x = j.circuits[kRing].dead.insulation;
         x.volts = quantity<ohmleaf::Volts>("250");
         x.live_earth = reading<Megohms>(">99.9");
         x.live_live = reading<Megohms>(">99.9");
       }},
      {"insulation-range", "a lower figure that is no moved point", Sort::passes, kRing,
       Verdict::not_applicable, [](Job& j) { earth(j, ">500"); }},
      {"rcd-slow", "slower than old devices were allowed", Sort::fails, kRing, Verdict::borderline,
       [](Job& j) { trip(j, "201"); }},
      {"rcd-slow", "exactly 200 ms", Sort::at_limit, kRing, Verdict::not_applicable,
       [](Job& j) { trip(j, "200"); }},
      {"rcd-slow", "over the limit itself, which rcd-time judges", Sort::passes, kRing,
       Verdict::not_applicable, [](Job& j) { trip(j, "301"); }},
      {"rcd-slow", "a delayed device", Sort::passes, kRing, Verdict::not_applicable,
       [](Job& j) {
         trip(j, "240");
         j.circuits[kRing].device = device("RCBO B32, 100 mA type S, 6 kA");
       }},
      {"r1r2-run", "more than 150 m of this cable", Sort::fails, kLighting, Verdict::doubtful,
       [](Job& j) { r1r2(j, "4.55"); }},
      {"r1r2-run", "exactly 150 m", Sort::at_limit, kLighting, Verdict::not_applicable,
       [](Job& j) { r1r2(j, "4.53"); }},
      {"r1r2-run", "R2 alone of more than 150 m", Sort::fails, kLighting, Verdict::doubtful,
       [](Job& j) {
         j.circuits[kLighting].dead.r1r2 = {};
         j.circuits[kLighting].dead.r2_only = reading<Ohms>("2.75");
       }},
      {"r1r2-run", "with a length, the length decides", Sort::passes, kLighting,
       Verdict::not_applicable,
       [](Job& j) {
         r1r2(j, "6.0");
         j.circuits[kLighting].cable.length = quantity<ohmleaf::Metres>("198");
       }},
      {"fault-current-fuse", "would not blow its own fuse", Sort::fails, kJob, Verdict::doubtful,
       [](Job& j) { j.supply.pfc = reading<Kiloamps>("0.127"); }},
      {"fault-current-fuse", "exactly 1.6 times the fuse", Sort::at_limit, kJob,
       Verdict::not_applicable, [](Job& j) { j.supply.pfc = reading<Kiloamps>("0.128"); }},
      {"protective-size", "a size that is not made", Sort::fails, kJob, Verdict::doubtful,
       [](Job& j) { j.bonding.water = reading<SquareMm>("100"); }},
      {"protective-size", "an old imperial conductor", Sort::fails, kJob, Verdict::doubtful,
       [](Job& j) { j.bonding.gas = reading<SquareMm>("14"); }},
      {"protective-size", "sizes that are made", Sort::passes, kJob, Verdict::not_applicable,
       [](Job& j) { j.bonding.water = reading<SquareMm>("16"); }},
  };
}

}  // namespace bench
