#include "cases.h"

namespace bench {
namespace {
using record::Job;

record::Accessory& dimmer(Job& j) {
  return j.circuits[kLighting].accessories[0];
}
}  // namespace

std::vector<Case> trap_cases() {
  return {
      {"borrowed-neutral", "of another circuit", Sort::fails, kLighting, Verdict::fail,
       [](Job& j) { dimmer(j).neutral_from = text("3"); }},
      {"borrowed-neutral", "of this circuit", Sort::passes, kLighting, Verdict::pass,
       [](Job& j) { dimmer(j).neutral_from = j.circuits[kLighting].ref; }},
      {"borrowed-neutral", "nothing said", Sort::passes, kLighting, Verdict::not_applicable,
       [](Job&) {}},
      {"cpc-misused", "as a neutral", Sort::fails, kLighting, Verdict::fail,
       [](Job& j) { dimmer(j).cpc_used_as = text("neutral"); }},
      {"cpc-misused", "as a switched line", Sort::fails, kLighting, Verdict::fail,
       [](Job& j) { dimmer(j).cpc_used_as = text("switched line"); }},
      {"cpc-misused", "as what it is", Sort::passes, kLighting, Verdict::pass,
       [](Job& j) { dimmer(j).cpc_used_as = text("protective conductor"); }},
      {"rcd-neutral", "crossed", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { j.circuits[kRing].live.rcd_neutral = field(false); }},
      {"rcd-neutral", "its own", Sort::passes, kRing, Verdict::pass,
       [](Job& j) { j.circuits[kRing].live.rcd_neutral = field(true); }},
      {"not-asked", "ring readings on a radial", Sort::fails, kLighting, Verdict::doubtful,
       [](Job& j) { j.circuits[kLighting].dead.r1 = reading<ohmleaf::Ohms>("0.32"); }},
      {"not-asked", "an arc-fault button without the device", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) { j.circuits[kRing].live.afdd_button = field(true); }},
      {"not-asked", "what belongs there", Sort::passes, kRing, Verdict::not_applicable,
       [](Job&) {}},
      {"arc-fault", "in a care home", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) { j.premises_kind = text("care-home"); }},
      {"arc-fault", "a new circuit in a high-rise", Sort::fails, kRing, Verdict::fail,
       [](Job& j) {
         j.premises_kind = text("high-rise");
         j.circuits[kRing].is_new = field(true);
       }},
      {"arc-fault", "exactly 32 A", Sort::at_limit, kRing, Verdict::doubtful,
       [](Job& j) { j.premises_kind = text("student"); }},
      {"arc-fault", "lighting is not asked for it", Sort::passes, kLighting,
       Verdict::not_applicable, [](Job& j) { j.premises_kind = text("student"); }},
      {"arc-fault", "a house", Sort::passes, kRing, Verdict::not_applicable,
       [](Job& j) { j.premises_kind = text("dwelling"); }},
      {"radio-level", "poor", Sort::fails, kRing, Verdict::borderline,
       [](Job& j) { j.circuits[kRing].accessories[0].radio_level = field(false); }},
      {"radio-level", "good", Sort::passes, kRing, Verdict::pass,
       [](Job& j) { j.circuits[kRing].accessories[0].radio_level = field(true); }},
      {"controls", "poor radio level at a button", Sort::fails, -1, Verdict::borderline,
       [](Job& j) { j.controls[0].radio_level = field(false); }},
  };
}

}  // namespace bench
