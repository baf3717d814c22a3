#include "cases.h"

namespace bench {
namespace {
using ohmleaf::Kiloamps;
using ohmleaf::Ohms;
using ohmleaf::SquareMm;
using record::Job;
constexpr int kJob = -1;

void ze(Job& j, const char* text) {
  j.supply.ze = reading<Ohms>(text);
}
void pfc(Job& j, const char* text) {
  j.supply.pfc = reading<Kiloamps>(text);
}
}  // namespace

// Declared maxima 0.35 Ω (TN-C-S): SSEN ForContractors page. 200 Ω: Linsley p369. Table 54.7, 54.8:
// the-regs.co.uk/blog/?p=280.
std::vector<Case> supply_cases() {
  return {
      {"supply-recorded", "no main fuse", Sort::fails, kJob, Verdict::missing,
       [](Job& j) { j.supply.main_fuse = {}; }},
      {"supply-recorded", "no earthing arrangement", Sort::fails, kJob, Verdict::missing,
       [](Job& j) { j.supply.earthing = {}; }},
      {"supply-recorded", "all there", Sort::passes, kJob, Verdict::pass, [](Job&) {}},
      {"ze", "over what is declared", Sort::fails, kJob, Verdict::doubtful,
       [](Job& j) { ze(j, "0.36"); }},
      {"ze", "exactly what is declared", Sort::at_limit, kJob, Verdict::pass,
       [](Job& j) { ze(j, "0.35"); }},
      {"ze", "absent", Sort::fails, kJob, Verdict::missing, [](Job& j) { j.supply.ze = {}; }},
      {"ze", "not asked on TT", Sort::passes, kJob, Verdict::not_applicable, [](Job&) {},
       "tt-cottage"},
      {"earth-reconnected", "still off", Sort::fails, kJob, Verdict::fail,
       [](Job& j) { j.supply.reconnected = field(false); }},
      {"earth-reconnected", "not confirmed", Sort::fails, kJob, Verdict::missing,
       [](Job& j) { j.supply.reconnected = {}; }},
      {"earth-reconnected", "by enquiry it never was off", Sort::passes, kJob,
       Verdict::not_applicable,
       [](Job& j) {
         j.supply.reconnected = {};
         j.supply.ze_by = field(record::Means::enquiry);
       }},
      {"ra", "over 50 V ÷ IΔn", Sort::fails, kJob, Verdict::fail,
       [](Job& j) { j.supply.ra = reading<Ohms>("1668"); }, "tt-cottage"},
      {"ra", "exactly at it", Sort::at_limit, kJob, Verdict::pass,
       [](Job& j) { j.supply.ra = reading<Ohms>("1667"); }, "tt-cottage"},
      {"ra", "absent", Sort::fails, kJob, Verdict::missing, [](Job& j) { j.supply.ra = {}; },
       "tt-cottage"},
      {"ra", "the least sensitive RCD counts", Sort::fails, kJob, Verdict::fail,
       [](Job& j) {
         j.supply.ra = reading<Ohms>("600");
         j.supply.rcd = device("RCCB 63 A, 100 mA type S");
       },
       "tt-cottage"},
      {"ra-stable", "over 200 Ω", Sort::fails, kJob, Verdict::borderline,
       [](Job& j) { j.supply.ra = reading<Ohms>("201"); }, "tt-cottage"},
      {"ra-stable", "exactly 200 Ω", Sort::at_limit, kJob, Verdict::not_applicable,
       [](Job& j) { j.supply.ra = reading<Ohms>("200"); }, "tt-cottage"},
      {"electrode", "not described", Sort::fails, kJob, Verdict::missing,
       [](Job& j) { j.supply.electrode = {}; }, "tt-cottage"},
      {"electrode", "described", Sort::passes, kJob, Verdict::not_applicable, [](Job&) {},
       "tt-cottage"},
      {"supply-polarity", "reversed", Sort::fails, kJob, Verdict::fail,
       [](Job& j) { j.supply.polarity = field(false); }},
      {"supply-polarity", "right", Sort::passes, kJob, Verdict::not_applicable, [](Job&) {}},
      {"other-sources", "PV", Sort::fails, kJob, Verdict::note,
       [](Job& j) { j.supply.other_sources = {text("PV")}; }},
      {"other-sources", "none", Sort::passes, kJob, Verdict::not_applicable, [](Job&) {}},
      {"earthing-conductor", "smaller than Table 54.7", Sort::fails, kJob, Verdict::doubtful,
       [](Job& j) { j.bonding.earthing_conductor = reading<SquareMm>("10"); }},
      {"earthing-conductor", "exactly Table 54.7", Sort::at_limit, kJob, Verdict::pass,
       [](Job&) {}},
      {"earthing-conductor", "absent", Sort::fails, kJob, Verdict::missing,
       [](Job& j) { j.bonding.earthing_conductor = {}; }},
      {"main-bonding", "6 mm² under TN-C-S", Sort::fails, kJob, Verdict::fail,
       [](Job& j) { j.bonding.water = reading<SquareMm>("6"); }},
      {"main-bonding", "exactly 10 mm²", Sort::at_limit, kJob, Verdict::pass, [](Job&) {}},
      {"main-bonding", "gas not looked at", Sort::fails, kJob, Verdict::missing,
       [](Job& j) { j.bonding.gas = {}; }},
      {"main-bonding", "plastic pipe", Sort::passes, kJob, Verdict::pass,
       [](Job& j) { j.bonding.water = reading<SquareMm>("N/A: plastic pipe"); }},
      {"bonding-resistance", "too high for its length", Sort::fails, kJob, Verdict::doubtful,
       [](Job& j) { j.bonding.water_ohms = reading<Ohms>("0.2"); }},
      {"bonding-resistance", "fits its length", Sort::passes, kJob, Verdict::pass, [](Job&) {}},
      {"fault-current", "absent", Sort::fails, kJob, Verdict::missing,
       [](Job& j) { j.supply.pfc = {}; }},
      {"fault-current", "there", Sort::passes, kJob, Verdict::pass, [](Job&) {}},
      {"breaking-capacity", "more than the device breaks, and no supply fuse recorded", Sort::fails,
       kRing, Verdict::fail,
       [](Job& j) {
         pfc(j, "6.1");
         j.supply.main_fuse = {};
       }},
      {"breaking-capacity", "within the consumer unit's conditional rating", Sort::fails, kRing,
       Verdict::borderline, [](Job& j) { pfc(j, "6.1"); }},
      {"breaking-capacity", "beyond that too", Sort::fails, kRing, Verdict::fail,
       [](Job& j) { pfc(j, "16.1"); }},
      {"breaking-capacity", "exactly what the device breaks", Sort::at_limit, kRing, Verdict::pass,
       [](Job& j) { pfc(j, "6"); }},
      {"breaking-capacity", "not known", Sort::fails, kRing, Verdict::missing,
       [](Job& j) { j.circuits[kRing].device = device("RCBO B32, 30 mA type A"); }},
      {"fault-current-ze", "far below U0 ÷ Ze", Sort::fails, kJob, Verdict::doubtful,
       [](Job& j) { pfc(j, "0.5"); }},
      {"fault-current-ze", "above is normal", Sort::passes, kJob, Verdict::not_applicable,
       [](Job& j) { pfc(j, "3"); }},
      {"fault-current-ze", "never asked on TT", Sort::passes, kJob, Verdict::not_applicable,
       [](Job& j) {
         ze(j, "0.1");
         pfc(j, "0.2");
       },
       "tt-cottage"},
      {"fault-current-board", "more at the board than at the origin", Sort::fails, kRing,
       Verdict::doubtful, [](Job& j) { j.circuits[kRing].live.pfc = reading<Kiloamps>("11"); }},
      {"fault-current-board", "less at the board", Sort::passes, kRing, Verdict::not_applicable,
       [](Job& j) { j.circuits[kRing].live.pfc = reading<Kiloamps>("0.9"); }},
      {"fault-current-size", "amperes entered as kiloamperes", Sort::fails, kRing,
       Verdict::doubtful, [](Job& j) { j.circuits[kRing].live.pfc = reading<Kiloamps>("900"); }},
      {"fault-current-size", "believable", Sort::passes, kRing, Verdict::not_applicable,
       [](Job& j) { j.circuits[kRing].live.pfc = reading<Kiloamps>("0.9"); }},
      {"fault-current-size-origin", "over what a public supply shows", Sort::fails, kJob,
       Verdict::doubtful, [](Job& j) { pfc(j, "16.1"); }},
      {"fault-current-size-origin", "exactly that", Sort::at_limit, kJob, Verdict::not_applicable,
       [](Job& j) { pfc(j, "16"); }},
      {"fault-current-size-origin", "over 25 kA on three phases", Sort::fails, kJob,
       Verdict::doubtful,
       [](Job& j) {
         pfc(j, "25.1");
         j.supply.phases = field(ohmleaf::Decimal::integer(3));
       }},
      {"fault-current-size-origin", "exactly 25 kA on three phases", Sort::at_limit, kJob,
       Verdict::not_applicable,
       [](Job& j) {
         pfc(j, "25");
         j.supply.phases = field(ohmleaf::Decimal::integer(3));
       }},
      {"earthing-conductor", "to an electrode, under 2.5 mm²", Sort::fails, kJob, Verdict::fail,
       [](Job& j) { j.bonding.earthing_conductor = reading<SquareMm>("1.5"); }, "tt-cottage"},
      {"earthing-conductor", "to an electrode, exactly 2.5 mm²", Sort::at_limit, kJob,
       Verdict::pass, [](Job& j) { j.bonding.earthing_conductor = reading<SquareMm>("2.5"); },
       "tt-cottage"},
  };
}

}  // namespace bench
