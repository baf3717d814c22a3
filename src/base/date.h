#pragma once
#include <compare>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace ohmleaf {

/// A calendar date, years 1900 to 2999.
struct Date {
  int year = 1900;
  int month = 1;
  int day = 1;
  friend constexpr auto operator<=>(const Date&, const Date&) = default;

  /// "2026-11-20"; nothing for a date that does not exist.
  static std::optional<Date> parse(std::string_view text);
  std::string iso() const;
  /// "20 November 2026", as printed.
  std::string words() const;
  Date plus_months(int months) const;
};

/// Local date and time as written ("2026-11-20T09:12:00", seconds optional); no zone.
struct DateTime {
  Date date;
  int hour = 0;
  int minute = 0;
  int second = 0;
  friend constexpr auto operator<=>(const DateTime&, const DateTime&) = default;

  static std::optional<DateTime> parse(std::string_view text);
  std::string iso() const;
  /// "20 November 2026, 09:12"
  std::string words() const;
};

/// A moment in UTC, whole seconds: when a certificate was issued. Always given by the caller.
struct Instant {
  std::int64_t unix_seconds = 0;
  friend constexpr auto operator<=>(const Instant&, const Instant&) = default;

  /// "2026-11-20T09:12:00Z"
  std::string iso() const;
  static std::optional<Instant> parse(std::string_view text);
  Date date() const;
};

}  // namespace ohmleaf
