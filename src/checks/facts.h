#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "limits/device.h"
#include "limits/limit.h"
#include "limits/protection.h"
#include "record/installer.h"
#include "record/job.h"

// What a circuit is, told from what the job says of it. One place, so that no two checks differ.

namespace ohmleaf::checks {

/// An RCD that stands in the path of a circuit.
struct RcdInPath {
  const limits::Rcd* rcd = nullptr;
  Span span;
  std::string_view
      where;  ///< "the circuit's own device", "the circuit's RCD", "the RCD at the origin"
  bool shared = false;  ///< at the origin: serves other circuits too
};

bool is_tt(const record::Job& job);
Volts u0(const record::Job& job);  ///< nominal voltage to earth; 230 V by default
bool is_dwelling(const record::Job& job);
bool is_three_phase(const record::Job& job);          ///< the supply
bool is_three_phase(const record::Circuit& circuit);  ///< its readings may be one for each line

/// Nearest to the circuit first.
std::vector<RcdInPath> rcds_of(const record::Job& job, const record::Circuit& circuit);
/// The one that disconnects first on an earth fault: the smallest IΔn.
std::optional<RcdInPath> most_sensitive(const std::vector<RcdInPath>& rcds);
/// A 30 mA device without delay: additional protection.
bool gives_additional_protection(const limits::Rcd& rcd);

/// Whether one of the words stands in the list: "socket" in "Socket-outlets".
bool mentions(const record::Texts& texts, std::string_view word);
bool serves_socket_outlets(const record::Installer& installer, const record::Circuit& circuit);
bool serves_lighting(const record::Circuit& circuit);
bool serves_bathroom(const record::Circuit& circuit);
bool serves_outdoors(const record::Circuit& circuit);
bool has_concealed_cable(const record::Circuit& circuit);
/// The row of the disconnection-time rule; `stated` false where it had to be assumed.
struct Use {
  limits::CircuitUse use;
  bool stated = true;
};
Use use_of(const record::Installer& installer, const record::Circuit& circuit);
/// Maximum disconnection time of the circuit; nothing without a device.
std::optional<limits::Limit<Seconds>> disconnection_time(const record::Job& job,
                                                         const record::Installer& installer,
                                                         const record::Circuit& circuit,
                                                         limits::Edition edition);

/// Where a missing reading of this group should stand: the group if there is one, else the circuit.
Span home(Span group, const record::Circuit& circuit);

/// The catalogue entry of an accessory or control; null where it names none.
const record::CatalogueItem* item_of(const record::Installer& installer, const record::Text& key);
/// The known class of an accessory: its own, or the one that its own class is like.
std::string class_of(const record::CatalogueItem& item);
/// "socket-outlet by the window", for messages.
std::string point_name(const record::Installer& installer, const record::Text& item,
                       const record::Text& where);
bool has_electronics(const record::Installer& installer, const record::Circuit& circuit);
bool has_radio(const record::Job& job, const record::Installer& installer);

/// The instrument of a group of tests: the named one, else the job's first multifunction tester.
const record::Instrument* instrument_of(const record::Job& job, const record::Installer& installer,
                                        const record::Text& key);
/// Keys of the instruments that the job used: its list, else every one of the installer's.
std::vector<const record::Instrument*> instruments_used(const record::Job& job,
                                                        const record::Installer& installer);

/// The decimal of a declared percentage or resistance, zero where undeclared.
template <class Q>
Decimal declared(const record::Instrument* instrument,
                 const record::Field<Q> record::Instrument::*member) {
  if (!instrument || !(instrument->*member)) return Decimal::integer(0);
  return (*(instrument->*member)).decimal();
}

}  // namespace ohmleaf::checks
