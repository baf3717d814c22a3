#include "cases.h"

namespace bench {
namespace {
using ohmleaf::Megohms;
using ohmleaf::Ohms;
using ohmleaf::Volts;
using record::Electronics;
using record::Job;
constexpr int kJob = -1;

record::DeadTests& ring(Job& j) {
  return j.circuits[kRing].dead;
}
record::DeadTests& lighting(Job& j) {
  return j.circuits[kLighting].dead;
}
void live_earth(Job& j, const char* text) {
  plain_meter(j);
  ring(j).insulation.live_earth = reading<Megohms>(text);
}
void volts(Job& j, const char* digits) {
  ring(j).insulation.volts = quantity<Volts>(digits);
}
void electronics(Job& j, Electronics e) {
  ring(j).insulation.electronics = field(e);
}
}  // namespace

// 1 MΩ at 500 V: BS 7671 Table 64 (Electrical Wholesaler, May 2023). Ring arithmetic:
// machineryequipmentonline.com. Resistances: IEC 60228.
std::vector<Case> dead_cases() {
  return {
      {"continuity", "absent on a radial", Sort::fails, kLighting, Verdict::missing,
       [](Job& j) { lighting(j).r1r2 = {}; }},
      {"continuity", "open", Sort::fails, kLighting, Verdict::fail,
       [](Job& j) { lighting(j).r1r2 = reading<Ohms>(">99.9"); }},
      {"continuity", "LIM on one's own work", Sort::fails, kLighting, Verdict::missing,
       [](Job& j) { lighting(j).r1r2 = reading<Ohms>("LIM: joists"); }},
      {"continuity", "R2 in its place", Sort::passes, kLighting, Verdict::pass,
       [](Job& j) {
         lighting(j).r1r2 = {};
         lighting(j).r2_only = reading<Ohms>("0.37");
       }},
      {"continuity", "R2 alone is not enough for a ring", Sort::fails, kRing, Verdict::missing,
       [](Job& j) {
         ring(j).r1r2 = {};
         ring(j).r2_only = reading<Ohms>("0.37");
       }},
      {"r2-within-r1r2", "R2 above R1+R2", Sort::fails, kLighting, Verdict::doubtful,
       [](Job& j) { lighting(j).r2_only = reading<Ohms>("0.63"); }},
      {"r2-within-r1r2", "equal to it", Sort::at_limit, kLighting, Verdict::not_applicable,
       [](Job& j) { lighting(j).r2_only = reading<Ohms>("0.62"); }},
      {"r1r2-length", "too high for its length", Sort::fails, 0, Verdict::doubtful,
       [](Job& j) { j.circuits[0].dead.r1r2 = reading<Ohms>("4.2"); }, "new-board"},
      {"r1r2-length", "fits", Sort::passes, 0, Verdict::not_applicable, [](Job&) {}, "new-board"},
      {"polarity-dead", "wrong", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { ring(j).polarity = field(false); }},
      {"polarity-dead", "not confirmed", Sort::fails, kRing, Verdict::missing,
       [](Job& j) { ring(j).polarity = {}; }},
      {"polarity-dead", "right", Sort::passes, kRing, Verdict::pass, [](Job&) {}},
      {"polarity-live", "wrong", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { j.circuits[kRing].live.polarity = field(false); }},
      {"polarity-live", "right", Sort::passes, kRing, Verdict::pass, [](Job&) {}},
      {"functional", "does not work", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { j.circuits[kRing].live.functional = field(false); }},
      {"functional", "not recorded, and an accessory not tried", Sort::fails, kLighting,
       Verdict::missing,
       [](Job& j) {
         j.circuits[kLighting].live.functional = {};
         j.circuits[kLighting].accessories[0].function_tested = {};
       }},
      {"functional", "each accessory tried", Sort::passes, kRing, Verdict::pass,
       [](Job& j) { j.circuits[kRing].live.functional = {}; }},
      {"ring-closes", "open neutral", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { ring(j).rn = reading<Ohms>(">99.9"); }},
      {"ring-closes", "r2 absent", Sort::fails, kRing, Verdict::missing,
       [](Job& j) { ring(j).r2 = {}; }},
      {"ring-closes", "closed", Sort::passes, kRing, Verdict::pass, [](Job&) {}},
      {"ring-line-neutral", "0.06 Ω apart", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) { ring(j).rn = reading<Ohms>("0.38"); }},
      {"ring-line-neutral", "exactly 0.05 Ω apart", Sort::at_limit, kRing, Verdict::not_applicable,
       [](Job& j) { ring(j).rn = reading<Ohms>("0.37"); }},
      {"ring-ratio", "r2 as if it were the line's size", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) { ring(j).r2 = reading<Ohms>("0.32"); }},
      {"ring-ratio", "by the resistances", Sort::passes, kRing, Verdict::not_applicable,
       [](Job&) {}},
      {"ring-r1r2", "a slipped point", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) { ring(j).r1r2 = reading<Ohms>("2.5"); }},
      {"ring-r1r2", "lower than any point of this ring", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) { ring(j).r1r2 = reading<Ohms>("0.14"); }},
      {"ring-r1r2", "the spur reads higher", Sort::passes, kRing, Verdict::not_applicable,
       [](Job&) {}},
      {"ring-crossed", "not ticked", Sort::fails, kRing, Verdict::missing,
       [](Job& j) { ring(j).ring_crossed = {}; }},
      {"ring-crossed", "readings stand for the tick", Sort::passes, kRing, Verdict::pass,
       [](Job& j) {
         ring(j).ring_crossed = {};
         ring(j).cross_ln = reading<Ohms>("0.16");
         ring(j).cross_lc = reading<Ohms>("0.21");
       }},
      {"ring-cross-readings", "does not fit the loops", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) { ring(j).cross_ln = reading<Ohms>("1.6"); }},
      {"ring-cross-readings", "fits", Sort::passes, kRing, Verdict::not_applicable,
       [](Job& j) { ring(j).cross_ln = reading<Ohms>("0.16"); }},
      {"insulation-live-earth", "too low", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { live_earth(j, "0.99"); }},
      {"insulation-live-earth", "exactly 1 MΩ", Sort::at_limit, kRing, Verdict::pass,
       [](Job& j) { live_earth(j, "1.0"); }},
      {"insulation-live-earth", "\"> 200\" against a minimum of 1", Sort::passes, kRing,
       Verdict::pass, [](Job& j) { live_earth(j, ">200"); }},
      {"insulation-live-earth", "\"> 0.5\" shows nothing about 1", Sort::fails, kRing,
       Verdict::missing, [](Job& j) { live_earth(j, ">0.5"); }},
      {"insulation-live-earth", "\"< 0.5\" is under 1", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { live_earth(j, "<0.5"); }},
      {"insulation-live-earth", "absent", Sort::fails, kRing, Verdict::missing,
       [](Job& j) { ring(j).insulation.live_earth = {}; }},
      {"insulation-live-live", "too low", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { ring(j).insulation.live_live = reading<Megohms>("0.9"); }},
      {"insulation-live-live", "through connected electronics", Sort::fails, kRing,
       Verdict::doubtful,
       [](Job& j) {
         electronics(j, Electronics::connected);
         volts(j, "250");
       }},
      {"insulation-live-live", "left out with electronics connected", Sort::passes, kRing,
       Verdict::not_applicable,
       [](Job& j) {
         electronics(j, Electronics::connected);
         volts(j, "250");
         ring(j).insulation.live_live = {};
       }},
      {"insulation-voltage", "250 V with electronics disconnected", Sort::fails, kRing,
       Verdict::missing, [](Job& j) { volts(j, "250"); }},
      {"insulation-voltage", "500 V with electronics connected", Sort::fails, kRing,
       Verdict::doubtful, [](Job& j) { electronics(j, Electronics::connected); }},
      {"insulation-voltage", "exactly 500 V", Sort::at_limit, kRing, Verdict::pass, [](Job&) {}},
      {"insulation-electronics", "not stated", Sort::fails, kRing, Verdict::missing,
       [](Job& j) { ring(j).insulation.electronics = {}; }},
      {"insulation-electronics", "stated as none, and there are some", Sort::fails, kRing,
       Verdict::doubtful, [](Job& j) { electronics(j, Electronics::none); }},
      {"insulation-electronics", "not back, and one not tried", Sort::fails, kRing,
       Verdict::missing,
       [](Job& j) {
         ring(j).insulation.reconnected = {};
         j.circuits[kRing].accessories[0].function_tested = {};
       }},
      {"insulation-electronics", "each tried afterwards", Sort::passes, kRing, Verdict::pass,
       [](Job& j) { ring(j).insulation.reconnected = {}; }},
      {"insulation-low", "1.5 MΩ", Sort::fails, kRing, Verdict::note,
       [](Job& j) { live_earth(j, "1.5"); }},
      {"insulation-low", "exactly 2 MΩ", Sort::at_limit, kRing, Verdict::not_applicable,
       [](Job& j) { live_earth(j, "2"); }},
      {"insulation-equal", "one finite reading everywhere", Sort::fails, kJob, Verdict::doubtful,
       [](Job& j) {
         for (auto& c : j.circuits) c.dead.insulation.live_earth = reading<Megohms>("240");
       }},
      {"insulation-equal", "\">999\" everywhere is normal", Sort::passes, kJob,
       Verdict::not_applicable, [](Job&) {}},
  };
}

}  // namespace bench
