#include "cases.h"

namespace bench {
namespace {
using ohmleaf::Millis;
using ohmleaf::Ohms;
using record::Job;

void zs(Job& j, int circuit, const char* text) {
  plain_meter(j);
  j.circuits[static_cast<std::size_t>(circuit)].live.zs = reading<Ohms>(text);
}
/// The ring's device without its RCD: only the overcurrent limit is left.
void no_rcd(Job& j) {
  j.circuits[kRing].device = device("MCB B32, 6 kA");
}
/// A reading at 20 °C with Ze known: corrected exactly instead of by the 80 % guide.
void at_twenty(Job& j) {
  j.circuits[kRing].dead.ambient = quantity<ohmleaf::Celsius>("20");
}
}  // namespace

// B32 within 0.4 s: 1.37 Ω printed (18theditionmock.com); 80 % of it, rounded down: 1.09 Ω.
// 50 V ÷ 30 mA: 1667 Ω (Kewtech KT64 manual p27).
std::vector<Case> zs_cases() {
  return {
      {"zs-overcurrent", "over the limit, no RCD", Sort::fails, kRing, Verdict::fail,
       [](Job& j) {
         no_rcd(j);
         zs(j, kRing, "1.38");
       }},
      {"zs-overcurrent", "exactly the printed limit, no RCD: the temperature allowance is missing",
       Sort::at_limit, kRing, Verdict::borderline,
       [](Job& j) {
         no_rcd(j);
         zs(j, kRing, "1.37");
       }},
      {"zs-overcurrent", "a hair over the printed limit is never rounded", Sort::fails, kRing,
       Verdict::fail,
       [](Job& j) {
         no_rcd(j);
         zs(j, kRing, "1.3701");
       }},
      {"zs-overcurrent", "exactly at 80 %", Sort::at_limit, kRing, Verdict::pass,
       [](Job& j) { zs(j, kRing, "1.09"); }},
      {"zs-overcurrent", "just over 80 %", Sort::fails, kRing, Verdict::borderline,
       [](Job& j) { zs(j, kRing, "1.10"); }},
      {"zs-overcurrent", "the exact correction takes the place of the guide", Sort::passes, kRing,
       Verdict::pass,
       [](Job& j) {
         at_twenty(j);
         zs(j, kRing, "1.10");
       }},
      {"zs-overcurrent", "and is a limit of its own", Sort::fails, kRing, Verdict::borderline,
       [](Job& j) {
         at_twenty(j);
         zs(j, kRing, "1.18");
       }},
      {"zs-overcurrent", "over the limit, RCD in the path: relies on the RCD", Sort::fails, kRing,
       Verdict::borderline, [](Job& j) { zs(j, kRing, "1.52"); }},
      {"zs-overcurrent", "over the RCD's limit too", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { zs(j, kRing, "1668"); }},
      {"zs-overcurrent", "\"> 1.0\" shows nothing about a maximum of 1.37", Sort::fails, kRing,
       Verdict::missing, [](Job& j) { zs(j, kRing, ">1.0"); }},
      {"zs-overcurrent", "\"> 1.37\" is over 1.37", Sort::fails, kRing, Verdict::fail,
       [](Job& j) {
         no_rcd(j);
         zs(j, kRing, ">1.37");
       }},
      {"zs-overcurrent", "\"< 0.05\" is under it", Sort::passes, kRing, Verdict::pass,
       [](Job& j) { zs(j, kRing, "<0.05"); }},
      {"zs-overcurrent", "LIM is a report's word", Sort::fails, kRing, Verdict::missing,
       [](Job& j) { zs(j, kRing, "LIM: no access"); }},
      {"zs-overcurrent", "N/A is no answer", Sort::fails, kRing, Verdict::missing,
       [](Job& j) { zs(j, kRing, "N/A: forgot"); }},
      {"zs-overcurrent", "absent", Sort::fails, kRing, Verdict::missing,
       [](Job& j) { j.circuits[kRing].live.zs = {}; }},
      {"zs-overcurrent", "a fuse at a time that no table has", Sort::fails, kRing,
       Verdict::doubtful,
       [](Job& j) {
         j.circuits[kRing].device = device("BS 3036 30 A, 4 kA");
         j.supply.voltage = field(ohmleaf::Decimal::integer(240));
       }},
      {"zs-overcurrent", "the uncertainty of the instrument counts where it is declared",
       Sort::fails, kRing, Verdict::borderline,
       [](Job& j) { j.circuits[kRing].live.zs = reading<Ohms>("1.05"); }},
      {"zs-rcd", "TT: over 50 V ÷ IΔn", Sort::fails, 0, Verdict::fail,
       [](Job& j) { zs(j, 0, "1668"); }, "tt-cottage"},
      {"zs-rcd", "TT: exactly at it", Sort::at_limit, 0, Verdict::pass,
       [](Job& j) { zs(j, 0, "1667"); }, "tt-cottage"},
      {"zs-rcd", "TT: absent", Sort::fails, 0, Verdict::missing,
       [](Job& j) { j.circuits[0].live.zs = {}; }, "tt-cottage"},
      {"zs-rcd", "shown beside the overcurrent limit", Sort::passes, kRing, Verdict::pass,
       [](Job&) {}},
      {"zs-overcurrent", "does not apply on TT", Sort::passes, 0, Verdict::not_applicable,
       [](Job&) {}, "tt-cottage"},
      {"disconnection-time", "stated for each circuit", Sort::passes, kRing, Verdict::note,
       [](Job&) {}},
      {"disconnection-time", "stated for a 45 A circuit of fixed equipment too", Sort::fails, kRing,
       Verdict::note, [](Job& j) { j.circuits[kRing].device = device("MCB B40, 6 kA"); }},
  };
}

}  // namespace bench
