#include <array>

#include "limits/cable_load.h"
#include "limits/capacity_tables.h"
#include "limits/conductor.h"
#include "limits/conductor_tables.h"
#include "limits/grouping.h"
#include "limits/installation.h"
#include "limits/k_values.h"
#include "limits/rows_tables.h"
#include "limits/sources.h"
#include "limits/temperature.h"

namespace ohmleaf::limits::rows {
namespace {

/// Pairs whose sum a published list prints (Locke, Appendix 4); the other usual pairs are sums of
/// its single conductors.
struct Pair {
  Decimal line, cpc;
  bool printed;
  bool twin_earth;  ///< a usual size of flat twin-and-earth
};
constexpr std::array kPairs{
    Pair{d("1.0"), d("1.0"), false, true}, Pair{d("1.5"), d("1.0"), true, true},
    Pair{d("1.5"), d("1.5"), true, false}, Pair{d("2.5"), d("1.0"), false, false},
    Pair{d("2.5"), d("1.5"), true, true},  Pair{d("2.5"), d("2.5"), true, false},
    Pair{d("4"), d("1.5"), true, true},    Pair{d("4"), d("2.5"), false, false},
    Pair{d("4"), d("4"), true, false},     Pair{d("6"), d("2.5"), true, true},
    Pair{d("6"), d("4"), false, false},    Pair{d("6"), d("6"), true, false},
    Pair{d("10"), d("4"), true, true},     Pair{d("10"), d("6"), false, false},
    Pair{d("10"), d("10"), true, false},   Pair{d("16"), d("6"), true, true},
    Pair{d("16"), d("10"), false, false},  Pair{d("16"), d("16"), true, false},
    Pair{d("25"), d("10"), false, false},  Pair{d("25"), d("16"), false, false},
    Pair{d("25"), d("25"), true, false},   Pair{d("35"), d("16"), false, false},
    Pair{d("35"), d("25"), false, false},  Pair{d("35"), d("35"), true, false},
    Pair{d("50"), d("25"), false, false},  Pair{d("50"), d("35"), false, false},
    Pair{d("50"), d("50"), true, false},
};

std::string words_of(ConductorClass conductor) {
  switch (conductor) {
    case ConductorClass::solid_or_stranded:
      return "class 1 and 2, plain copper";
    case ConductorClass::stranded_tinned:
      return "class 2, tinned copper";
    case ConductorClass::flexible:
      return "class 5, plain copper";
    case ConductorClass::flexible_tinned:
      return "class 5, tinned copper";
  }
  return "?";
}

Row of_factor(std::string table, std::string item, const Factor& factor, std::string note = {}) {
  return {std::move(table), std::move(item), factor.value.str(), factor.unit,
          std::move(note),  factor.source,   factor.provenance};
}

}  // namespace

std::vector<Row> resistance(Edition) {
  std::vector<Row> out;
  for (ConductorClass c : {ConductorClass::solid_or_stranded, ConductorClass::stranded_tinned,
                           ConductorClass::flexible, ConductorClass::flexible_tinned})
    for (const ResistanceRow& row : resistance_rows(c))
      if (const auto found = resistance_per_metre(SquareMm(row.size), c))
        out.push_back(
            from_derived("resistance", row.size.short_str() + " mm², " + words_of(c), *found));
  return out;
}

std::vector<Row> r1r2(Edition) {
  std::vector<Row> out;
  for (const Pair& pair : kPairs) {
    // A kilometre in ohms reads as milliohms per metre.
    const auto sum =
        expected_r1r2(SquareMm(pair.line), SquareMm(pair.cpc), Metres(d("1000")), Celsius(d("20")));
    if (!sum) continue;
    out.push_back({"r1r2", pair.line.short_str() + "/" + pair.cpc.short_str() + " mm²", sum->exact,
                   "mΩ/m", pair.twin_earth ? "usual flat twin-and-earth" : "",
                   std::string(pair.printed ? cite::kLocke : cite::kLockeSum),
                   pair.printed ? Provenance::published : Provenance::computed});
  }
  return out;
}

std::vector<Row> temperature(Edition) {
  std::vector<Row> out;
  for (const TemperatureFactorRow& row : temperature_factor_rows()) {
    const bool to_20 = row.direction == FactorDirection::measured_to_20;
    out.push_back(from_text("temperature",
                            (to_20 ? "reading at " : "20 °C to ") + std::to_string(row.celsius) +
                                (to_20 ? " °C to 20 °C" : " °C"),
                            row.factor.str(), row.origin));
  }
  for (const OperatingFactorRow& row : operating_factor_rows())
    out.push_back(from_text("temperature", "20 °C to service: " + std::string(row.cable),
                            row.factor.str(), row.origin));
  out.push_back(of_factor("temperature", "tabulated Zs (70 °C) to a reading at 10 °C, divisor",
                          tabulated_to_measured_divisor()));
  return out;
}

std::vector<Row> insulation_resistance(Edition edition) {
  std::vector<Row> out;
  const auto add = [&](const char* item, const char* volts, bool selv, bool connected) {
    const InsulationRule rule =
        insulation(Volts(Decimal::parse(volts).value_or(kNone)), selv, connected, edition);
    out.push_back(from_limit("insulation", item, rule.minimum,
                             "test voltage " + rule.test_voltage.with_unit() + " d.c."));
  };
  add("SELV and PELV", "50", true, false);
  add("up to and including 500 V", "500", false, false);
  add("above 500 V", "690", false, false);
  add("electronics or surge protection connected", "230", false, true);
  out.push_back(from_limit("insulation", "look into a reading below",
                           insulation_investigate(edition), "guidance, test voltage 500 V d.c."));
  return out;
}

std::vector<Row> k_factors(Edition) {
  std::vector<Row> out;
  for (const KRow& row : k_rows()) {
    const std::string item = std::string(name(row.place)) + ", " + std::string(name(row.metal)) +
                             ", " + std::string(name(row.insulation));
    if (const auto k = k_value(row.place, row.metal, row.insulation, SquareMm(d("1"))))
      out.push_back(of_factor(
          "k", item, *k,
          row.k_over_300.is_void() ? std::string() : row.k_over_300.str() + " above 300 mm²"));
  }
  return out;
}

std::vector<Row> capacities(Edition) {
  std::vector<Row> out;
  const auto add = [&](CableKind cable, std::span<const CapacityRow> rows) {
    for (const CapacityRow& row : rows)
      for (Phases phases : {Phases::single, Phases::three})
        if (const auto found = capacity(cable, SquareMm(row.size), row.method, phases))
          out.push_back(from_derived("capacity",
                                     std::string(name(cable)) + " " + row.size.short_str() +
                                         " mm², method " + std::string(row.method) +
                                         (phases == Phases::three ? ", three-phase" : ""),
                                     *found));
  };
  add(CableKind::twin_earth, twin_earth_capacity_rows());
  add(CableKind::multicore, multicore_capacity_rows());
  add(CableKind::singles, singles_capacity_rows());
  return out;
}

std::vector<Row> grouping_factors(Edition) {
  std::vector<Row> out;
  for (const GroupingRow& row : grouping_rows())
    out.push_back(of_factor(
        "grouping", std::string(name(row.arrangement)) + ", " + std::to_string(row.circuits),
        *grouping_factor(row.arrangement, row.circuits),
        "reference methods " + std::string(methods_of(row.arrangement))));
  return out;
}

std::vector<Row> corrections(Edition) {
  std::vector<Row> out;
  for (const AmbientRow& row : ambient_rows()) {
    const Celsius ambient(Decimal::integer(row.celsius));
    const std::string item = "ambient " + ambient.with_unit();
    if (!row.thermoplastic_70.is_void())
      out.push_back(of_factor("corrections", item + ", 70 °C thermoplastic",
                              *ambient_factor(CableInsulation::thermoplastic_70, ambient)));
    out.push_back(of_factor("corrections", item + ", 90 °C thermosetting",
                            *ambient_factor(CableInsulation::thermosetting_90, ambient)));
  }
  for (const ThermalInsulationRow& row : thermal_insulation_rows())
    out.push_back(
        of_factor("corrections",
                  "surrounded by thermal insulation, " + std::to_string(row.millimetres) + " mm",
                  *thermal_insulation_factor(Millimetres(Decimal::integer(row.millimetres)))));
  out.push_back(of_factor("corrections", "behind a BS 3036 fuse", semi_enclosed_factor()));
  return out;
}

std::vector<Row> volt_drops(Edition edition) {
  std::vector<Row> out;
  for (CableKind cable : {CableKind::twin_earth, CableKind::multicore, CableKind::singles})
    for (Phases phases : {Phases::single, Phases::three})
      for (const DropRow& row : drop_rows())
        if (const auto found = drop_per_amp_metre(cable, SquareMm(row.size), phases))
          out.push_back(from_derived("drop",
                                     std::string(name(cable)) + " " + row.size.short_str() +
                                         " mm²" + (phases == Phases::three ? ", three-phase" : ""),
                                     *found));
  out.push_back(from_limit("drop", "lighting", max_volt_drop(true, edition), "3 % of 230 V"));
  out.push_back(from_limit("drop", "other uses", max_volt_drop(false, edition), "5 % of 230 V"));
  out.push_back(from_limit("drop", "lighting, three-phase",
                           max_volt_drop(true, edition, Phases::three), "3 % of 400 V"));
  out.push_back(from_limit("drop", "other uses, three-phase",
                           max_volt_drop(false, edition, Phases::three), "5 % of 400 V"));
  out.push_back(from_text("drop", "private supply", "6 % lighting, 8 % other uses",
                          {Provenance::published, cite::kVoltDropLimit}));
  out.push_back(from_text("drop", "beyond 100 m", "+0.005 % a metre, at most 0.5 %",
                          {Provenance::published, cite::kVoltDropLimit}));
  return out;
}

}  // namespace ohmleaf::limits::rows
