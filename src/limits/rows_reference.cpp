#include <array>
#include <span>

#include "limits/rows_tables.h"
#include "limits/sources.h"

// What is words rather than figures: instruments, isolation, inspection, the order of the tests.

namespace ohmleaf::limits::rows {
namespace {

struct Words {
  std::string_view item, value, note;
  Origin origin;
};

constexpr Origin kMemory{Provenance::memory, cite::kMemory};
constexpr Origin published(std::string_view source) {
  return {Provenance::published, source};
}
constexpr Origin kTlc = published("TLC-direct Electrician's Guide 8.2.2, Table 8.3");
constexpr Origin kOrder = published(
    "electriciancentre.co.uk, sequence of tests; electrics-home.co.uk, testing and inspection");

std::vector<Row> made(std::string_view table, std::span<const Words> words) {
  std::vector<Row> out;
  for (const Words& w : words) out.push_back(from_text(table, w.item, w.value, w.origin, w.note));
  return out;
}

constexpr std::array kInstruments{
    Words{"general, IEC 61557-1", "0-35 C, 85-110 % supply rated conditions", "",
          published("iec.freestandards (61557-1 abstract)")},
    Words{"insulation resistance, IEC 61557-2", "± 30 %", "U 250/500/1000 V d.c.; ≥ 1 mA at U",
          published("electrics-home.co.uk (30 % general, 1 mA); BEIW p362")},
    Words{"loop impedance, IEC 61557-3", "± 30 %", "", published("impedanza.com guide")},
    Words{"low-resistance continuity, IEC 61557-4", "± 30 %",
          "4-24 V open-circuit; ≥ 200 mA; range includes 0.2-2 ohm; resolution 0.01 ohm",
          published("electrics-home.co.uk; BEIW p362; Metrel EurotestXE manual (200 mA)")},
    Words{"earth resistance, IEC 61557-5", "± 30 %", "", kMemory},
    Words{"RCD tester, IEC 61557-6",
          "trip time: ± 10 % of limit; IdN test current 0..+10 %; fault voltage 0..+20 %",
          "in-service 10 %",
          Origin{Provenance::memory, "memory (10 % in-service figure for RCD testers: BEIW p363)"}},
    Words{"phase sequence, IEC 61557-7", "no figure known", "", kMemory},
    Words{"basic accuracy, BS EN 61557", "5 % digital / 2 % analogue (scale)", "",
          published("electrics-home.co.uk")},
    Words{"typical", "RCD trip time ± 3 ms (Benning); ± (1 %+1 ms) (Fluke)", "",
          published("Benning IT120B manual; Fluke 1653B manual")},
};

constexpr std::array kIsolation{
    Words{"probe exposed tip", "≤ 4 mm; strongly recommended ≤ 2 mm or retractable/shrouded", "",
          published("electriciansforums.net 200011 quoting HSE GS 38 4th ed (2015)")},
    Words{"probe",
          "finger barrier, insulated, HBC fuse (usually ≤ 500 mA multimeter), ~10 A typical for "
          "loop/RCD tester leads",
          "", published("electriciansforums.net 200011")},
    Words{"indicator/tester", "BS EN 61243-3; leads BS EN 61010-031; CAT marking", "",
          published("electriciansforums.net 200011")},
    Words{"safe isolation sequence",
          "identify - obtain permission - switch off - isolate - lock off & retain key - warning "
          "notice - prove tester on known source - test dead - re-prove tester",
          "", published("plumbrevise.co.uk; engx.theiet.org 32073; BEIW p39")},
    Words{"dead test pairs 1-phase", "L-N, L-E, N-E", "", published("engx.theiet.org 32073")},
    Words{"dead test pairs 3-phase (10)",
          "L1-L2, L2-L3, L1-L3, L1-N, L2-N, L3-N, L1-E, L2-E, L3-E, N-E", "",
          published("engx.theiet.org 32073")},
};

constexpr std::array kInspection{
    Words{"1", "connection of conductors", "", published("BEIW p361")},
    Words{"2", "identification of conductors", "", published("BEIW p361")},
    Words{"3", "routing and mechanical protection", "", published("BEIW p361")},
    Words{"4", "current capacity and voltage drop selection", "", kTlc},
    Words{"5", "correct connection of accessories; polarity; single-pole in line only", "", kTlc},
    Words{"6", "fire barriers", "", kTlc},
    Words{"7", "protection: earthing, bonding, ADS", "", kTlc},
    Words{"8", "prevention of mutual influence", "", kTlc},
    Words{"9", "isolation and switching devices present and placed", "", kMemory},
    Words{"10", "undervoltage devices", "", kMemory},
    Words{"11",
          "choice/setting of protective & monitoring devices (OCPD, RCD, SPD, AFDD where present)",
          "", published("BEIW p361")},
    Words{"12", "labelling, circuit identification, warning notices", "", published("BEIW p361")},
    Words{"13", "diagrams/instructions", "", published("BEIW p361")},
    Words{"14", "access to switchgear", "", published("BEIW p361")},
    Words{"15", "suitability for external influences; erection methods", "",
          published("BEIW p361")},
};

constexpr std::array kMinorWorks{
    Words{"1", "client, location, date, description of work, departures", "",
          published("description of the 2008-era minor works form (scribd 66642468)")},
    Words{"2", "earthing system, shock protection, main protective device BS/type/rating", "",
          published("description of the 2008-era minor works form (scribd 66642468)")},
    Words{"3", "RCD BS/type/rated current/time if used", "",
          published("description of the 2008-era minor works form (scribd 66642468)")},
    Words{"4", "wiring system, reference method, conductor sizes", "",
          published("description of the 2008-era minor works form (scribd 66642468)")},
    Words{"5", "disconnection time and maximum Zs for the circuit", "",
          published("description of the 2008-era minor works form (scribd 66642468)")},
    Words{"6", "comments on existing installation", "",
          published("description of the 2008-era minor works form (scribd 66642468)")},
    Words{"7", "confirmation of inspections, adequacy of earthing & bonding", "",
          published("description of the 2008-era minor works form (scribd 66642468)")},
    Words{"8",
          "continuity (R1+R2 or R2), insulation (L-L/L-N, L-E, N-E), polarity, Zs, RCD time at IdN",
          "", published("description of the 2008-era minor works form (scribd 66642468)")},
    Words{"9", "instruments used", "",
          published("description of the 2008-era minor works form (scribd 66642468)")},
    Words{"10", "agreed limitations/departures", "",
          published("description of the 2008-era minor works form (scribd 66642468)")},
    Words{"11", "declaration by competent person, name, signature, date", "",
          published("description of the 2008-era minor works form (scribd 66642468)")},
    Words{"12", "not for a new circuit", "",
          published("description of the 2008-era minor works form (scribd 66642468)")},
};

constexpr std::array kSequence{
    Words{"1", "continuity of protective/bonding conductors", "", kOrder},
    Words{"2", "ring continuity", "", kOrder},
    Words{"3", "insulation resistance", "", kOrder},
    Words{"4", "polarity", "", kOrder},
    Words{"5", "(earth electrode)", "", kOrder},
    Words{"6", "Zs", "", kOrder},
    Words{"7", "prospective fault current", "", kOrder},
    Words{"8", "RCD/AFDD/functional", "", kOrder},
};

}  // namespace

std::vector<Row> instruments(Edition) {
  return made("instruments", kInstruments);
}
std::vector<Row> isolation(Edition) {
  return made("isolation", kIsolation);
}
std::vector<Row> inspection(Edition) {
  return made("inspection", kInspection);
}
std::vector<Row> minor_works(Edition) {
  return made("minor-works", kMinorWorks);
}
std::vector<Row> test_sequence(Edition) {
  return made("test-sequence", kSequence);
}

}  // namespace ohmleaf::limits::rows
