#include "cases.h"

namespace bench {
namespace {
using ohmleaf::Amps;
using ohmleaf::Millimetres;
using ohmleaf::Watts;
using record::Connection;
using record::Job;
using record::LoadKind;
constexpr int kJob = -1;

record::Accessory& socket(Job& j) {
  return j.circuits[kRing].accessories[0];
}
record::Accessory& spur_socket(Job& j) {
  return j.circuits[kRing].accessories[1];
}
record::Accessory& connection_unit(Job& j) {
  return j.circuits[kRing].accessories[3];
}
record::Accessory& dimmer(Job& j) {
  return j.circuits[kLighting].accessories[0];
}
void watts(record::Accessory& a, const char* digits) {
  a.load_w = quantity<Watts>(digits);
}
}  // namespace

// The maker's figures stand in samples/installer.toml: box 35 mm; LED 5 to 50 W.
std::vector<Case> accessory_cases() {
  return {
      {"accessory-known", "not in the catalogue", Sort::fails, kRing, Verdict::missing,
       [](Job& j) { socket(j).item = text("nobody-1"); }},
      {"accessory-known", "known", Sort::passes, kRing, Verdict::not_applicable, [](Job&) {}},
      {"box-depth", "too shallow", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { socket(j).box_mm = quantity<Millimetres>("25"); }},
      {"box-depth", "exactly deep enough", Sort::at_limit, kRing, Verdict::pass, [](Job&) {}},
      {"box-depth", "not measured", Sort::fails, kRing, Verdict::missing,
       [](Job& j) { socket(j).box_mm = {}; }},
      {"load-range", "under the least load", Sort::fails, kLighting, Verdict::fail,
       [](Job& j) { watts(dimmer(j), "4.9"); }},
      {"load-range", "exactly the least load", Sort::at_limit, kLighting, Verdict::pass,
       [](Job& j) { watts(dimmer(j), "5"); }},
      {"load-range", "exactly the most", Sort::at_limit, kLighting, Verdict::pass,
       [](Job& j) { watts(dimmer(j), "50"); }},
      {"load-range", "over the most", Sort::fails, kLighting, Verdict::fail,
       [](Job& j) { watts(dimmer(j), "51"); }},
      {"load-range", "a kind that the maker does not name", Sort::fails, kLighting, Verdict::fail,
       [](Job& j) { dimmer(j).load_kind = field(LoadKind::motor); }},
      {"load-range", "kind not recorded", Sort::fails, kLighting, Verdict::missing,
       [](Job& j) { dimmer(j).load_kind = {}; }},
      {"load-rated", "over its rated current", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { watts(connection_unit(j), "2991"); }},
      {"load-rated", "exactly 13 A × 230 V", Sort::at_limit, kRing, Verdict::pass,
       [](Job& j) { watts(connection_unit(j), "2990"); }},
      {"bypass", "none fitted", Sort::fails, kLighting, Verdict::fail,
       [](Job& j) { dimmer(j).bypass = field(false); }},
      {"bypass", "not recorded", Sort::fails, kLighting, Verdict::missing,
       [](Job& j) { dimmer(j).bypass = {}; }},
      {"bypass", "two for one dimmer", Sort::fails, kLighting, Verdict::doubtful,
       [](Job& j) {
         auto lamp = dimmer(j);
         lamp.item = text("luminaire-1");
         j.circuits[kLighting].accessories.push_back(lamp);
       }},
      {"bypass", "one for two dimmers of the circuit", Sort::passes, kLighting, Verdict::pass,
       [](Job& j) {
         auto second = dimmer(j);
         second.bypass = {};
         j.circuits[kLighting].accessories.push_back(second);
       }},
      {"neutral", "none at the point", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { socket(j).neutral = field(false); }},
      {"neutral", "not confirmed", Sort::fails, kRing, Verdict::missing,
       [](Job& j) { socket(j).neutral = {}; }},
      {"neutral", "not needed by this dimmer", Sort::passes, kLighting, Verdict::not_applicable,
       [](Job&) {}},
      {"earth-at-point", "none at the point", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { socket(j).earthed = field(false); }},
      {"earth-at-point", "there", Sort::passes, kRing, Verdict::pass, [](Job&) {}},
      {"earth-at-point", "none, where none is needed: a note", Sort::fails, kLighting,
       Verdict::note, [](Job& j) { dimmer(j).earthed = field(false); }},
      {"dimmable", "lamps that are not", Sort::fails, kLighting, Verdict::fail,
       [](Job& j) { dimmer(j).dimmable = field(false); }},
      {"dimmable", "lamps that are", Sort::passes, kLighting, Verdict::pass, [](Job&) {}},
      {"connection", "not recorded", Sort::fails, kRing, Verdict::missing,
       [](Job& j) { socket(j).connection = {}; }},
      {"connection", "in the ring of a radial", Sort::fails, kLighting, Verdict::doubtful,
       [](Job& j) { dimmer(j).connection = field(Connection::in_ring); }},
      {"connection", "recorded", Sort::passes, kRing, Verdict::not_applicable, [](Job&) {}},
      {"fused-spur", "a fuse over 13 A", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { connection_unit(j).fuse = quantity<Amps>("20"); }},
      {"fused-spur", "exactly 13 A", Sort::at_limit, kRing, Verdict::pass,
       [](Job& j) { connection_unit(j).fuse = quantity<Amps>("13"); }},
      {"fused-spur", "fuse not read", Sort::fails, kRing, Verdict::missing,
       [](Job& j) { connection_unit(j).fuse = {}; }},
      {"unfused-spur", "in 1.5 mm²", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { j.circuits[kRing].cable.line = quantity<ohmleaf::SquareMm>("1.5"); }},
      {"unfused-spur", "exactly 2.5 mm²", Sort::at_limit, kRing, Verdict::pass, [](Job&) {}},
      {"spur-from-spur", "two at one place", Sort::fails, kRing, Verdict::doubtful,
       [](Job& j) {
         socket(j).connection = field(Connection::unfused_spur);
         socket(j).where = spur_socket(j).where;
       }},
      {"spur-from-spur", "two at two places", Sort::passes, kRing, Verdict::not_applicable,
       [](Job& j) { socket(j).connection = field(Connection::unfused_spur); }},
      {"accessory-set-up", "not joined", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { socket(j).joined = field(false); }},
      {"accessory-set-up", "not tried", Sort::fails, kRing, Verdict::missing,
       [](Job& j) { socket(j).function_tested = {}; }},
      {"accessory-set-up", "joined and tried", Sort::passes, kRing, Verdict::pass, [](Job&) {}},
      {"controls", "does not work", Sort::fails, kJob, Verdict::fail,
       [](Job& j) { j.controls[0].function_tested = field(false); }},
      {"controls", "works", Sort::passes, kJob, Verdict::pass, [](Job&) {}},
      {"network", "still open", Sort::fails, kJob, Verdict::fail,
       [](Job& j) { j.network.closed = field(false); }},
      {"network", "accounts kept", Sort::fails, kJob, Verdict::fail,
       [](Job& j) { j.network.accounts_with_client = field(false); }},
      {"network", "not asked where nothing is radio-connected", Sort::passes, kJob,
       Verdict::not_applicable, [](Job&) {}, "tt-cottage"},
      {"handover", "nothing recorded: notes", Sort::fails, kJob, Verdict::note,
       [](Job& j) { j.handover = {}; }},
      {"handover", "all left", Sort::passes, kJob, Verdict::pass, [](Job&) {}},
  };
}

}  // namespace bench
