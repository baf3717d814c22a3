#include "limits/conductor.h"

#include "limits/conductor_tables.h"
#include "limits/sources.h"

namespace ohmleaf::limits {
namespace {

constexpr Decimal kZero = d("0");

/// mΩ/m of the loop line + cpc, or of the line alone; void where a size does not exist.
struct Loop {
  Decimal per_metre;
  std::string words;  ///< "(7.41 + 12.1) mΩ/m"
};
Loop loop_of(SquareMm line, std::optional<SquareMm> cpc) {
  const auto first = resistance_per_metre(line);
  if (!first) return {kNone, {}};
  if (!cpc) return {first->value.decimal(), first->value.with_unit()};
  const auto second = resistance_per_metre(*cpc);
  if (!second) return {kNone, {}};
  return {first->value.decimal() + second->value.decimal(),
          "(" + first->value.str() + " + " + second->value.str() + ") mΩ/m"};
}

std::string factor_words(Celsius temperature, const Decimal& factor) {
  if (factor == d("1")) return {};
  return " × " + factor.short_str() + " (20 °C to " + temperature.with_unit() + ")";
}

std::string source_of(const Decimal& factor) {
  std::string out(cite::kIec60228);
  if (factor != d("1")) out += "; factor 1 + 0.004 (T − 20)";
  return out;
}

}  // namespace

std::vector<SquareMm> known_sizes() {
  std::vector<SquareMm> out;
  for (const ResistanceRow& row : resistance_rows(ConductorClass::solid_or_stranded))
    out.emplace_back(row.size);
  return out;
}

std::optional<Derived<MilliohmsPerMetre>> resistance_per_metre(SquareMm size,
                                                               ConductorClass conductor) {
  const bool fixed = conductor == ConductorClass::solid_or_stranded;
  for (const ResistanceRow& row : resistance_rows(conductor)) {
    if (row.size != size.decimal()) continue;
    return Derived<MilliohmsPerMetre>{
        MilliohmsPerMetre(row.ohm_per_km), row.ohm_per_km.str(),
        size.decimal().short_str() + " mm² copper at 20 °C: at most " + row.ohm_per_km.str() +
            " Ω/km",
        std::string(fixed ? cite::kIec60228 : cite::kIec60228Other), Provenance::published};
  }
  return std::nullopt;
}

std::optional<Derived<MilliohmsPerMetre>> resistance_per_metre(SquareMm size) {
  return resistance_per_metre(size, ConductorClass::solid_or_stranded);
}

Decimal temperature_factor(Celsius temperature) {
  const Decimal factor = d("1") + d("0.004") * (temperature.decimal() - d("20"));
  return factor > kZero ? factor : kNone;
}

std::optional<Derived<Ohms>> expected_r1r2(SquareMm line, std::optional<SquareMm> cpc,
                                           Metres length, Celsius temperature) {
  const Loop loop = loop_of(line, cpc);
  const Decimal factor = temperature_factor(temperature);
  const Decimal exact = loop.per_metre * length.decimal() * factor * d("0.001");
  if (exact.is_void() || !(length.decimal() > kZero)) return std::nullopt;
  Derived<Ohms> out;
  out.value = Ohms(exact.rounded(3, Round::half_up));
  out.exact = exact.short_str();
  out.derivation = loop.words + " × " + length.with_unit() + factor_words(temperature, factor) +
                   " ÷ 1000 = " + out.exact + " Ω";
  out.source = source_of(factor);
  return out;
}

std::optional<Derived<Metres>> length_for(SquareMm line, SquareMm cpc, Ohms r1r2,
                                          Celsius temperature) {
  const Loop loop = loop_of(line, cpc);
  const Decimal factor = temperature_factor(temperature);
  const Decimal milliohms = r1r2.decimal() * d("1000");
  const Decimal exact = Decimal::divide(milliohms, loop.per_metre * factor, 4, Round::down);
  if (exact.is_void() || exact.is_negative()) return std::nullopt;
  Derived<Metres> out;
  out.value = Metres(exact.rounded(1, Round::down));
  out.exact = exact.short_str();
  out.derivation = r1r2.with_unit() + " × 1000 ÷ (" + loop.words +
                   factor_words(temperature, factor) + ") = " + out.exact + " m";
  out.source = source_of(factor);
  return out;
}

}  // namespace ohmleaf::limits
