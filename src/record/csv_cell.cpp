#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "base/text.h"
#include "quantity/decimal.h"
#include "record/csv_readings.h"

// One cell of a CSV file as the job file has it: its decimal mark, its unit, its words.

namespace ohmleaf::record {
namespace {

/// Units that are written out, and what they are: a prefix before one of them counts too.
struct UnitName {
  std::string_view name, symbol;
};
constexpr std::array kUnits{
    UnitName{"Ω", "Ω"},      UnitName{"ohms", "Ω"},   UnitName{"ohm", "Ω"},  UnitName{"Ohms", "Ω"},
    UnitName{"Ohm", "Ω"},    UnitName{"OHM", "Ω"},    UnitName{"R", "Ω"},    UnitName{"s", "s"},
    UnitName{"sec", "s"},    UnitName{"A", "A"},      UnitName{"amps", "A"}, UnitName{"V", "V"},
    UnitName{"volts", "V"},  UnitName{"m", "m"},      UnitName{"W", "W"},    UnitName{"mm²", "mm²"},
    UnitName{"mm2", "mm²"},  UnitName{"°C", "°C"},    UnitName{"C", "°C"},   UnitName{"%", "%"}};
struct Prefix {
  std::string_view name;
  int tens;
};
constexpr std::array kPrefixes{Prefix{"", 0},  Prefix{"u", -6}, Prefix{"µ", -6}, Prefix{"m", -3},
                               Prefix{"k", 3}, Prefix{"K", 3},  Prefix{"M", 6},  Prefix{"G", 9}};

struct Unit {
  std::string_view symbol;
  int tens = 0;
};

std::optional<Unit> unit_of(std::string_view text) {
  for (const UnitName& u : kUnits)
    if (text == u.name) return Unit{u.symbol, 0};
  for (const UnitName& u : kUnits) {
    if (u.symbol == "mm²" || u.symbol == "°C" || u.symbol == "%" || !text.ends_with(u.name)) continue;
    const std::string_view rest = text.substr(0, text.size() - u.name.size());
    for (const Prefix& p : kPrefixes)
      if (!p.name.empty() && rest == p.name) return Unit{u.symbol, p.tens};
  }
  return std::nullopt;
}

Decimal shifted(const Decimal& value, int tens) {
  if (tens <= 0) return value * Decimal(1, -tens);
  Decimal out = value;
  for (int i = 0; i < tens; ++i) out = out * Decimal::integer(10);
  return out;
}

/// ">", "0.43" and "Ω" of "> 0.43 Ω".
struct Parts {
  std::string mark, number, unit;
};
Parts parted(std::string_view text) {
  Parts out;
  if (text.starts_with('>') || text.starts_with('<')) {
    out.mark = text.front();
    text = trim(text.substr(1));
  }
  std::size_t end = 0;
  while (end < text.size() &&
         ((text[end] >= '0' && text[end] <= '9') || text[end] == '.' || text[end] == ','))
    ++end;
  out.number = text.substr(0, end);
  out.unit = trim(text.substr(end));
  return out;
}

std::nullopt_t fail(CellFault& fault, std::string message, std::string hint) {
  fault = {std::move(message), std::move(hint)};
  return std::nullopt;
}

/// The number with a point, whatever mark the file has.
std::optional<std::string> with_point(const std::string& number, char decimal, CellFault& fault) {
  const char other = decimal == ',' ? '.' : ',';
  if (number.find(other) != std::string::npos)
    return fail(fault,
                fmt::format("a {} stands in \"{}\", and the decimals of this file begin with a {}",
                            other == ',' ? "comma" : "point", visible(number),
                            decimal == ',' ? "comma" : "point"),
                fmt::format("Write decimal = \"{}\" in [csv.NAME] of installer.toml where that is "
                            "how the file has it; thousands are written without a mark.",
                            other));
  std::string out = number;
  std::replace(out.begin(), out.end(), ',', '.');
  return out;
}

/// The native unit of a key: a fault current has its unit in the text, and is kept in kA.
std::string_view native(const Shape& shape) {
  return shape.written == Written::fault_current ? std::string_view("kA")
                                                 : std::string_view(shape.unit);
}

std::optional<std::string> in_unit(const Parts& parts, const std::string& number,
                                   std::string_view unit_text, const Shape& shape,
                                   CellFault& fault) {
  const auto value = Decimal::parse(number);
  if (!value)
    return fail(fault, fmt::format("\"{}\" is no number", visible(parts.number)),
                "A reading is a number such as 0.43, or \">999\".");
  const auto have = unit_of(unit_text), want = unit_of(native(shape));
  if (!unit_text.empty() && (!have || !want || have->symbol != want->symbol))
    return fail(fault,
                fmt::format("\"{}\" is no unit of this reading, which is in {}", visible(unit_text),
                            native(shape).empty() ? "no unit" : native(shape)),
                "Check which column this is, and the unit in its heading.");
  const int tens = have && want ? have->tens - want->tens : 0;
  const Decimal out = tens == 0 ? *value : shifted(*value, tens);
  if (out.is_void())
    return fail(fault, fmt::format("{} {} is beyond any reading", visible(parts.number), unit_text),
                "Check the figure and its unit.");
  std::string text = parts.mark + (tens == 0 ? number : out.str());
  if (shape.written == Written::fault_current && !unit_text.empty()) text += " kA";
  return text;
}

std::optional<std::string> flag_cell(std::string_view text, CellFault& fault) {
  const std::string word = ascii_lower(text);
  for (const char* yes : {"true", "yes", "y", "1", "ok", "pass", "✓", "✔"})
    if (word == yes) return "true";
  for (const char* no : {"false", "no", "n", "0", "fail", "✗", "✘"})
    if (word == no) return "false";
  return fail(fault, fmt::format("\"{}\" is neither yes nor no", visible(text)),
              "Write yes or no, or name the word in [csv.NAME.words] of installer.toml.");
}

}  // namespace

std::string csv_unit_of(std::string_view heading) {
  const std::string nfc = to_nfc(trim(heading));
  std::string_view text = nfc;
  for (const auto& [open, close] : {std::pair{'(', ')'}, std::pair{'[', ']'}}) {
    if (!text.ends_with(close)) continue;
    const std::size_t at = text.rfind(open);
    if (at == std::string_view::npos) continue;
    const std::string_view inside = trim(text.substr(at + 1, text.size() - at - 2));
    if (unit_of(inside)) return std::string(inside);
  }
  for (const std::string_view mark : {", ", " in ", "/"}) {
    const std::size_t at = text.rfind(mark);
    if (at == std::string_view::npos) continue;
    const std::string_view behind = trim(text.substr(at + mark.size()));
    if (unit_of(behind)) return std::string(behind);
  }
  return {};
}

std::optional<std::string> csv_cell(std::string_view cell, std::string_view heading_unit,
                                    char decimal, const Shape& shape, CellFault& fault) {
  const std::string nfc = to_nfc(trim(cell));
  const std::string_view text = nfc;
  if (shape.written == Written::flag) return flag_cell(text, fault);
  const std::string lower = ascii_lower(text);
  const bool no_figure = lower.starts_with("lim") || lower.starts_with("n/a");
  const bool figure = shape.written == Written::reading || shape.written == Written::number ||
                      shape.written == Written::fault_current || shape.written == Written::size;
  if (!figure || no_figure) return nfc;
  const Parts parts = parted(text);
  if (parts.number.empty()) return nfc;  // no reading: the reader says so
  const auto number = with_point(parts.number, decimal, fault);
  if (!number) return std::nullopt;
  return in_unit(parts, *number, parts.unit.empty() ? heading_unit : parts.unit, shape, fault);
}

}  // namespace ohmleaf::record
