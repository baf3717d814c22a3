#pragma once
#include <optional>
#include <string>
#include <vector>

#include "limits/device.h"
#include "limits/limit.h"
#include "limits/phases.h"

// Supply, earthing and bonding, adiabatic, load side, additional protection, notification.

namespace ohmleaf::limits {

/// The distributor's usual declared maximum of Ze; nothing where none is declared (TT).
std::optional<Limit<Ohms>> declared_max_ze(Earthing earthing, Edition edition);

/// Minimum main protective bonding conductor (copper). For TN-C-S by the supply neutral, else half
/// the earthing conductor, at least 6 mm², not above 25 mm². Nothing where the needed size is not
/// given.
std::optional<Limit<SquareMm>> min_main_bonding(Earthing earthing,
                                                std::optional<SquareMm> supply_neutral,
                                                std::optional<SquareMm> earthing_conductor,
                                                Edition edition);
/// Minimum protective (also earthing) conductor by the line conductor, table 54.7, same material.
Limit<SquareMm> min_protective_conductor(SquareMm line, Edition edition);
/// Resistance that a bonding conductor of that size and length should show at 20 °C.
std::optional<Derived<Ohms>> bonding_resistance(SquareMm size, Metres length);

/// Smallest section from S = √(I²t) ÷ k, rounded up to two decimals.
Derived<SquareMm> adiabatic_size(Amps current, Seconds time, Decimal k);
/// Longest time from t = k²S² ÷ I², rounded down to two decimals.
Derived<Seconds> adiabatic_time(Amps current, SquareMm size, Decimal k);

/// Tabulated current-carrying capacity of flat twin-and-earth (Table 4D5) by reference method
/// ("C", "A", "100" … "103"). Nothing where no row exists.
std::optional<Derived<Amps>> capacity_twin_earth(SquareMm size, std::string_view method);
/// mV/A/m of flat twin-and-earth (Table 4D5).
std::optional<Derived<MillivoltsPerAmpMetre>> drop_twin_earth(SquareMm size);
/// Volt drop of a run, rounded up to two decimals.
std::optional<Derived<Volts>> volt_drop(SquareMm size, Metres length, Amps current);
/// 3 % for lighting, 5 % for other uses, of 230 V; on three phases of 400 V, line to line.
Limit<Volts> max_volt_drop(bool lighting, Edition edition, Phases phases = Phases::single);

/// Is a 30 mA RCD called for, and why. Empty: not by what is known.
struct ProtectionNeed {
  std::string reason;  ///< "socket-outlets rated up to 32 A"
  std::string source;
  Provenance provenance = Provenance::memory;
};
struct CircuitPlace {
  bool socket_outlets = false;  ///< rated 32 A or less
  bool luminaires_in_dwelling = false;
  bool bathroom = false;  ///< serves or passes through a room with a bath or shower
  bool outdoors = false;
  bool concealed_cable = false;  ///< < 50 mm deep, not mechanically protected
};
std::vector<ProtectionNeed> additional_protection(const CircuitPlace& place, Edition edition);

}  // namespace ohmleaf::limits
