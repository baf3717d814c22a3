#pragma once
#include <optional>
#include <span>

#include "limits/fact.h"
#include "limits/table.h"

// Published temperature factors. They run in two directions, and a number without its direction is
// worthless: at 10 °C 1.04 corrects a reading to 20 °C, 0.96 gives what to expect from a 20 °C
// value. The exact coefficient is `temperature_factor` (conductor.h).

namespace ohmleaf::limits {

enum class FactorDirection {
  measured_to_20,  ///< multiply a reading taken at T to have its value at 20 °C
  from_20,         ///< multiply a 20 °C value to have what a reading at T should show
};

struct TemperatureFactorRow {
  FactorDirection direction;
  int celsius;
  Decimal factor;
  Origin origin;
};
std::span<const TemperatureFactorRow> temperature_factor_rows();

/// The published factor at that temperature. Where two sources print different figures the larger
/// one stands (a larger resistance is the safe side) and both are named.
std::optional<Factor> published_temperature_factor(FactorDirection direction, Celsius temperature);

/// From a 20 °C value to the value in service.
struct OperatingFactorRow {
  std::string_view cable;  ///< "70 °C thermoplastic, protective conductor in the cable or bunched"
  int celsius;             ///< of the conductor that the factor assumes
  Decimal factor;
  Origin origin;
};
std::span<const OperatingFactorRow> operating_factor_rows();

/// What a tabulated Zs (70 °C) is divided by for a reading at 10 °C: 1.25.
Factor tabulated_to_measured_divisor();

/// A resistance carried from one temperature to another by the exact coefficient, rounded up to
/// three decimals. Nothing for a negative resistance or a temperature at or below −230 °C.
std::optional<Derived<Ohms>> at_temperature(Ohms resistance, Celsius from, Celsius to);

}  // namespace ohmleaf::limits
