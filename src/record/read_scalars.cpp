#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"
#include "record/reader.h"

namespace ohmleaf::record {
namespace {

constexpr std::size_t kMaxText = 4000;
constexpr std::ptrdiff_t kMaxDigits = 10;

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

std::ptrdiff_t digits_of(std::string_view text) {
  return std::count_if(text.begin(), text.end(), is_digit);
}

/// The word meant by a misspelt one, or by a part of one ("ring" for "ring final").
std::optional<std::string> nearest_word(const std::string& wanted,
                                        std::span<const std::string_view> words) {
  if (auto near = nearest(wanted, {words.begin(), words.end()})) return near;
  std::optional<std::string> found;
  for (const std::string_view w : words) {
    if (wanted.size() < 3 || ascii_lower(w).find(wanted) == std::string::npos) continue;
    if (found) return std::nullopt;
    found = std::string(w);
  }
  return found;
}

/// "mm2" is mm²: the unit as people type it.
bool same_unit(const std::string& typed, std::string_view symbol) {
  if (typed == symbol) return true;
  if (symbol == "mm²") return typed == "mm2" || typed == "mm^2" || typed == "sqmm";
  if (symbol == "m") return typed == "metres" || typed == "metre";
  return symbol == "°C" && (typed == "C" || typed == "degC");
}

bool of_the_form(Reader& in, const Value& value, std::string_view text) {
  if (value.rule.accepts == nullptr || value.rule.accepts(text)) return true;
  in.error("wrong-form", value.node.span,
           fmt::format("\"{}\" cannot stand as {}", visible(text), value.name),
           fmt::format("{} is {}.", value.name, value.rule.form));
  return false;
}

/// Digits with at most one point: no underscores, exponents, signs or other bases.
std::optional<Decimal> plain_number(Reader& in, const Value& value) {
  const std::string& text = value.node.text;
  if (text.starts_with('-') || text.starts_with('+')) {
    in.error("number-form", value.node.span,
             fmt::format("{} is written without a sign", value.name),
             fmt::format("Write {} = {}.", value.name, visible(text.substr(1))));
    return std::nullopt;
  }
  const auto number = Decimal::parse(text);
  if (!number && digits_of(text) == static_cast<std::ptrdiff_t>(text.size())) {
    in.error("number-form", value.node.span,
             fmt::format("{} has more than {} digits", value.name, kMaxDigits),
             "Write it as the instrument shows it.");
    return std::nullopt;
  }
  if (!number) {
    in.error("number-form", value.node.span,
             fmt::format("{} needs plain digits with at most one point", value.name),
             "Write it as the instrument shows it, for example 0.42.");
    return std::nullopt;
  }
  return number;
}

bool one_of(Reader& in, const Value& value, const Decimal& number) {
  std::vector<std::string> allowed;
  for (const std::int64_t n : value.rule.numbers) {
    if (number == Decimal::integer(n)) return true;
    allowed.push_back(std::to_string(n));
  }
  in.error("out-of-range", value.node.span,
           fmt::format("{} of {} cannot be right", value.name, number.str()),
           fmt::format("Allowed is {}.", join(allowed, " or ")));
  return false;
}

bool in_bounds(Reader& in, const Value& value, const NumberKind& kind, const Decimal& number,
               std::string_view text) {
  if (!value.rule.numbers.empty()) return one_of(in, value, number);
  const bool ruled = value.rule.most > 0;
  const auto least = ruled ? value.rule.least : kind.least;
  const auto most = ruled ? value.rule.most : kind.most;
  const std::string unit = kind.symbol.empty() ? "" : " " + std::string(kind.symbol);
  if (digits_of(text) > kMaxDigits) {
    in.error("number-form", value.node.span,
             fmt::format("{} has more than {} digits", value.name, kMaxDigits),
             "Write it as the instrument shows it.");
    return false;
  }
  if (number < Decimal::integer(least) || (most > 0 && number > Decimal::integer(most))) {
    in.error(
        "out-of-range", value.node.span,
        fmt::format("{} of {}{} cannot be right", value.name, number.str(), unit),
        fmt::format("Allowed is {} to {}{}. Check the figure and its unit.", least, most, unit));
    return false;
  }
  if (number.is_zero() && !kind.zero) {
    in.error("out-of-range", value.node.span,
             fmt::format("{} of 0{} cannot be right", value.name, unit),
             "Where it is not known, leave the line out.");
    return false;
  }
  return true;
}

std::string number_hint(const Value& value, std::string_view symbol) {
  const std::string& text = value.node.text;
  std::size_t end = 0;
  while (end < text.size() && (is_digit(text[end]) || text[end] == '.')) ++end;
  if (end == 0 || !Decimal::parse(text.substr(0, end))) return {};
  const std::string unit(trim(std::string_view(text).substr(end)));
  if (unit.empty()) return fmt::format("Write {} = {}, without quotation marks.", value.name, text);
  if (!same_unit(unit, symbol) && !symbol.empty())
    return fmt::format("The figure stands alone and counts in {}, not in {}.", symbol,
                       visible(unit));
  return fmt::format("The unit is known: write {} = {}.", value.name, text.substr(0, end));
}

}  // namespace

bool printable(Reader& in, const Value& value, std::string_view text) {
  for (const char32_t cp : code_points(text)) {
    if (cp == U'\n' && value.rule.lines) continue;
    if (cp == U'\n') {
      in.error("forbidden-character", value.node.span,
               fmt::format("{} is one line of text, and this one runs over several", value.name),
               "Write it in one line.");
      return false;
    }
    if (is_forbidden_in_text(cp)) {
      in.error("forbidden-character", value.node.span,
               fmt::format("{} holds an invisible character (U+{:04X}) that cannot be printed",
                           value.name, static_cast<std::uint32_t>(cp)),
               cp == U'\t' ? "Replace the tab by a space."
                           : "Type the text again instead of pasting it.");
      return false;
    }
  }
  return true;
}

std::optional<std::string> read_text(Reader& in, const Value& value) {
  const TomlNode& node = value.node;
  if (node.kind != TomlKind::string) {
    const bool scalar = !node.is_table() && !node.is_array();
    in.wrong_type(value, "text in quotation marks",
                  scalar ? fmt::format("Write {} = \"{}\".", value.name, visible(node.text)) : "");
    return std::nullopt;
  }
  std::string text;
  for (const char c : to_nfc(trim(node.text)))
    if (c != '\r') text += c;
  if (text.empty()) return text;
  if (code_point_count(text) > kMaxText) {
    in.error("text-too-long", node.span,
             fmt::format("{} has {} characters", value.name, code_point_count(text)),
             fmt::format("At most {} fit. Put the rest into a document of its own.", kMaxText));
    return std::nullopt;
  }
  if (!value.rule.words.empty()) {
    const auto word = read_word(in, value, value.rule.words);
    return word ? std::optional(std::string(*word)) : std::nullopt;
  }
  if (!printable(in, value, text) || !of_the_form(in, value, text)) return std::nullopt;
  return text;
}

std::optional<std::string_view> read_word(Reader& in, const Value& value,
                                          std::span<const std::string_view> words) {
  if (value.node.kind != TomlKind::string) {
    in.wrong_type(value, "one of these words", "Allowed: " + list_words(words) + ".");
    return std::nullopt;
  }
  const std::string wanted = ascii_lower(trim(value.node.text));
  for (const std::string_view w : words)
    if (ascii_lower(w) == wanted) return w;
  Diagnostic& d = in.error("unknown-word", value.node.span,
                           fmt::format("{}: \"{}\" is not one of its words", value.name,
                                       visible(trim(value.node.text))));
  if (const auto near = nearest_word(wanted, words))
    d.hints.push_back(fmt::format("Did you mean \"{}\"?", *near));
  d.hints.push_back("Allowed: " + list_words(words) + ".");
  return std::nullopt;
}

std::optional<bool> read_flag(Reader& in, const Value& value) {
  if (value.node.kind == TomlKind::boolean) return value.node.text == "true";
  const std::string word = ascii_lower(trim(value.node.text));
  const bool yes = word == "yes" || word == "true" || word == "1" || word == "y";
  const bool no = word == "no" || word == "false" || word == "0" || word == "n";
  in.wrong_type(value, "true or false",
                yes || no ? fmt::format("Write {} = {}, without quotation marks.", value.name, yes)
                          : "Where it was not done or does not apply, leave the line out.");
  return std::nullopt;
}

std::optional<Decimal> read_number(Reader& in, const Value& value, const NumberKind& kind) {
  if (!value.node.is_number()) {
    const std::string needed =
        kind.symbol.empty() ? "a number" : fmt::format("a number in {}", kind.symbol);
    in.wrong_type(value, needed, number_hint(value, kind.symbol));
    return std::nullopt;
  }
  std::optional<Decimal> number;
  if (kind.least < 0 && value.node.text.starts_with('-'))
    number = Decimal::parse(value.node.text);  // a temperature may be below zero
  if (!number) number = plain_number(in, value);
  if (!number || !in_bounds(in, value, kind, *number, value.node.text)) return std::nullopt;
  return number;
}

std::optional<RawReading> read_reading(Reader& in, const Value& value, const NumberKind& kind) {
  RawReading out;
  if (value.node.is_number()) {
    const auto number = plain_number(in, value);
    if (!number) return std::nullopt;
    out.value = *number;
    out.text = value.node.text;
  } else if (value.node.kind == TomlKind::string) {
    ReadingFault fault;
    const auto raw = parse_reading(to_nfc(value.node.text), fault);
    if (!raw) {
      in.error("not-a-reading", value.node.span, fmt::format("{}: {}", value.name, fault.message),
               fault.hint);
      return std::nullopt;
    }
    out = *raw;
    if (!printable(in, value, out.text)) return std::nullopt;
  } else {
    in.wrong_type(value, fmt::format("a reading in {}", kind.symbol),
                  "A reading is a number, \">999\", \"<0.05\", \"LIM: why\" or \"N/A: why\".");
    return std::nullopt;
  }
  const bool number =
      out.kind != ReadingKind::limitation && out.kind != ReadingKind::not_applicable;
  if (number && !in_bounds(in, value, kind, out.value, out.value.str())) return std::nullopt;
  return out;
}

std::optional<RawReading> read_size(Reader& in, const Value& value, const NumberKind& kind) {
  if (value.node.kind != TomlKind::string) {
    const auto number = read_number(in, value, kind);
    if (!number) return std::nullopt;
    return RawReading{ReadingKind::value, *number, value.node.text, {}};
  }
  ReadingFault fault;
  const auto raw = parse_reading(to_nfc(value.node.text), fault);
  if (raw && raw->kind == ReadingKind::not_applicable)
    return printable(in, value, raw->text) ? raw : std::nullopt;
  if (!raw && ascii_lower(trim(value.node.text)).starts_with("n/a")) {
    in.error("not-a-reading", value.node.span, fmt::format("{}: {}", value.name, fault.message),
             fault.hint);
    return std::nullopt;
  }
  std::string hint = number_hint(value, kind.symbol);
  if (hint.empty())
    hint = fmt::format("Write the size as a number in {}, or \"N/A: why\".", kind.symbol);
  in.wrong_type(value, fmt::format("a number in {}, or \"N/A: why\"", kind.symbol), hint);
  return std::nullopt;
}

}  // namespace ohmleaf::record
