#pragma once
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/date.h"
#include "limits/device.h"
#include "limits/limit.h"
#include "quantity/reading.h"
#include "record/field.h"
#include "record/split.h"

// One job as types. Keys, units, help and defaults stand in one table a record (job_keys.cpp),
// which drives reading, suggestions, the paths that forms may bind, and the editor schema.

namespace ohmleaf::record {

enum class JobKind { minor_works, installation, condition_report };
enum class Means { measured, calculated, enquiry };
enum class CircuitType { ring_final, radial, spur, distribution };
/// How an added point is connected.
enum class Connection { in_ring, unfused_spur, fused_spur, radial, switched_line, none };
enum class Electronics { disconnected, connected, none };
enum class LoadKind { led, compact_fluorescent, halogen, incandescent, motor, resistive, other };

struct Supply {
  Span span;
  Field<limits::Earthing> earthing;
  Measured<Ohms> ze;                       ///< external earth fault loop impedance at the origin
  Field<Means> ze_by;
  Flag reconnected;                        ///< earthing conductor put back and confirmed after Ze, RA
  Measured<Ohms> ra;                       ///< earth electrode resistance (TT)
  Text electrode;                          ///< "rod, 1.2 m, by the meter cupboard"
  Split<Kiloamps, EachCurrent> pfc;        ///< prospective fault current at the origin, "1.1 kA"
  Field<Means> pfc_by;
  Field<limits::Device> main_fuse;
  Text main_switch;                        ///< "BS EN 60947-3, 100 A, two-pole"
  Field<limits::Device> rcd;               ///< an RCD at the origin, upstream of the circuits
  Field<Decimal> voltage;                  ///< nominal to earth, V; default 230
  Field<Decimal> phases;                   ///< 1 or 3; default 1
  Flag polarity;                           ///< of the supply, confirmed
  Flag phase_sequence;                     ///< of a three-phase supply: L1, L2, L3 in turn
  Field<SquareMm> neutral;                 ///< supply neutral, for the bonding size under TN-C-S
  Texts other_sources;                     ///< "PV", "battery", "generator", "vehicle charging"
};

struct Bonding {
  Span span;
  Measured<SquareMm> earthing_conductor;
  Measured<SquareMm> water, gas, oil, structure, other;   ///< or "N/A: plastic pipe"
  Measured<Ohms> water_ohms, gas_ohms, oil_ohms, structure_ohms, other_ohms;
  Field<Metres> water_length, gas_length, oil_length, structure_length, other_length;
};

struct Isolation {
  Span span;
  Text point;                              ///< "main switch"
  Flag locked;
  Flag notice;                             ///< warning notice posted
  Field<DateTime> proved_dead;
  Text proving_unit;                       ///< key of an instrument
  Text indicator;                          ///< key of an instrument, proved before and after
  Text by;                                 ///< key of a person; default: the job's person
};

struct Cable {
  Span span;
  Field<SquareMm> line, cpc;
  Field<Metres> length;                    ///< often unknown on an existing circuit
  Text method;                             ///< reference method "C", "100" …
  Text kind;                               ///< "flat twin-and-earth" by default
};

struct Insulation {
  Span span;
  Field<Volts> volts;                      ///< test voltage
  Split<Megohms, EachPair> live_live;
  Split<Megohms, EachLive> live_earth;
  Field<Electronics> electronics;
  Flag reconnected;                        ///< what was disconnected for the test is back
};

struct DeadTests {
  Span span;
  Measured<Ohms> r1, rn, r2;               ///< ring, end to end
  Split<Ohms, EachLine> r1r2;              ///< key R1R2: highest at any point
  Measured<Ohms> r2_only;                  ///< key R2: wandering-lead method
  Flag ring_crossed;                       ///< cross-connection steps done at every point
  Measured<Ohms> cross_ln, cross_lc;       ///< highest cross-connected readings, optional
  Insulation insulation;
  Flag polarity;
  Field<Celsius> ambient;                  ///< temperature of the conductors; default unknown
  Field<DateTime> done;
  Text instrument;                         ///< key; default: the job's first multifunction one
};

struct RcdTests {
  Span span;
  Measured<Millis> trip_ms;                ///< at IΔn
  Measured<Millis> trip_x5_ms;             ///< at 5 IΔn, where the edition asks for it
  Flag half_no_trip;                       ///< no trip at half IΔn
  Flag test_button;
};

struct LiveTests {
  Span span;
  Field<DateTime> energised;
  Flag polarity;
  Flag phase_sequence;                     ///< three phases in the right turn at the load end
  Split<Ohms, EachLine> zs;
  Field<Means> zs_by;                      ///< default: measured
  Split<Kiloamps, EachCurrent> pfc;        ///< at the board
  RcdTests rcd;
  Flag afdd_button;
  Flag functional;                         ///< the circuit's functional tests done
  Text instrument;
};

struct Accessory {
  Span span;
  Text item;                               ///< key in the installer's catalogue
  Text where;
  Field<Connection> connection;
  Field<Millimetres> box_mm;               ///< depth of the box it sits in
  Flag neutral;                            ///< a neutral of this circuit is at the point
  Flag earthed;                            ///< a protective conductor is at the point
  Field<LoadKind> load_kind;
  Field<Watts> load_w;                     ///< what it switches or dims, in all
  Flag dimmable;                           ///< the lamps are dimmable
  Flag bypass;                             ///< by-pass load fitted at the luminaire
  Field<Amps> fuse;                        ///< of a fused connection unit
  Flag joined;                             ///< in the radio network
  Flag function_tested;
  Text serial;
  Text note;
};

struct Circuit {
  Span span;                               ///< the [[circuit]] header
  Text board, ref, name;
  Field<CircuitType> type;
  Flag is_new;                             ///< key "new"
  Field<limits::Device> device;
  Field<limits::Device> rcd;               ///< an RCD of its own way, upstream of the device
  Cable cable;
  Texts feeds;                             ///< "socket-outlets", "lighting", "fixed equipment" …
  Texts places;                            ///< "bathroom", "outdoors", "concealed cable"
  Field<Amps> load;                        ///< design current Ib
  Text phase;                              ///< "L1"; default single-phase
  DeadTests dead;
  LiveTests live;
  std::vector<Accessory> accessories;
};

/// A battery control: joined, not wired.
struct Control {
  Span span;
  Text item, where;
  Texts controls;                          ///< what it works, in words
  Flag joined, function_tested;
  Text battery;                            ///< kind left with the client
  Text serial;
};

struct Network {
  Span span;
  Text hub;                                ///< where it stands
  Flag opened, closed;                     ///< for joining, and closed again at the end
  Flag tried;                              ///< from every control, with the doors shut
  Flag accounts_with_client;
};

struct Handover {
  Span span;
  Flag instructions_left, batteries_left, shown, rcd_explained;
};

/// One line of the inspection checklist; the items and their words stand in one table.
struct InspectionItem {
  std::string key;
  std::optional<bool> done;                ///< true: inspected and in order; false: not in order
  std::string not_applicable;              ///< the reason
  std::string limitation;                  ///< the reason
  Span span;
};

struct Confirmation {
  Span span;
  Text check;                              ///< id of the finding that is confirmed
  Text circuit;                            ///< ref; absent: the job itself
  Text reason, by;
};
struct Departure {
  Span span;
  Text what, reason, by;
};
struct Limitation {
  Span span;
  Text what, agreed_with;
};
struct Observation {
  Span span;
  Text what, where, code;                  ///< code: C1, C2, C3, FI in a condition report
  Text check = {}, circuit = {};           ///< the finding that it classifies, as in a confirmation
  Text action = {};                        ///< what is to be done about it
};
/// A danger, and what was done about it at once.
struct Danger {
  Span span;
  Text what, where;
  Flag made_safe;
  Text how;                                ///< it was made safe; or why not
  Text told;                               ///< who was told, by name
  Field<DateTime> told_at;
  Text notice;                             ///< where the warning notice hangs
  Flag distributors;                       ///< it is the distributor's equipment
  Text distributor;                        ///< whom of the distributor's, with their reference
  Field<DateTime> distributor_at;
};
/// Who signs for what; the job's person where left out.
struct Signing {
  Span span;
  Text design, construction, inspection;   ///< of new work
  Text authorised;                         ///< who authorises a condition report
};
struct Notification {
  Span span;
  Flag needed;
  Text route, reference;
  Field<Date> date;
};
/// A field of the installer's own.
struct Extra {
  std::string key;
  std::string text;
  Span span;
};

struct Job {
  SourceId source = 0;
  std::string folder_name;                 ///< of the job file, the default id

  Field<JobKind> kind;
  Text id;                                 ///< names the job for ever; default: the folder's name
  Field<Date> date;
  Field<Date> design_date;
  Text person;                             ///< key of the one who tests and signs
  Text premises, client, client_contact, work, existing;
  Flag dwelling;                           ///< default true
  Text nation;                             ///< England, Wales, Scotland, Northern Ireland
  Texts instruments;                       ///< keys; default: every one of the installer's
  Field<Date> next_inspection;             ///< installation certificate, condition report
  Texts documents;                         ///< what to print; sensible ones by default
  Text language;                           ///< of the pages, where not the installer's usual one
  Supply supply;
  Bonding bonding;
  Isolation isolation;
  std::vector<Circuit> circuits;
  std::vector<Control> controls;
  Network network;
  Handover handover;
  std::vector<InspectionItem> inspection;
  Span inspection_span;
  std::vector<Confirmation> confirmations;
  std::vector<Departure> departures;
  std::vector<Limitation> limitations;
  std::vector<Observation> observations;
  std::vector<Danger> dangers;
  Signing signing;
  Text extent;                             ///< of a condition report: what it covers
  Text purpose;                            ///< why the report was asked for
  Field<Date> last_inspection;
  Notification notification;
  std::vector<Extra> extra;

  /// Lower-case id, the folder's name where none is given.
  std::string job_id() const;
  limits::Edition edition() const;         ///< by design date, else date
  /// The key of the one who signs for it.
  const Text& signs(Text Signing::*role) const { return signing.*role ? signing.*role : person; }
};

}  // namespace ohmleaf::record
