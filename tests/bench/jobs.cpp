#include "bench/jobs.h"

#include <fmt/format.h>

namespace ohmleaf::bench {
namespace {

constexpr const char* kInstaller = R"toml(format = 1

[firm]
name         = "Withy Lane Electrical"
address      = "Unit 9, Withy Lane, Sallow End SW8 3QN"
phone        = "01632 960733"
registration = "Registration 00733 (invented)"

[numbering]
prefix = "WL"

[person.mt]
name = "Marguerite Tandy"
role = "Electrician"

[instrument.mft-1]
kind            = "multifunction tester"
make            = "Larkfield"
model           = "M6"
serial          = "LM6-77120"
calibrated      = 2026-03-16
calibration_due = 2027-03-16
continuity_percent = 3
continuity_ohms    = 0.03
loop_percent       = 5
loop_ohms          = 0.04
insulation_percent = 10
rcd_percent        = 5

[instrument.vi-2]
kind   = "voltage indicator"
make   = "Pellwick"
model  = "Two-pole"
serial = "PW-7731"

[instrument.pu-1]
kind   = "proving unit"
make   = "Pellwick"
model  = "P1"
serial = "PW-0733"

[accessory.socket-2]
class       = "socket-outlet"
name        = "Double socket-outlet"
maker       = "Invented make A"
model       = "DS-2"
box_min_mm  = 25
needs_earth = true
rated       = 13

[accessory.luminaire-1]
class       = "luminaire"
name        = "Ceiling luminaire, Class I"
maker       = "Invented make C"
model       = "CL-14"
needs_earth = true
)toml";

constexpr const char* kSite = R"toml(
existing = "No comments."
nation   = "England"
next_inspection = 2036-11-20
instruments = ["mft-1", "vi-2", "pu-1"]

[supply]
earthing    = "TN-S"
ze          = 0.34
ze_by       = "measured"
reconnected = true
pfc         = "0.78 kA"
pfc_by      = "measured"
main_fuse   = "BS 88-3, 100 A"
main_switch = "BS EN 60947-3, 100 A, two-pole"
polarity    = true

[bonding]
earthing_conductor = 16
water        = 10
water_length = 6
water_ohms   = 0.02
gas          = "N/A: no gas in the premises"

[isolation]
point        = "main switch"
locked       = true
notice       = true
proved_dead  = 2026-11-20T08:20:00
proving_unit = "pu-1"
indicator    = "vi-2"
)toml";

constexpr const char* kAfter = R"toml(
[handover]
instructions_left = true
shown             = true
rcd_explained     = true

[inspection]
connections          = true
identification       = true
routing              = true
conductor_size       = true
accessories          = true
fire_barriers        = "N/A: no barrier was passed"
protection           = true
mutual_influence     = true
isolation_switching  = true
undervoltage         = "N/A: nothing that could harm by starting again"
protective_devices   = true
labels               = true
diagrams             = true
access               = true
external_influences  = true

[notification]
needed    = true
route     = "self-certified through the firm's registration"
reference = "N-0733-26-118"
date      = 2026-11-20
)toml";

constexpr const char* kRooms[] = {"Hall",   "Kitchen", "Workshop", "North landing", "Studio",
                                  "Pantry", "Loft",    "Store",    "Drying room",   "Office"};

/// A radial of socket-outlets or of lights whose loop follows from its length.
std::string circuit(int n, int which) {
  const bool lights = n % 3 == 2;
  const int length = 12 + (n * 7 + which) % 11;
  // mΩ/m of 2.5/1.5 and 1.5/1.0 mm² copper at about 14 °C, in whole hundredths of an ohm.
  const int hundredths = (length * (lights ? 2953 : 1904) + 500) / 1000;
  const int loop = 34 + hundredths;
  return fmt::format(
      R"toml(
[[circuit]]
board  = "CU{}"
ref    = "{}"
name   = "{} {}"
type   = "radial"
new    = true
device = "RCBO {}, 30 mA type A, 6 kA"
cable  = {{ line = {}, cpc = {}, length = {}, method = "C" }}
feeds  = ["{}"]
places = ["concealed cable"]
load   = {}

  [circuit.dead]
  done     = 2026-11-20T14:10:00
  ambient  = 14
  R1R2     = {}.{:02}
  insulation = {{ volts = 500, live_live = ">999", live_earth = {}, electronics = "none" }}
  polarity = true

  [circuit.live]
  energised  = 2026-11-20T15:30:00
  polarity   = true
  zs         = {}.{:02}
  rcd        = {{ trip_ms = {}, test_button = true }}
  functional = true

  [[circuit.accessory]]
  item   = "{}"
  where  = "{}, north wall"
  connection = "radial"
  {}
  earthed = true
  function_tested = true
)toml",
      n / 12 + 1, n % 12 + 1, kRooms[static_cast<unsigned>(n + which) % std::size(kRooms)],
      lights ? "lighting" : "socket-outlets", lights ? "B6" : "B20", lights ? "1.5" : "2.5",
      lights ? "1.0" : "1.5", length, lights ? "lighting" : "socket-outlets", lights ? 2 : 14,
      hundredths / 100, hundredths % 100, 400 + (n * 13 + which) % 500, loop / 100, loop % 100,
      18 + n % 9, lights ? "luminaire-1" : "socket-2",
      kRooms[static_cast<unsigned>(n + which) % std::size(kRooms)],
      lights ? "load_kind = \"led\"\n  load_w = 56" : "box_mm = 35");
}

}  // namespace

std::string installer_toml() {
  return kInstaller;
}

std::string job_toml(int circuits, int which) {
  std::string text = fmt::format(
      "format   = 1\nkind     = \"installation\"\ndate     = 2026-11-20\nperson   = \"mt\"\n"
      "premises = \"{} Alder Rise, Sallow End SW8 {}QN\"\nclient   = \"Saffron Ibbotson\"\n"
      "work     = \"{} new circuits on new consumer units.\"",
      which + 1, which % 10, circuits);
  text += kSite;
  for (int n = 0; n < circuits; ++n) text += circuit(n, which);
  return text + kAfter;
}

}  // namespace ohmleaf::bench
