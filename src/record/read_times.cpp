#include <fmt/format.h>

#include "base/text.h"
#include "record/reader.h"

// Dates, times, fault currents: scalars whose text carries more than a figure.

namespace ohmleaf::record {
namespace {

constexpr auto kMostCurrent = Decimal::integer(200);  // kA, beyond any low-voltage supply

/// "20/11/2026" or "20.11.26" as 2026-11-20, to suggest it.
std::string turned_round(std::string_view text) {
  for (const char mark : {'/', '.', '-'}) {
    const auto parts = split(text, mark);
    if (parts.size() != 3 || parts[2].size() < 2) continue;
    std::string year(trim(parts[2]));
    if (year.size() == 2) year = "20" + year;
    const auto two = [](std::string_view s) {
      return s.size() == 1 ? "0" + std::string(s) : std::string(s);
    };
    const std::string iso = fmt::format("{}-{}-{}", year, two(trim(parts[1])), two(trim(parts[0])));
    if (Date::parse(iso)) return iso;
  }
  return {};
}

void no_such_date(Reader& in, const Value& value, std::string_view example) {
  const std::string text(trim(value.node.text));
  const std::string turned = turned_round(text);
  in.error("impossible-date", value.node.span,
           fmt::format("{}: \"{}\" is not a date that exists", value.name, visible(text)),
           turned.empty() ? fmt::format("Write year, month and day, for example {}.", example)
                          : fmt::format("Write year, month and day: {}.", turned));
}

}  // namespace

std::optional<Date> read_date(Reader& in, const Value& value) {
  const TomlKind kind = value.node.kind;
  if (kind != TomlKind::date && kind != TomlKind::string) {
    in.wrong_type(value, "a date",
                  kind == TomlKind::date_time
                      ? "Write the day alone, for example 2026-11-20."
                      : "Write year, month and day, for example 2026-11-20.");
    return std::nullopt;
  }
  const auto date = Date::parse(trim(value.node.text));
  if (!date) no_such_date(in, value, "2026-11-20");
  return date;
}

std::optional<DateTime> read_date_time(Reader& in, const Value& value) {
  constexpr std::string_view example = "2026-11-20T09:12:00";
  const TomlKind kind = value.node.kind;
  if (kind != TomlKind::date_time && kind != TomlKind::string) {
    in.wrong_type(value, "a date and time", fmt::format("Write both, for example {}.", example));
    return std::nullopt;
  }
  const std::string_view text = trim(value.node.text);
  const auto moment = DateTime::parse(text);
  if (moment) return moment;
  if (text.size() > 16 && Date::parse(text.substr(0, 10)) &&
      text.find_first_of("Zz+.", 11) != std::string_view::npos) {
    in.error(
        "time-zone", value.node.span,
        fmt::format("{} is the time on the wall: no zone, no fraction of a second", value.name),
        fmt::format("Write it like {}.", example));
  } else {
    no_such_date(in, value, example);
  }
  return std::nullopt;
}

std::optional<RawReading> read_fault_current(Reader& in, const Value& value) {
  if (value.node.is_number()) {
    in.error("no-unit", value.node.span, fmt::format("{} stands without its unit", value.name),
             fmt::format("Write {0} = \"{1} kA\" or {0} = \"{1} A\".", value.name,
                         visible(value.node.text)));
    return std::nullopt;
  }
  if (value.node.kind != TomlKind::string) {
    in.wrong_type(value, "a fault current with its unit",
                  "Write it like \"1.1 kA\" or \"1100 A\".");
    return std::nullopt;
  }
  const std::string text = to_nfc(trim(value.node.text));
  const std::string lower = ascii_lower(text);
  const bool no_value = lower.starts_with("lim") || lower.starts_with("n/a");
  const bool kilo = lower.ends_with("ka");
  std::string_view number = text;
  if (!no_value && (kilo || (lower.ends_with('a') && !lower.ends_with("ma"))))
    number.remove_suffix(kilo ? 2 : 1);
  ReadingFault fault;
  auto raw = parse_reading(number, fault);
  if (!no_value && number.size() == text.size()) {
    in.error("no-unit", value.node.span,
             raw ? fmt::format("{} stands without its unit", value.name)
                 : fmt::format("{}: \"{}\" is no fault current", value.name, visible(text)),
             "Write it like \"1.1 kA\" or \"1100 A\".");
    return std::nullopt;
  }
  if (!raw) {
    in.error("not-a-reading", value.node.span, fmt::format("{}: {}", value.name, fault.message),
             no_value ? fault.hint : "Write it like \"1.1 kA\" or \"1100 A\".");
    return std::nullopt;
  }
  raw->text = text;
  if (no_value) return printable(in, value, text) ? raw : std::nullopt;
  if (!kilo) raw->value = raw->value * Decimal(1, 3);
  if (raw->value.is_zero() || raw->value.is_void() || raw->value > kMostCurrent) {
    in.error("out-of-range", value.node.span,
             fmt::format("{} of {} cannot be right", value.name, visible(text)),
             "Check the figure and its unit: 1.1 kA is 1100 A.");
    return std::nullopt;
  }
  return raw;
}

}  // namespace ohmleaf::record
