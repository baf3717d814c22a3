#include "base/date.h"

#include <fmt/format.h>

#include <array>
#include <chrono>

namespace ohmleaf {
namespace {

constexpr std::array<std::string_view, 12> kMonths = {
    "January", "February", "March",     "April",   "May",      "June",
    "July",    "August",   "September", "October", "November", "December"};

std::optional<int> digits(std::string_view text) {
  int n = 0;
  for (const char c : text) {
    if (c < '0' || c > '9') return std::nullopt;
    n = n * 10 + (c - '0');
  }
  return text.empty() ? std::nullopt : std::optional(n);
}

bool exists(const Date& d) {
  using namespace std::chrono;
  return d.year >= 1900 && d.year <= 2999 &&
         year_month_day(year(d.year), month(static_cast<unsigned>(d.month)),
                        day(static_cast<unsigned>(d.day))).ok();
}

}  // namespace

std::optional<Date> Date::parse(std::string_view text) {
  if (text.size() != 10 || text[4] != '-' || text[7] != '-') return std::nullopt;
  const auto y = digits(text.substr(0, 4)), m = digits(text.substr(5, 2)),
             d = digits(text.substr(8, 2));
  if (!y || !m || !d) return std::nullopt;
  const Date date{*y, *m, *d};
  return exists(date) ? std::optional(date) : std::nullopt;
}

std::string Date::iso() const { return fmt::format("{:04}-{:02}-{:02}", year, month, day); }

std::string Date::words() const {
  return fmt::format("{} {} {}", day, kMonths.at(static_cast<std::size_t>(month - 1)), year);
}

Date Date::plus_months(int months) const {
  const int total = year * 12 + (month - 1) + months;
  Date out{total / 12, total % 12 + 1, day};
  while (!exists(out) && out.day > 28) --out.day;
  return out;
}

std::optional<DateTime> DateTime::parse(std::string_view text) {
  if (text.size() < 16 || (text[10] != 'T' && text[10] != ' ') || text[13] != ':')
    return std::nullopt;
  const auto date = Date::parse(text.substr(0, 10));
  const auto h = digits(text.substr(11, 2)), m = digits(text.substr(14, 2));
  std::optional<int> s = 0;
  if (text.size() > 16) s = text.size() == 19 && text[16] == ':' ? digits(text.substr(17, 2)) : std::nullopt;
  if (!date || !h || !m || !s || *h > 23 || *m > 59 || *s > 59) return std::nullopt;
  return DateTime{*date, *h, *m, *s};
}

std::string DateTime::iso() const {
  return fmt::format("{}T{:02}:{:02}:{:02}", date.iso(), hour, minute, second);
}

std::string DateTime::words() const {
  return fmt::format("{}, {:02}:{:02}", date.words(), hour, minute);
}

Date Instant::date() const {
  using namespace std::chrono;
  const year_month_day d(floor<days>(sys_seconds(seconds(unix_seconds))));
  return {static_cast<int>(d.year()), static_cast<int>(static_cast<unsigned>(d.month())),
          static_cast<int>(static_cast<unsigned>(d.day()))};
}

std::string Instant::iso() const {
  std::int64_t rest = unix_seconds % 86400;
  if (rest < 0) rest += 86400;
  return fmt::format("{}T{:02}:{:02}:{:02}Z", date().iso(), rest / 3600, rest / 60 % 60, rest % 60);
}

std::optional<Instant> Instant::parse(std::string_view text) {
  if (text.size() != 20 || text.back() != 'Z') return std::nullopt;
  const auto local = DateTime::parse(text.substr(0, 19));
  if (!local) return std::nullopt;
  using namespace std::chrono;
  const sys_days day(year_month_day(year(local->date.year),
                                    month(static_cast<unsigned>(local->date.month)),
                                    std::chrono::day(static_cast<unsigned>(local->date.day))));
  return Instant{day.time_since_epoch().count() * std::int64_t{86400} + local->hour * 3600 +
                 local->minute * 60 + local->second};
}

}  // namespace ohmleaf
