#include "app/works.h"

namespace ohmleaf::app {
namespace {

using record::CircuitType;
using record::JobKind;

constexpr std::string_view kRcbo32 = "RCBO B32, 30 mA type A, 6 kA";
constexpr std::string_view kRcbo20 = "RCBO B20, 30 mA type A, 6 kA";
constexpr std::string_view kRcbo16 = "RCBO B16, 30 mA type A, 6 kA";
constexpr std::string_view kRcbo6 = "RCBO B6, 30 mA type A, 6 kA";

constexpr std::string_view kElectronics =
    "Electronics off for the insulation test at 500 V, or 250 V with line and neutral joined.";
constexpr std::string_view kNeutral =
    "Is there a neutral of this same circuit at the point? Never borrow one from another circuit.";
constexpr std::string_view kEarth =
    "Is there a protective conductor at the point? Old lighting circuits may have none.";
constexpr std::string_view kBox = "Is the box deep enough? The maker's least depth counts.";

constexpr std::array kWorks{
    Work{.key = "ring-outlet",
         .title = "add a socket-outlet to a ring",
         .done = "Added a socket-outlet to a ring final circuit.",
         .type = CircuitType::ring_final,
         .name = "Socket-outlets",
         .feeds = "socket-outlets",
         .device = kRcbo32,
         .line = "2.5",
         .cpc = "1.5",
         .classes = {"socket-outlet", "fused connection unit", ""},
         .connection = "in ring",
         .traps = {"Is it a ring? Prove it end to end before you cut into it.",
                   "A 30 mA RCD has to be in the path of the new socket-outlet.", kBox,
                   kElectronics, ""}},
    Work{.key = "spur",
         .title = "add a spur to a ring",
         .done = "Added a socket-outlet as a spur of a ring final circuit.",
         .type = CircuitType::ring_final,
         .name = "Socket-outlets",
         .feeds = "socket-outlets",
         .device = kRcbo32,
         .line = "2.5",
         .cpc = "1.5",
         .classes = {"socket-outlet", "fused connection unit", ""},
         .connection = "unfused spur",
         .traps =
             {"One single or double socket-outlet to an unfused spur, and never a spur of a spur.",
              "Is the point that you branch from on the ring itself? Prove it first.",
              "A 30 mA RCD has to be in the path of the new socket-outlet.", kBox, kElectronics}},
    Work{.key = "radial-outlet",
         .title = "add a socket-outlet to a radial",
         .done = "Added a socket-outlet to a radial circuit.",
         .type = CircuitType::radial,
         .name = "Socket-outlets",
         .feeds = "socket-outlets",
         .device = kRcbo20,
         .line = "2.5",
         .cpc = "1.5",
         .classes = {"socket-outlet", "fused connection unit", ""},
         .connection = "radial",
         .traps = {"Is it a radial? Two cables in one way at the board are a ring.",
                   "A 30 mA RCD has to be in the path of the new socket-outlet.",
                   "Read R1+R2 and Zs at the farthest point, not only at the new one.", kBox,
                   kElectronics}},
    Work{.key = "connected-switch",
         .title = "replace a switch by a connected one",
         .done = "Replaced a plain switch by a radio-connected one.",
         .type = CircuitType::radial,
         .name = "Lighting",
         .feeds = "lighting",
         .device = kRcbo6,
         .line = "1.5",
         .cpc = "1.0",
         .classes = {"dimmer", "switch", "module"},
         .prefers_radio = true,
         .connection = "switched line",
         .traps = {kNeutral, kEarth,
                   "Without a neutral: does the maker ask for a by-pass load at the luminaire?",
                   "Are the lamps of a kind, and within the watts, that the maker allows?", kBox}},
    Work{.key = "outside-light",
         .title = "outside light",
         .done = "Fitted an outside light.",
         .type = CircuitType::radial,
         .name = "Outside light",
         .feeds = "lighting",
         .place = "outdoors",
         .device = kRcbo6,
         .line = "1.5",
         .cpc = "1.0",
         .classes = {"luminaire", "fused connection unit", "sensor"},
         .connection = "radial",
         .traps = {"A 30 mA RCD has to be in its path.",
                   "Glands, cable and luminaire made for outdoors; seal the hole in the wall.",
                   kEarth, "A movement sensor is electronics: off for the insulation test.", ""}},
    Work{.key = "fan",
         .title = "extractor fan",
         .done = "Fitted an extractor fan.",
         .type = CircuitType::radial,
         .name = "Lighting and fan",
         .feeds = "ventilation",
         .place = "bathroom",
         .device = kRcbo6,
         .line = "1.5",
         .cpc = "1.0",
         .classes = {"fan", "fused connection unit", ""},
         .connection = "radial",
         .traps = {"In a bathroom: which zone, and does the fan's IP rating suit it?",
                   "A 30 mA RCD has to be in the path of every circuit of a bathroom.",
                   "A run-on timer needs a line that stays on and a neutral: isolate both lines.",
                   "The fuse that its maker asks for, often 3 A.",
                   "Local bonding may be needed where the conditions for leaving it out fail."}},
    Work{
        .key = "blind-control",
        .title = "blind control",
        .done = "Fitted a control for a motor blind.",
        .type = CircuitType::radial,
        .name = "Blind",
        .feeds = "fixed equipment",
        .device = kRcbo6,
        .line = "1.5",
        .cpc = "1.0",
        .classes = {"blind control", "module", "fused connection unit"},
        .prefers_radio = true,
        .connection = "fused spur",
        .traps = {kNeutral,
                  "Up and down are two switched lines: never both at once, never the green-yellow.",
                  "Motor load within what the maker allows.", kBox, kElectronics}},
    Work{
        .key = "thermostat",
        .title = "thermostat",
        .done = "Fitted a room thermostat.",
        .type = CircuitType::radial,
        .name = "Heating controls",
        .feeds = "controls",
        .device = kRcbo16,
        .line = "1.5",
        .cpc = "1.0",
        .classes = {"thermostat", "module", "fused connection unit"},
        .prefers_radio = true,
        .connection = "fused spur",
        .traps = {"Contacts free of voltage, or switching the line? The boiler's manual decides.",
                  "A boiler may have a second supply: isolate it at its own fused connection unit.",
                  kNeutral, "Load within the maker's figure: a heater is not a boiler's call.",
                  kElectronics}},
    Work{.key = "new-circuit",
         .title = "new circuit",
         .done = "Installed a new circuit.",
         .kind = JobKind::installation,
         .type = CircuitType::radial,
         .is_new = true,
         .name = "New circuit",
         .feeds = "other equipment",
         .device = kRcbo20,
         .line = "2.5",
         .cpc = "1.5",
         .classes = {"socket-outlet", "fused connection unit", "heater"},
         .connection = "radial",
         .traps = {"A new circuit in a dwelling is usually notifiable to building control.",
                   "Board, tails, earthing and bonding have to be adequate for it.",
                   "Breaking capacity of the device against the fault current at the board.",
                   "Length, method and design current are known here: enter them.", ""}},
    Work{.key = "board",
         .title = "board replacement",
         .done = "Replaced the consumer unit.",
         .kind = JobKind::installation,
         .type = CircuitType::radial,
         .every_circuit = true,
         .name = "Circuit",
         .feeds = "other equipment",
         .device = kRcbo32,
         .line = "2.5",
         .cpc = "1.5",
         .classes = {"", "", ""},
         .traps = {"A change of board is usually notifiable to building control.",
                   "Test every circuit before the old board goes: faults found later are yours.",
                   "Neutrals: each circuit's own, proved apart, on the bar of its own RCD.",
                   "Earthing and bonding have to be adequate before anything is energised.",
                   "Fuse of the supply: ask the distributor before it is drawn."}},
};

}  // namespace

std::span<const Work> works() {
  return kWorks;
}

const Work* work_of(std::string_view key) {
  for (const Work& w : kWorks)
    if (w.key == key) return &w;
  return nullptr;
}

std::vector<std::string> instruments_for(const record::Installer& installer, Date day) {
  std::vector<std::string> out;
  for (const char* kind : {"multifunction tester", "voltage indicator", "proving unit"}) {
    const record::Instrument* best = nullptr;
    for (const record::Instrument& i : installer.instruments) {
      if (!i.kind || *i.kind != kind) continue;
      const auto current = [&](const record::Instrument& one) {
        return !one.calibration_due || *one.calibration_due >= day;
      };
      if (best == nullptr || (!current(*best) && current(i))) best = &i;
    }
    if (best != nullptr) out.push_back(best->id);
  }
  return out;
}

}  // namespace ohmleaf::app
