#include "quantity/decimal.h"

#include <algorithm>
#include <array>
#include <cstdlib>

namespace ohmleaf {
namespace {

__extension__ typedef __int128 Wide;

constexpr Wide kMost = std::numeric_limits<std::int64_t>::max();

/// Up to what two scales and the places of a result can differ by (10^38 is the last that fits).
constexpr auto kPowers = [] {
  std::array<Wide, 39> powers{1};
  for (std::size_t n = 1; n < powers.size(); ++n) powers[n] = powers[n - 1] * 10;
  return powers;
}();
constexpr Wide pow10(int n) { return kPowers[static_cast<std::size_t>(n)]; }

/// The decimal m × 10^-scale, made to fit by dropping zeros that carry no value; else void.
Decimal fit(Wide m, int scale) {
  while (scale > 0 && (scale > Decimal::kMaxScale || m > kMost || m < -kMost) && m % 10 == 0) {
    m /= 10;
    --scale;
  }
  if (scale > Decimal::kMaxScale || m > kMost || m < -kMost) return Decimal::void_value();
  return Decimal(static_cast<std::int64_t>(m), scale);
}

/// Both mantissas at the larger scale. At most 2^63 × 10^18 < 2^127: never overflows.
struct Aligned {
  Wide a, b;
  int scale;
};
Aligned align(const Decimal& a, const Decimal& b) {
  if (a.scale() == b.scale()) return {a.mantissa(), b.mantissa(), a.scale()};
  const int scale = std::max(a.scale(), b.scale());
  return {a.mantissa() * pow10(scale - a.scale()), b.mantissa() * pow10(scale - b.scale()), scale};
}

/// n ÷ d for d > 0, rounded as asked; the sign is n's.
Wide divide_rounded(Wide n, Wide d, Round round) {
  const bool negative = n < 0;
  if (negative) n = -n;
  Wide q = 0, r = 0;
  if (n <= kMost && d <= kMost) {  // nearly always: a division by the processor
    q = static_cast<std::int64_t>(n) / static_cast<std::int64_t>(d);
    r = static_cast<std::int64_t>(n) % static_cast<std::int64_t>(d);
  } else {
    q = n / d;
    r = n % d;
  }
  if (r != 0 && (round == Round::up || (round == Round::half_up && r >= d - r))) ++q;
  return negative ? -q : q;
}

}  // namespace

std::string Decimal::str() const {
  if (is_void()) return "void";
  // From the last digit on, since most texts hold a few: a sign, a point and 19 digits, or "-0." and the places.
  std::array<char, 3 + std::max(19, kMaxScale)> text{};
  char* const end = text.data() + text.size();
  char* at = end;
  auto rest = static_cast<std::uint64_t>(mantissa_ < 0 ? -mantissa_ : mantissa_);
  const auto digit = [&] {
    *--at = static_cast<char>('0' + rest % 10);
    rest /= 10;
  };
  for (int i = 0; i < scale_; ++i) digit();
  if (scale_ > 0) *--at = '.';
  do digit();
  while (rest > 0);
  if (mantissa_ < 0) *--at = '-';
  return {at, end};
}

std::string Decimal::short_str() const {
  Decimal d = *this;
  while (!d.is_void() && d.scale_ > 0 && d.mantissa_ % 10 == 0) {
    d.mantissa_ /= 10;
    --d.scale_;
  }
  return d.str();
}

std::partial_ordering operator<=>(const Decimal& a, const Decimal& b) {
  if (a.is_void() || b.is_void()) return std::partial_ordering::unordered;
  const Aligned x = align(a, b);
  if (x.a < x.b) return std::partial_ordering::less;
  if (x.a > x.b) return std::partial_ordering::greater;
  return std::partial_ordering::equivalent;
}

Decimal operator+(const Decimal& a, const Decimal& b) {
  if (a.is_void() || b.is_void()) return Decimal::void_value();
  const Aligned x = align(a, b);
  // Two aligned values of opposite worth could reach 2^127 only beyond the range that fits.
  Wide sum = 0;
  if (__builtin_add_overflow(x.a, x.b, &sum)) return Decimal::void_value();
  return fit(sum, x.scale);
}

Decimal operator-(const Decimal& a) {
  if (a.is_void()) return a;
  return Decimal(-a.mantissa(), a.scale());
}

Decimal operator-(const Decimal& a, const Decimal& b) { return a + (-b); }

Decimal operator*(const Decimal& a, const Decimal& b) {
  if (a.is_void() || b.is_void()) return Decimal::void_value();
  return fit(Wide(a.mantissa()) * b.mantissa(), a.scale() + b.scale());
}

Decimal Decimal::divide(const Decimal& a, const Decimal& b, int places, Round round) {
  if (a.is_void() || b.is_void() || b.is_zero() || places < 0 || places > kMaxScale)
    return void_value();
  Wide top = a.mantissa(), below = b.mantissa();
  if (below < 0) {
    top = -top;
    below = -below;
  }
  // value = top/below × 10^(b.scale - a.scale); wanted: an integer at 10^-places. Where 128 bits
  // do not hold the way there, the result fits only if its last places are zeros: ask for fewer
  // places, and then exactly.
  for (int p = places; p >= 0; --p) {
    const int shift = p + b.scale() - a.scale();
    Wide n = top, d = below;
    Wide& side = shift >= 0 ? n : d;
    if (__builtin_mul_overflow(side, pow10(std::abs(shift)), &side)) continue;
    if (p != places && n % d != 0) break;
    return fit(divide_rounded(n, d, round), p);
  }
  return void_value();
}

Decimal Decimal::sqrt(const Decimal& a, int places, Round round) {
  if (a.is_void() || a.is_negative() || places < 0 || places > 9) return void_value();
  // n and a dropped fraction rest/unit: a × 10^(2·places) = n + rest/unit.
  Wide n = a.mantissa(), rest = 0, unit = 1;
  const int shift = 2 * places - a.scale();
  if (shift >= 0) {
    if (__builtin_mul_overflow(n, pow10(shift), &n)) return void_value();
  } else {
    unit = pow10(-shift);
    rest = n % unit;
    n /= unit;
  }
  // floor(sqrt(n)) by bisection over the integers of about half as many bits.
  int bits = 0;
  while (bits < 64 && (n >> (2 * bits)) != 0) ++bits;
  Wide low = 0, high = bits >= 63 ? kMost : Wide{1} << bits;
  while (low < high) {
    const Wide mid = low + (high - low + 1) / 2;
    if (mid <= n / mid) low = mid; else high = mid - 1;
  }
  const bool exact = rest == 0 && low * low == n;
  // (low + ½)² = low² + low + ¼: at n = low² + low the dropped fraction decides.
  const Wide beyond = n - low * low - low;
  const bool half = beyond > 0 || (beyond == 0 && 4 * rest >= unit);
  if (!exact && (round == Round::up || (round == Round::half_up && half))) ++low;
  return fit(low, places);
}

Decimal Decimal::rounded(int places, Round round) const {
  if (is_void() || scale_ <= places) return *this;
  if (places < 0) return void_value();
  return fit(divide_rounded(mantissa_, pow10(scale_ - places), round), places);
}

Decimal min(const Decimal& a, const Decimal& b) {
  if (a.is_void() || b.is_void()) return Decimal::void_value();
  return b < a ? b : a;
}
Decimal max(const Decimal& a, const Decimal& b) {
  if (a.is_void() || b.is_void()) return Decimal::void_value();
  return a < b ? b : a;
}

}  // namespace ohmleaf
