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
      {"radio-level", "poor", Sort::fails, kRing, Verdict::borderline,
       [](Job& j) { j.circuits[kRing].accessories[0].radio_level = field(false); }},
      {"radio-level", "good", Sort::passes, kRing, Verdict::pass,
       [](Job& j) { j.circuits[kRing].accessories[0].radio_level = field(true); }},
      {"controls", "poor radio level at a button", Sort::fails, -1, Verdict::borderline,
       [](Job& j) { j.controls[0].radio_level = field(false); }},
  };
}

}  // namespace bench
