#include "base/toml_slip.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "base/date.h"
#include "base/text.h"

namespace ohmleaf {
namespace {

bool digit(char c) {
  return c >= '0' && c <= '9';
}
bool letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c & 0x80) != 0;
}

/// The value without the comment behind it and without outer spaces. Marks within quotes count as
/// text, if the quotes close.
std::string_view without_comment(std::string_view value) {
  char quote = 0;
  for (std::size_t i = 0; i < value.size(); ++i) {
    if (quote != 0) {
      if (value[i] == '\\' && quote == '"')
        ++i;
      else if (value[i] == quote)
        quote = 0;
    } else if (value[i] == '"' || value[i] == '\'') {
      quote = value[i];
    } else if (value[i] == '#') {
      return trim(value.substr(0, i));
    }
  }
  return trim(value);
}

/// "0,32" outside of quotes and lists: the commonest slip of all.
std::optional<std::size_t> decimal_comma(std::string_view line, std::size_t from) {
  char quote = 0;
  int list = 0;
  for (std::size_t i = from; i < line.size(); ++i) {
    const char c = line[i];
    if (quote != 0)
      quote = c == quote ? 0 : quote;
    else if (c == '"' || c == '\'')
      quote = c;
    else if (c == '#')
      break;
    else if (c == '[')
      ++list;
    else if (c == ']')
      --list;
    else if (c == ',' && list == 0 && i > 0 && i + 1 < line.size() && digit(line[i - 1]) &&
             digit(line[i + 1]))
      return i;
  }
  return std::nullopt;
}

/// "2026-11-20 …": how many leading bytes look like a date.
bool looks_like_date(std::string_view v) {
  if (v.size() < 10 || v[4] != '-' || v[7] != '-') return false;
  for (const std::size_t i : {0, 1, 2, 3, 5, 6, 8, 9})
    if (!digit(v[i])) return false;
  return true;
}

bool looks_like_other_date(std::string_view v) {
  const auto marks = std::count(v.begin(), v.end(), '/');
  return marks == 2 && v.find_first_not_of("0123456789/") == std::string_view::npos;
}

std::string turned_round(std::string_view v) {
  const auto parts = split(v, '/');
  const auto two = [](std::string_view s) {
    return s.size() == 1 ? "0" + std::string(s) : std::string(s);
  };
  std::string iso = fmt::format("{}-{}-{}", parts[2], two(parts[1]), two(parts[0]));
  return Date::parse(iso) ? iso : "2026-11-20";
}

TomlSlip slip(std::string_view id, std::string message, std::string hint) {
  return {std::string(id), 0, 1, std::move(message), std::move(hint)};
}

std::optional<TomlSlip> date_slip(std::string_view value) {
  if (looks_like_date(value)) {
    if (!Date::parse(value.substr(0, 10)))
      return slip("impossible-date",
                  fmt::format("\"{}\" is not a date that exists", value.substr(0, 10)),
                  "Write year, month and day, for example 2026-11-20.");
    if (value.size() > 10)
      return slip("impossible-time", fmt::format("\"{}\" is no date and time", visible(value)),
                  "Write it like 2026-11-20T09:12:00, with two digits each.");
  }
  if (looks_like_other_date(value))
    return slip("impossible-date", "a date is written year, month, day",
                fmt::format("Write {}.", turned_round(value)));
  return std::nullopt;
}

std::optional<TomlSlip> number_slip(std::string_view key, std::string_view value) {
  std::size_t end = 0;
  while (end < value.size() && (digit(value[end]) || value[end] == '.')) ++end;
  const std::string_view number = value.substr(0, end);
  const std::string_view rest = trim(value.substr(end));
  if (number.empty()) return std::nullopt;
  if (number.front() == '.' && number.size() > 1)
    return slip("number-form", "a number begins with a digit",
                fmt::format("Write {} = 0{}.", key, number));
  if (rest.empty() && number.back() == '.')
    return slip("number-form", "a number does not end with a point",
                fmt::format("Write {} = {}.", key, number.substr(0, end - 1)));
  if (rest.empty() && number.size() > 1 && number.front() == '0' && digit(number[1]))
    return slip("number-form", "a number does not begin with a spare 0",
                "Text such as a telephone number stands in quotation marks.");
  if (!rest.empty() && number.back() != '.' && (letter(rest.front()) || rest.front() == '%'))
    return slip("unit-behind-number", fmt::format("text stands behind the number {}", number),
                fmt::format("Where the unit is known, leave it out: {} = {}. Text stands in "
                            "quotation marks: \"{}\".",
                            key, number, visible(value)));
  return std::nullopt;
}

std::optional<TomlSlip> word_slip(std::string_view key, std::string_view value) {
  const std::string lower = ascii_lower(value);
  for (const std::string_view word : {"true", "false", "yes", "no"})
    if (lower == word)
      return slip("flag-form", fmt::format("\"{}\" is not written like that", visible(value)),
                  fmt::format("Write {} = {}, in small letters.", key,
                              word == "true" || word == "yes" ? "true" : "false"));
  const char c = value.front();
  if (letter(c) || c == '>' || c == '<')
    return slip("no-quotes", fmt::format("\"{}\" stands without quotation marks", visible(value)),
                fmt::format("Write {} = \"{}\".", key, visible(value)));
  return std::nullopt;
}

bool open_quote(std::string_view value) {
  const char q = value.front();
  if (q != '"' && q != '\'') return false;
  for (std::size_t i = 1; i < value.size(); ++i) {
    if (value[i] == '\\' && q == '"')
      ++i;
    else if (value[i] == q)
      return false;
  }
  return true;
}

}  // namespace

std::optional<std::size_t> value_start(std::string_view line) {
  char quote = 0;
  for (std::size_t i = 0; i < line.size(); ++i) {
    const char c = line[i];
    if (quote != 0)
      quote = c == quote ? 0 : quote;
    else if (c == '"' || c == '\'')
      quote = c;
    else if (c == '=')
      return trim(line.substr(0, i)).empty() ? std::nullopt : std::optional(i + 1);
    else if (c == '#' || c == '[' || c == '{')
      return std::nullopt;
  }
  return std::nullopt;
}

std::optional<TomlSlip> find_slip(std::string_view line) {
  const auto from = value_start(line);
  if (!from) return std::nullopt;
  if (const auto comma = decimal_comma(line, *from))
    return TomlSlip{"decimal-comma", *comma, 1, "a decimal comma stands where a point is needed",
                    "Write 0.42, not 0,42."};
  const std::string_view key = trim(line.substr(0, *from - 1));
  const std::string_view value = without_comment(line.substr(*from));
  std::optional<TomlSlip> found;
  if (value.empty())
    found = slip("no-value", fmt::format("\"{}\" has no value", visible(key)),
                 "Write it behind the equals sign, or take the line out.");
  if (!found && !value.empty() && open_quote(value))
    found = slip("open-quote", "the quotation mark that opens here is not closed",
                 "Close the text with the same mark in the same line.");
  if (!found) found = date_slip(value);
  if (!found) found = number_slip(key, value);
  if (!found && !value.empty()) found = word_slip(key, value);
  if (!found) return std::nullopt;
  found->at = value.empty() ? *from - 1 : static_cast<std::size_t>(value.data() - line.data());
  found->length = std::max<std::size_t>(1, value.size());
  return found;
}

TomlState state_before(std::string_view text, std::size_t end) {
  TomlState s;
  char quote = 0;
  bool multi = false;
  const auto three = [&](std::size_t i) { return text.substr(i, 3) == std::string(3, text[i]); };
  for (std::size_t i = 0; i < end && i < text.size(); ++i) {
    const char c = text[i];
    if (quote != 0) {
      if (c == '\\' && quote == '"')
        ++i;
      else if (c == '\n' && !multi)
        quote = 0;
      else if (c == quote && (!multi || three(i))) {
        if (multi) {
          i += 2;
          while (i + 1 < text.size() && text[i + 1] == quote) ++i;
        }
        quote = 0;
      }
    } else if (c == '"' || c == '\'') {
      quote = c;
      multi = three(i);
      s.text_opened = i;
      if (multi) i += 2;
    } else if (c == '#') {
      while (i + 1 < text.size() && text[i + 1] != '\n') ++i;
    } else if (c == '[' || c == '{') {
      if (s.depth++ == 0) s.opened = i;
    } else if ((c == ']' || c == '}') && s.depth > 0) {
      --s.depth;
    } else if (c == '\n' && s.depth > 0 && text[s.opened] == '{') {
      s.depth = 0;  // an inline table ends with its line
    }
  }
  s.in_text = quote != 0 && multi;
  return s;
}

}  // namespace ohmleaf
