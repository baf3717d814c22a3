#include "limits/temperature.h"

#include <array>

#include "limits/conductor.h"
#include "limits/sources.h"

namespace ohmleaf::limits {
namespace {

using enum FactorDirection;

constexpr Origin kTlc{Provenance::published,
                      "TLC-direct Electrician's Guide 8.4.4, Table 8.6 (measured at T to 20 °C)"};
constexpr Origin kUecables{Provenance::published,
                           "uecables.com Kt factors (measured at T to 20 °C)"};
constexpr Origin kFormula{Provenance::computed, cite::kTemperature};

constexpr std::array kRows{
    TemperatureFactorRow{measured_to_20, 5, d("1.06"), kTlc},
    TemperatureFactorRow{measured_to_20, 10, d("1.04"), kTlc},
    TemperatureFactorRow{measured_to_20, 15, d("1.02"), kTlc},
    TemperatureFactorRow{measured_to_20, 20, d("1.0"), kTlc},
    TemperatureFactorRow{measured_to_20, 25, d("0.98"), kTlc},
    TemperatureFactorRow{measured_to_20, 5, d("1.064"), kUecables},
    TemperatureFactorRow{measured_to_20, 10, d("1.042"), kUecables},
    TemperatureFactorRow{measured_to_20, 15, d("1.02"), kUecables},
    TemperatureFactorRow{measured_to_20, 25, d("0.98"), kUecables},
    TemperatureFactorRow{measured_to_20, 30, d("0.962"), kUecables},
    TemperatureFactorRow{measured_to_20, 70, d("0.833"), kUecables},
    TemperatureFactorRow{from_20, 5, d("0.94"), kFormula},
    TemperatureFactorRow{from_20, 10, d("0.96"), kFormula},
    TemperatureFactorRow{from_20, 15, d("0.98"), kFormula},
    TemperatureFactorRow{from_20, 20, d("1.0"), kFormula},
    TemperatureFactorRow{from_20, 25, d("1.02"), kFormula},
    TemperatureFactorRow{from_20, 30, d("1.04"), kFormula},
};

constexpr std::array kOperating{
    OperatingFactorRow{"70 °C thermoplastic, protective conductor in the cable or bunched",
                       70,
                       d("1.2"),
                       {Provenance::published,
                        "electriciansforums.net thread 109208; cr4.globalspec.com example"}},
    OperatingFactorRow{"70 °C thermoplastic, protective conductor apart and not bunched", 30,
                       d("1.04"), kFormula},
    OperatingFactorRow{"85 °C thermosetting rubber, protective conductor in the cable", 85,
                       d("1.26"), kFormula},
    OperatingFactorRow{"90 °C thermosetting, protective conductor in the cable", 90, d("1.28"),
                       Origin{Provenance::published, cite::kLookUp}},
};

}  // namespace

std::span<const TemperatureFactorRow> temperature_factor_rows() {
  return kRows;
}
std::span<const OperatingFactorRow> operating_factor_rows() {
  return kOperating;
}

std::optional<Factor> published_temperature_factor(FactorDirection direction, Celsius temperature) {
  std::optional<Factor> out;
  for (const TemperatureFactorRow& row : kRows) {
    if (row.direction != direction || Decimal::integer(row.celsius) != temperature.decimal())
      continue;
    const bool first = !out;
    if (first)
      out = Factor{row.factor, {}, {}, {}, std::string(row.origin.source), row.origin.provenance};
    if (first || out->value == row.factor) continue;
    const Decimal other = min(out->value, row.factor);
    out->value = max(out->value, row.factor);
    out->derivation = "; another source prints " + other.str() + ", the larger is used";
    out->source += "; " + std::string(row.origin.source);
  }
  if (!out) return out;
  out->exact = out->value.str();
  out->derivation =
      (direction == measured_to_20 ? "a reading at " + temperature.with_unit() + " × " +
                                         out->exact + " is its value at 20 °C"
                                   : "a 20 °C value × " + out->exact + " is what a reading at " +
                                         temperature.with_unit() + " should show") +
      out->derivation;
  return out;
}

Factor tabulated_to_measured_divisor() {
  return {d("1.25"),
          {},
          "1.25",
          "tabulated Zs (70 °C) ÷ 1.25 is the limit of a reading at 10 °C: 1.20 ÷ 0.96",
          "electriciansforums.net thread 199276; electriciansblog.co.uk 2016/03",
          Provenance::published};
}

std::optional<Derived<Ohms>> at_temperature(Ohms resistance, Celsius from, Celsius to) {
  const Decimal cold = temperature_factor(from), hot = temperature_factor(to);
  const Decimal top = resistance.decimal() * hot;
  const Decimal value = Decimal::divide(top, cold, 3, Round::up);
  if (value.is_void() || resistance.decimal().is_negative()) return std::nullopt;
  Derived<Ohms> out;
  out.value = Ohms(value);
  out.exact = exact4(top, cold);
  out.derivation = resistance.with_unit() + " × " + hot.short_str() + " ÷ " + cold.short_str() +
                   " = " + out.exact + " Ω (" + from.with_unit() + " to " + to.with_unit() + ")";
  out.source = cite::kTemperature;
  return out;
}

}  // namespace ohmleaf::limits
