#include "limits/installation.h"
#include "limits/sources.h"
#include "limits/table.h"

namespace ohmleaf::limits {
namespace {

constexpr Decimal kZero = d("0");

bool usable(const Decimal& a, const Decimal& b, const Decimal& c) {
  return a > kZero && b > kZero && c > kZero;
}

/// Beyond five seconds the conductor gives heat away and the equation no longer holds.
std::string beyond_five(const Decimal& seconds) {
  return seconds > d("5") ? "; beyond 5 s the equation does not hold (common practice)" : "";
}

}  // namespace

Derived<SquareMm> adiabatic_size(Amps current, Seconds time, Decimal k) {
  Derived<SquareMm> out;
  out.source = cite::kAdiabatic;
  if (!usable(current.decimal(), time.decimal(), k)) {
    out.value = SquareMm(kNone);
    out.exact = "not tabulated";
    out.derivation = "current, time and k must be more than 0";
    return out;
  }
  const Decimal let_through = current.decimal() * current.decimal() * time.decimal();
  out.value = SquareMm(Decimal::divide(Decimal::sqrt(let_through, 6, Round::up), k, 2, Round::up));
  out.exact = exact4(Decimal::sqrt(let_through, 6, Round::down), k);
  out.derivation = "√((" + current.with_unit() + ")² × " + time.with_unit() + ") ÷ " +
                   k.short_str() + " = " + out.exact + " mm²; rounded up to " +
                   out.value.with_unit() + beyond_five(time.decimal());
  return out;
}

Derived<Seconds> adiabatic_time(Amps current, SquareMm size, Decimal k) {
  Derived<Seconds> out;
  out.source = cite::kAdiabatic;
  if (!usable(current.decimal(), size.decimal(), k)) {
    out.value = Seconds(kNone);
    out.exact = "not tabulated";
    out.derivation = "current, size and k must be more than 0";
    return out;
  }
  const Decimal ks = k * size.decimal();
  const Decimal top = ks * ks, below = current.decimal() * current.decimal();
  const Decimal fine = Decimal::divide(top, below, 4, Round::down);
  // Two decimals would show a large fault current as 0.00 s.
  out.value = Seconds(fine < d("1") ? fine : fine.rounded(2, Round::down));
  out.exact = fine.short_str();
  out.derivation = k.short_str() + "² × " + size.str() + "² ÷ " + current.str() +
                   "² = " + out.exact + " s; rounded down" + beyond_five(out.value.decimal());
  return out;
}

}  // namespace ohmleaf::limits
