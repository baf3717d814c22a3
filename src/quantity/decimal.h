#pragma once
#include <compare>
#include <cstdint>
#include <limits>
#include <optional>
#include <string>
#include <string_view>

namespace ohmleaf {

enum class Round { down, up, half_up };

/// An exact decimal: mantissa × 10^-scale, scale 0 to 18. Never a binary float, never rounded
/// except where a function says so by name.
///
/// Overflow poisons: a result that does not fit is *void*, every operation on a void value is
/// void, and a void value compares unordered with everything. So no check that asks "is the
/// reading within the limit?" can pass by accident of arithmetic.
class Decimal {
 public:
  constexpr Decimal() = default;
  /// `scale` outside 0..18, or the one mantissa that has no negative, gives a void value.
  constexpr Decimal(std::int64_t mantissa, int scale)
      : mantissa_(mantissa), scale_(static_cast<std::int8_t>(scale)) {
    if (scale < 0 || scale > kMaxScale || mantissa == std::numeric_limits<std::int64_t>::min())
      *this = void_value();
  }
  static constexpr Decimal integer(std::int64_t n) { return Decimal(n, 0); }
  static constexpr Decimal void_value() {
    Decimal d;
    d.scale_ = kVoid;
    return d;
  }

  /// Digits with at most one point, optional minus, at most 18 digits, nothing else.
  static constexpr std::optional<Decimal> parse(std::string_view text);

  constexpr bool is_void() const { return scale_ == kVoid; }
  constexpr std::int64_t mantissa() const { return mantissa_; }
  constexpr int scale() const { return scale_; }
  constexpr bool is_zero() const { return !is_void() && mantissa_ == 0; }
  constexpr bool is_negative() const { return !is_void() && mantissa_ < 0; }

  /// As written, trailing zeros kept ("1.10"). "void" for a void value.
  std::string str() const;
  /// Trailing zeros after the point removed ("1.1").
  std::string short_str() const;

  /// By value: 1.10 equals 1.1.
  friend std::partial_ordering operator<=>(const Decimal& a, const Decimal& b);
  friend bool operator==(const Decimal& a, const Decimal& b) { return (a <=> b) == 0; }

  friend Decimal operator+(const Decimal& a, const Decimal& b);
  friend Decimal operator-(const Decimal& a, const Decimal& b);
  friend Decimal operator*(const Decimal& a, const Decimal& b);
  friend Decimal operator-(const Decimal& a);

  /// a ÷ b to `places` decimals, rounded towards zero, away from zero, or half away from zero.
  /// Division by zero is void.
  static Decimal divide(const Decimal& a, const Decimal& b, int places, Round round);
  /// Square root of a non-negative value to `places` decimals, 0 to 9.
  static Decimal sqrt(const Decimal& a, int places, Round round);
  Decimal rounded(int places, Round round) const;
  Decimal abs() const { return is_negative() ? -*this : *this; }

  static constexpr int kMaxScale = 18;

 private:
  static constexpr std::int8_t kVoid = -1;
  std::int64_t mantissa_ = 0;
  std::int8_t scale_ = 0;
};

constexpr std::optional<Decimal> Decimal::parse(std::string_view text) {
  bool negative = false;
  if (!text.empty() && text.front() == '-') {
    negative = true;
    text.remove_prefix(1);
  }
  std::int64_t mantissa = 0;
  int digits = 0, scale = 0;
  bool point = false;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    if (c == '.') {
      if (point || i == 0 || i + 1 == text.size()) return std::nullopt;
      point = true;
    } else if (c >= '0' && c <= '9') {
      if (++digits > 18) return std::nullopt;
      mantissa = mantissa * 10 + (c - '0');
      if (point) ++scale;
    } else {
      return std::nullopt;
    }
  }
  if (digits == 0) return std::nullopt;
  return Decimal(negative ? -mantissa : mantissa, scale);
}

Decimal min(const Decimal& a, const Decimal& b);
Decimal max(const Decimal& a, const Decimal& b);

}  // namespace ohmleaf
