#include "quantity/reading.h"

#include <algorithm>

#include "base/text.h"

namespace ohmleaf {
namespace {

constexpr std::size_t kMaxDigits = 12;

bool starts_with_word(std::string_view lower, std::string_view word) {
  if (!lower.starts_with(word)) return false;
  return lower.size() == word.size() || lower[word.size()] == ':' || lower[word.size()] == ' ';
}

std::optional<RawReading> without_value(std::string_view text, std::string_view word,
                                        ReadingKind kind, ReadingFault& fault) {
  std::string_view rest = trim(text.substr(word.size()));
  if (!rest.empty() && rest.front() == ':') rest = trim(rest.substr(1));
  if (rest.empty()) {
    const std::string name = kind == ReadingKind::limitation ? "LIM" : "N/A";
    fault = {name + " stands without a reason",
             "Write the reason behind it: \"" + name + ": " +
                 (kind == ReadingKind::limitation ? "no access behind the fitted units\"."
                                                  : "no protective conductor at this point\".")};
    return std::nullopt;
  }
  return RawReading{kind, {}, std::string(text), std::string(rest)};
}

std::optional<RawReading> number_fault(std::string_view number, ReadingFault& fault) {
  if (number.empty()) {
    fault = {"there is no number", "Write the reading as the instrument shows it, for example 0.42."};
  } else if (number.find(',') != std::string_view::npos) {
    fault = {"a decimal comma stands where a point is needed", "Write 0.42, not 0,42."};
  } else if (number.front() == '-' || number.front() == '+') {
    fault = {"a reading has no sign", "Write the figure alone, for example 0.42."};
  } else if (std::any_of(number.begin(), number.end(), [](char c) { return c >= '0' && c <= '9'; }) &&
             number.front() >= '0' && number.front() <= '9' &&
             number.find_first_not_of("0123456789.") != std::string_view::npos) {
    fault = {"text stands behind the number",
             "Leave the unit out: it is in the key. Write 0.42, not \"0.42 ohm\"."};
  } else {
    fault = {"this is not a reading",
             "A reading is a number, \">999\", \"<0.05\", \"LIM: why\" or \"N/A: why\"."};
  }
  return std::nullopt;
}

}  // namespace

std::optional<RawReading> parse_reading(std::string_view text, ReadingFault& fault) {
  const std::string_view body = trim(text);
  const std::string lower = ascii_lower(body);
  for (std::string_view word : {"lim", "n/a"})
    if (starts_with_word(lower, word))
      return without_value(body, word,
                           word == "lim" ? ReadingKind::limitation : ReadingKind::not_applicable,
                           fault);
  RawReading out;
  out.text = std::string(body);
  std::string_view number = body;
  if (!body.empty() && (body.front() == '>' || body.front() == '<')) {
    out.kind = body.front() == '>' ? ReadingKind::above : ReadingKind::below;
    number = trim(body.substr(1));
  }
  const auto value = Decimal::parse(number);
  if (!value || value->is_negative() || number.front() == '-') return number_fault(number, fault);
  const auto digits = static_cast<std::size_t>(std::count_if(
      number.begin(), number.end(), [](char c) { return c >= '0' && c <= '9'; }));
  if (digits > kMaxDigits) {
    fault = {"the number has more than 12 digits", "Write it as the instrument shows it."};
    return std::nullopt;
  }
  out.value = *value;
  return out;
}

}  // namespace ohmleaf
