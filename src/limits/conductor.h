#pragma once
#include <optional>
#include <string>
#include <vector>

#include "limits/limit.h"

// Conductors: resistance, temperature, ring arithmetic, insulation.

namespace ohmleaf::limits {

/// Sizes that the resistance table knows, ascending.
std::vector<SquareMm> known_sizes();
/// Maximum resistance per metre at 20 °C of plain copper, class 1 and 2 (IEC 60228). Nothing for a
/// size that does not exist.
std::optional<Derived<MilliohmsPerMetre>> resistance_per_metre(SquareMm size);
/// Exact factor from 20 °C to `temperature` (coefficient 0.004 per K at 20 °C).
Decimal temperature_factor(Celsius temperature);

/// R1+R2 (or R of one conductor where cpc is absent) for a length at a temperature.
std::optional<Derived<Ohms>> expected_r1r2(SquareMm line, std::optional<SquareMm> cpc,
                                           Metres length, Celsius temperature);
/// The greatest length of line+cpc that gives this R1+R2 at `temperature`.
std::optional<Derived<Metres>> length_for(SquareMm line, SquareMm cpc, Ohms r1r2,
                                          Celsius temperature);

struct Ring {
  Derived<Ohms> line_neutral;  ///< (r1+rn)/4, expected cross-connected line–neutral at each point
  Derived<Ohms> line_cpc;      ///< (r1+r2)/4, expected highest R1+R2
  std::optional<Derived<Ohms>> expected_r2;  ///< from r1 by the ratio of the resistances
};
/// Arithmetic of a ring final circuit from its end-to-end readings.
Ring ring(Ohms r1, Ohms rn, Ohms r2, std::optional<SquareMm> line, std::optional<SquareMm> cpc);
/// r1 and rn of one ring agree within this (0.05 Ω, guidance).
Limit<Ohms> ring_line_neutral_tolerance(Edition edition);

struct InsulationRule {
  Volts test_voltage;
  Limit<Megohms> minimum;
};
/// Test voltage and minimum for a circuit of nominal voltage `nominal`; `selv` for SELV and PELV;
/// `electronics_connected`: equipment that the test could harm or that upsets it stays connected.
InsulationRule insulation(Volts nominal, bool selv, bool electronics_connected, Edition edition);
/// Below this a reading that passes is still worth looking into (guidance).
Limit<Megohms> insulation_investigate(Edition edition);
/// The value that several circuits show together: 1 ÷ Σ(1 ÷ Ri), rounded down.
Megohms insulation_parallel(const std::vector<Megohms>& circuits);

}  // namespace ohmleaf::limits
