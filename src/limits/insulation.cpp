#include <limits>

#include "limits/conductor.h"
#include "limits/sources.h"
#include "limits/table.h"

namespace ohmleaf::limits {
namespace {

InsulationRule rule(Volts test, const Decimal& megohms, std::string words, std::string_view source,
                    Provenance provenance, Edition edition) {
  InsulationRule out;
  out.test_voltage = test;
  out.minimum.sense = Sense::at_least;
  out.minimum.value = Megohms(megohms);
  out.minimum.exact = megohms.str();
  out.minimum.derivation = std::move(words);
  out.minimum.source = source;
  out.minimum.provenance = provenance;
  out.minimum.edition = edition;
  return out;
}

__extension__ typedef __int128 Wide;

Wide gcd(Wide a, Wide b) {
  while (b != 0) {
    const Wide r = a % b;
    a = b;
    b = r;
  }
  return a;
}

/// A resistance as a fraction, so that three circuits of 3 MΩ give 1 MΩ and not 0.99.
struct Fraction {
  Wide top = 0, below = 1;
  void reduce() {
    const Wide g = gcd(top, below);
    if (g > 1) top /= g, below /= g;
  }
};

Fraction fraction_of(const Decimal& value) {
  Fraction f{value.mantissa(), 1};
  for (int i = 0; i < value.scale(); ++i) f.below *= 10;
  f.reduce();
  return f;
}

/// (a/b) ∥ (c/d) = ac ÷ (ad + cb). Nothing where 128 bits do not hold it.
std::optional<Fraction> parallel(const Fraction& x, const Fraction& y) {
  Fraction out;
  Wide left = 0, right = 0;
  if (__builtin_mul_overflow(x.top, y.top, &out.top) ||
      __builtin_mul_overflow(x.top, y.below, &left) ||
      __builtin_mul_overflow(y.top, x.below, &right) ||
      __builtin_add_overflow(left, right, &out.below))
    return std::nullopt;
  out.reduce();
  return out;
}

/// Down to two decimals; nothing where it does not fit.
std::optional<Decimal> hundredths_below(const Fraction& f) {
  Wide scaled = 0;
  if (f.below <= 0 || __builtin_mul_overflow(f.top, Wide(100), &scaled)) return std::nullopt;
  scaled /= f.below;
  if (scaled > std::numeric_limits<std::int64_t>::max()) return std::nullopt;
  return Decimal(static_cast<std::int64_t>(scaled), 2);
}

/// The slower-growing way for many awkward figures: every rounding makes the result smaller.
Decimal parallel_below(const std::vector<Megohms>& circuits) {
  Decimal sum = d("0");
  for (const Megohms& r : circuits) sum = sum + Decimal::divide(d("1"), r.decimal(), 12, Round::up);
  return Decimal::divide(d("1"), sum, 2, Round::down);
}

}  // namespace

InsulationRule insulation(Volts nominal, bool selv, bool electronics_connected, Edition edition) {
  const Decimal& volts = nominal.decimal();
  if (!(volts > d("0")))
    return rule(Volts(kNone), kNone, "the nominal voltage must be more than 0 V",
                cite::kInsulationMemory, Provenance::memory, edition);
  // 120 V is the most that extra-low voltage can be (direct current): above it the word is wrong.
  if (selv && volts <= d("120"))
    return rule(Volts(d("250")), d("0.5"), "SELV and PELV: 250 V d.c., at least 0.5 MΩ",
                cite::kInsulationTable, Provenance::published, edition);
  if (volts > d("500"))
    return rule(Volts(d("1000")), d("1.0"), "above 500 V: 1000 V d.c., at least 1.0 MΩ",
                cite::kInsulationTable, Provenance::published, edition);
  if (electronics_connected)
    return rule(Volts(d("250")), d("1.0"),
                "electronics that cannot be disconnected: line and neutral joined, to earth, 250 V "
                "d.c., at least 1.0 MΩ",
                cite::kInsulationConnected, Provenance::published, edition);
  return rule(Volts(d("500")), d("1.0"), "up to and including 500 V: 500 V d.c., at least 1.0 MΩ",
              cite::kInsulation500, Provenance::published, edition);
}

Limit<Megohms> insulation_investigate(Edition edition) {
  Limit<Megohms> out;
  out.sense = Sense::at_least;
  out.value = Megohms(d("2"));
  out.exact = "2";
  out.derivation = "a reading below 2 MΩ may show a latent defect: look into it (guidance)";
  out.source = cite::kInsulationLook;
  out.provenance = Provenance::published;
  out.edition = edition;
  return out;
}

Megohms insulation_parallel(const std::vector<Megohms>& circuits) {
  if (circuits.empty()) return Megohms(kNone);
  for (const Megohms& r : circuits) {
    if (r.is_void() || r.decimal().is_negative()) return Megohms(kNone);
    if (r.decimal().is_zero()) return Megohms(d("0"));
  }
  std::optional<Fraction> sum = fraction_of(circuits.front().decimal());
  for (std::size_t i = 1; sum && i < circuits.size(); ++i)
    sum = parallel(*sum, fraction_of(circuits[i].decimal()));
  const std::optional<Decimal> exact = sum ? hundredths_below(*sum) : std::nullopt;
  return Megohms(exact ? *exact : parallel_below(circuits));
}

}  // namespace ohmleaf::limits
