#pragma once
#include "limits/device.h"
#include "limits/fact.h"
#include "limits/table.h"

// What the distributor declares, and what follows from it.

namespace ohmleaf::limits {

/// Nominal 230 V, +10 % and −6 %.
Limit<Volts> supply_voltage(Edition edition);
/// The distributor's earth at the transformer on TT, to which the local electrode adds (a typical
/// statement, from memory; no limit of Ze).
Limit<Ohms> tt_distributor_electrode(Edition edition);
/// The most that a distributor usually declares at the origin: 16 kA single-phase, 25 kA
/// three-phase.
Limit<Kiloamps> declared_max_fault_current(bool three_phase, Edition edition);
/// Zs that one distributor asks for behind its 100 A cut-out on TN-C-S.
Limit<Ohms> cut_out_100a_max_zs(Edition edition);
/// A domestic consumer unit to BS EN 61439-3 stands 16 kA behind the right supply fuse.
Limit<Kiloamps> consumer_unit_conditional_rating(Edition edition);

/// Line-to-line fault current from the single-phase one: × √3, rounded up to two decimals.
Derived<Kiloamps> three_phase_fault_current(Kiloamps single_phase);
/// The rule of thumb for the same: × 2.
Derived<Kiloamps> three_phase_rule_of_thumb(Kiloamps single_phase);
/// Z = U ÷ I, rounded down to three decimals.
Derived<Ohms> impedance_from(Volts volts, Amps amps);

/// Resistance of supplementary bonding: 50 V ÷ Ia (25 V in special locations), rounded down.
Limit<Ohms> supplementary_bonding_max(Amps operating, bool special_location, Edition edition);
/// Supplementary bonding conductor: 2.5 mm² mechanically protected, else 4 mm².
Limit<SquareMm> supplementary_bonding_min(bool mechanically_protected, Edition edition);
/// The least copper conductor to an earth electrode, protected against corrosion and damage.
Limit<SquareMm> electrode_conductor_min(Edition edition);
/// What is sometimes quoted for main bonding; guidance, not a limit.
Limit<Ohms> bonding_guide(Edition edition);

}  // namespace ohmleaf::limits
