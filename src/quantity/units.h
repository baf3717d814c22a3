#pragma once
#include <compare>
#include <string>
#include <string_view>

#include "quantity/decimal.h"

namespace ohmleaf {

/// A number with its unit in its type. Same-unit sums and comparisons compile, others do not.
/// Comparison with a void value is unordered (see Decimal).
template <class Unit>
class Quantity {
 public:
  constexpr Quantity() = default;
  constexpr explicit Quantity(Decimal value) : value_(value) {}

  constexpr const Decimal& decimal() const { return value_; }
  constexpr bool is_void() const { return value_.is_void(); }
  /// As written, without unit.
  std::string str() const { return value_.str(); }
  /// "1.37 Ω"
  std::string with_unit() const { return value_.str() + " " + std::string(Unit::symbol); }

  friend std::partial_ordering operator<=>(const Quantity& a, const Quantity& b) {
    return a.value_ <=> b.value_;
  }
  friend bool operator==(const Quantity& a, const Quantity& b) { return a.value_ == b.value_; }
  friend Quantity operator+(const Quantity& a, const Quantity& b) {
    return Quantity(a.value_ + b.value_);
  }
  friend Quantity operator-(const Quantity& a, const Quantity& b) {
    return Quantity(a.value_ - b.value_);
  }
  friend Quantity operator*(const Quantity& a, const Decimal& n) { return Quantity(a.value_ * n); }
  Quantity divided(const Decimal& n, int places, Round round) const {
    return Quantity(Decimal::divide(value_, n, places, round));
  }
  Quantity rounded(int places, Round round) const { return Quantity(value_.rounded(places, round)); }
  Quantity abs() const { return Quantity(value_.abs()); }

  using unit = Unit;

 private:
  Decimal value_;
};

#define OHMLEAF_UNIT(Tag, Type, sym, words, literal)                              \
  struct Tag {                                                                    \
    static constexpr std::string_view symbol = sym;                               \
    static constexpr std::string_view name = words;                               \
  };                                                                              \
  using Type = Quantity<Tag>;                                                     \
  consteval Type operator""_##literal(const char* digits) {                       \
    return Type(Decimal::parse(digits).value());                                  \
  }

OHMLEAF_UNIT(OhmUnit, Ohms, "Ω", "ohm", ohm)
OHMLEAF_UNIT(MegohmUnit, Megohms, "MΩ", "megohm", megohm)
/// Resistance of a conductor per metre of its length.
OHMLEAF_UNIT(MilliohmPerMetreUnit, MilliohmsPerMetre, "mΩ/m", "milliohm per metre", mohm_m)
OHMLEAF_UNIT(VoltUnit, Volts, "V", "volt", volt)
OHMLEAF_UNIT(AmpereUnit, Amps, "A", "ampere", amp)
OHMLEAF_UNIT(KiloampereUnit, Kiloamps, "kA", "kiloampere", kiloamp)
OHMLEAF_UNIT(MilliampereUnit, Milliamps, "mA", "milliampere", milliamp)
OHMLEAF_UNIT(SecondUnit, Seconds, "s", "second", sec)
OHMLEAF_UNIT(MillisecondUnit, Millis, "ms", "millisecond", ms)
/// Cross-sectional area of a conductor.
OHMLEAF_UNIT(SquareMillimetreUnit, SquareMm, "mm²", "square millimetre", mm2)
OHMLEAF_UNIT(MetreUnit, Metres, "m", "metre", metre)
OHMLEAF_UNIT(MillimetreUnit, Millimetres, "mm", "millimetre", mm)
OHMLEAF_UNIT(CelsiusUnit, Celsius, "°C", "degree Celsius", celsius)
OHMLEAF_UNIT(WattUnit, Watts, "W", "watt", watt)
OHMLEAF_UNIT(PercentUnit, Percent, "%", "percent", percent)
/// Volt drop per ampere and metre.
OHMLEAF_UNIT(MilliVoltAmpMetreUnit, MillivoltsPerAmpMetre, "mV/A/m", "millivolt per ampere metre", mv_a_m)
#undef OHMLEAF_UNIT

inline Amps to_amps(Kiloamps k) { return Amps(k.decimal() * Decimal::integer(1000)); }
inline Amps to_amps(Milliamps m) { return Amps(m.decimal() * Decimal(1, 3)); }

}  // namespace ohmleaf
