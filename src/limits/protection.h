#pragma once
#include <optional>
#include <string>
#include <vector>

#include "limits/device.h"
#include "limits/limit.h"

// Fault protection: disconnection times, maximum Zs, RCD limits and times.

namespace ohmleaf::limits {

/// Which row of the disconnection-time rule a circuit falls under (scope of 411.3.2.2 of the
/// edition: final circuits up to 63 A with socket-outlets, up to 32 A with fixed equipment only).
enum class CircuitUse { final_with_socket_outlets, final_fixed_equipment, distribution };

/// Maximum disconnection time. `u0` is the nominal voltage to earth.
Limit<Seconds> max_disconnection_time(Earthing earthing, CircuitUse use, Amps rating, Volts u0,
                                      Edition edition);

/// Maximum Zs for the overcurrent device to disconnect within `time` at U0 = 230 V. Nothing where
/// no table and no formula gives one ("not tabulated"); `what_exists` then says what does.
std::optional<Limit<Ohms>> max_zs(const Device& device, Seconds time, Edition edition,
                                  std::string* what_exists = nullptr);
/// The voltage that the edition's limits of Zs are worked out with: 230 V, from the third amendment
/// of the 17th edition on times the minimum-voltage factor 0.95.
Volts zs_voltage(Edition edition);
/// 80 % of the printed value, rounded down to two decimals: the guide for a reading taken at
/// ambient temperature with the cable at 70 °C in service.
Limit<Ohms> measured_guide(const Limit<Ohms>& zs);
/// The exact alternative: the largest Ze + (R1+R2) measured at `ambient` whose value at the
/// operating temperature (line and protective conductor both in the cable) still meets the limit.
Limit<Ohms> measured_exact(const Limit<Ohms>& zs, Ohms ze, Celsius ambient, Celsius operating);

/// Zs (TN) or RA (TT) so that the touch voltage stays within 50 V: 50 V ÷ IΔn, rounded down to a
/// whole ohm except where the standard's table prints otherwise (1667 for 30 mA).
Limit<Ohms> max_zs_rcd(Milliamps idn, Edition edition);
/// 200 Ω: above it an electrode's resistance may be unstable. Guidance.
Limit<Ohms> electrode_stability_guide(Edition edition);

/// What a test at `multiple` × IΔn (0.5, 1 or 5) must show; nothing where the edition asks for no
/// such test.
std::optional<Limit<Millis>> rcd_time(const Rcd& rcd, Decimal multiple, bool additional_protection,
                                      Edition edition);

/// Prospective fault current U0 ÷ Z in amperes, rounded up (the safe side against breaking
/// capacity).
Derived<Amps> fault_current(Ohms impedance, Volts u0);
/// The breaking capacity that a prospective fault current asks for, as a limit on the current.
Limit<Kiloamps> max_fault_current(Kiloamps breaking, Edition edition);

}  // namespace ohmleaf::limits
