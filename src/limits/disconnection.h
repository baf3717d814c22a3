#pragma once
#include <span>

#include "limits/protection.h"
#include "limits/table.h"

// Disconnection times beyond the usual rows: direct current, reduced and extra-low voltage, TT
// behind overcurrent devices.

namespace ohmleaf::limits {

struct DisconnectionRow {
  int above, to;         ///< U0 in V: above < U0 <= to
  Decimal tn_ac, tt_ac;  ///< s
  Decimal tn_dc, tt_dc;  ///< s; kNone: not for shock, other reasons may ask for it
  std::string_view band;
};
/// Table 41.1. The last band has no upper end in print; 1000 V bounds low voltage.
std::span<const DisconnectionRow> disconnection_rows();

/// Final circuits on direct current. Void where the table asks for none against shock.
Limit<Seconds> max_disconnection_time_dc(Earthing earthing, Volts u0, Edition edition);

/// TT where an overcurrent device disconnects and every extraneous-conductive-part is bonded: the
/// times of TN may be used.
Limit<Seconds> max_disconnection_time_tt_bonded(CircuitUse use, Amps rating, Volts u0,
                                                Edition edition);

/// Reduced low voltage (110 V between lines, centre or star point earthed): 5 s (from memory).
Limit<Seconds> reduced_low_voltage_time(Edition edition);

/// SELV and PELV: the most that counts as extra-low voltage, 50 V a.c. or 120 V d.c.; within it no
/// disconnection time is asked for against shock.
Limit<Volts> extra_low_voltage_limit(bool direct_current, Edition edition);

}  // namespace ohmleaf::limits
