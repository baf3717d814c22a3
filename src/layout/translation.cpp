#include "layout/translation.h"

#include <algorithm>
#include <array>

#include "base/text.h"

namespace ohmleaf::layout {
namespace {

constexpr int kDeepest = 12;
constexpr std::string_view kGlue = "\u00A0";

/// What stands between numbers and is the same in every language, besides what has no small letter.
constexpr std::array<std::string_view, 33> kUnits{
    "kA", "mA", "mV",  "mΩ",   "mΩ/m", "mV/A/m", "mm", "mm²",    "m",       "ms",    "s",
    "kW", "Hz", "A²s", "d.c.", "a.c.", "Ze",     "Zs", "r1",     "rn",      "r2",    "Ipf",
    "Ib", "In", "Iz",  "IΔn",  "Ia",   "Cmin",   "k",  "R(cpc)", "R(line)", "r1+r2", "r1+rn"};

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}
bool is_upper(char c) {
  return c >= 'A' && c <= 'Z';
}
bool is_lower(char c) {
  return c >= 'a' && c <= 'z';
}
char lower(char c) {
  return is_upper(c) ? static_cast<char>(c - 'A' + 'a') : c;
}

/// A number, a unit, a sign: nothing to translate.
bool neutral(std::string_view token) {
  if (std::find(kUnits.begin(), kUnits.end(), token) != kUnits.end()) return true;
  while (!token.empty() &&
         std::string_view("([<>=±,;:").find(token.front()) != std::string_view::npos)
    token.remove_prefix(1);
  while (!token.empty() && std::string_view(")],;:?").find(token.back()) != std::string_view::npos)
    token.remove_suffix(1);
  if (std::find(kUnits.begin(), kUnits.end(), token) != kUnits.end()) return true;
  if (!token.empty() && is_digit(token.front())) return true;  // "32", "7.41", "2026-11-20", "6A"
  if (token.size() > 1 && token[0] == 'p' && is_digit(token[1])) return true;  // of a book
  return std::none_of(token.begin(), token.end(), is_lower);  // "TN-C-S", "L1–N", "≤"
}

/// Whether a sentence ends at the full stop or question mark at `i`.
bool ends_sentence(std::string_view text, std::size_t i) {
  if (i + 2 >= text.size() || text[i + 1] != ' ') return false;
  return text[i] == '?' || (text[i] == '.' && (is_upper(text[i + 2]) || text[i + 2] == '"'));
}

/// Where the parts of a text end: at semicolons and ends of sentences outside of brackets. `weak`:
/// at semicolons only.
std::vector<std::size_t> ends_of(std::string_view text, bool weak) {
  std::vector<std::size_t> out;
  int depth = 0;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '(') ++depth;
    if (text[i] == ')') --depth;
    if (depth > 0) continue;
    const bool semicolon = text[i] == ';' && i + 1 < text.size() && text[i + 1] == ' ';
    if (weak ? semicolon : ends_sentence(text, i)) out.push_back(i);
  }
  return out;
}

bool bridges(std::string_view hole) {
  return !ends_of(hole, true).empty() || !ends_of(hole, false).empty();
}

/// The first letters may differ in case: a subject stands alone or begins a sentence.
bool starts_with_literal(std::string_view text, std::string_view literal) {
  if (literal.empty()) return true;
  if (text.size() < literal.size()) return false;
  return lower(text.front()) == lower(literal.front()) &&
         text.substr(1, literal.size() - 1) == literal.substr(1);
}

/// What the holes hold; nothing where the pattern does not fit. Each literal is taken where it
/// first comes, the last one at the end, no hole is empty, and a hole for a value has no words.
std::optional<std::vector<std::string_view>> fit(const Pattern& p, std::string_view text) {
  const std::string& first = p.literals.front();
  if (!starts_with_literal(text, first)) return std::nullopt;
  if (p.holes() == 0)
    return text.size() == first.size() ? std::optional(std::vector<std::string_view>())
                                       : std::nullopt;
  if (!text.ends_with(p.literals.back())) return std::nullopt;
  std::vector<std::string_view> out;
  std::size_t at = first.size();
  const std::size_t end = text.size() - p.literals.back().size();
  for (std::size_t i = 1; i + 1 < p.literals.size(); ++i) {
    const std::size_t next = text.find(p.literals[i], at + 1);
    if (next == std::string_view::npos || next + p.literals[i].size() > end) return std::nullopt;
    out.push_back(text.substr(at, next - at));
    at = next + p.literals[i].size();
  }
  if (at >= end) return std::nullopt;
  out.push_back(text.substr(at, end - at));
  for (std::size_t i = 0; i < out.size(); ++i)
    if (p.values[i] && has_words(out[i])) return std::nullopt;
  return out;
}

/// "Mae" for "The …", "mae" for "the …": the case of the first letter follows the text's, where
/// the pattern's own begins otherwise.
void follow_case(std::string& out, std::string_view text, std::string_view literal) {
  if (literal.empty() || out.empty()) return;
  if (is_upper(text.front()) && is_lower(literal.front()) && is_lower(out.front()))
    out.front() = static_cast<char>(out.front() - 'a' + 'A');
  if (is_lower(text.front()) && is_upper(literal.front())) out.front() = lower(out.front());
}

}  // namespace

bool has_words(std::string_view text) {
  std::string plain(text);
  for (std::size_t at = plain.find("\u00A0"); at != std::string::npos; at = plain.find("\u00A0"))
    plain.replace(at, 2, " ");
  std::replace(plain.begin(), plain.end(), '\n', ' ');
  for (const std::string_view token : split(plain, ' '))
    if (!neutral(token)) return true;
  return false;
}

std::optional<std::string> Translation::by_pattern(std::string_view text, bool bounded,
                                                   int depth) const {
  const Pattern* best = nullptr;
  std::vector<std::string_view> held;
  for (const Pattern& p : texts_) {  // the best stands first
    auto holes = fit(p, text);
    if (!holes || (bounded && std::any_of(holes->begin(), holes->end(), bridges))) continue;
    best = &p;
    held = std::move(*holes);
    break;
  }
  if (!best) return std::nullopt;
  std::string out = best->translated.front();
  for (std::size_t i = 0; i < best->order.size(); ++i) {
    out += translated(held[best->order[i]], depth + 1);
    out += best->translated[i + 1];
  }
  follow_case(out, text, best->literals.front());
  return out;
}

/// Sentence by sentence, else from semicolon to semicolon.
std::optional<std::string> Translation::by_parts(std::string_view text, int depth) const {
  auto ends = ends_of(text, false);
  if (ends.empty()) ends = ends_of(text, true);
  if (ends.empty()) return std::nullopt;
  std::string out;
  std::size_t from = 0;
  for (const std::size_t end : ends) {
    const std::size_t stop = text[end] == ';' ? end : end + 1;  // a full stop is the sentence's own
    out += translated(text.substr(from, stop - from), depth + 1);
    out += text.substr(stop, end + 2 - stop);
    from = end + 2;
  }
  return out + translated(text.substr(from), depth + 1);
}

/// Numbers, units and signs after the words pass through, and those before them.
std::string Translation::by_core(std::string_view text, int depth) const {
  std::size_t begin = 0, end = text.size();
  while (end > begin) {
    const std::size_t space = text.rfind(' ', end - 1);
    const std::size_t start = space == std::string_view::npos ? 0 : space + 1;
    if (!neutral(text.substr(start, end - start))) break;
    end = start > 0 ? start - 1 : 0;
    std::size_t stop = end;
    while (stop > 0 && (text[stop - 1] == ',' || text[stop - 1] == ':')) --stop;
    if (const auto out = by_pattern(text.substr(0, stop), true, depth))
      return *out + std::string(text.substr(stop));
  }
  while (begin < end) {
    const std::size_t stop = std::min(text.find(' ', begin), end);
    if (!neutral(text.substr(begin, stop - begin))) break;
    begin = std::min(stop + 1, end);
  }
  if (begin >= end || (begin == 0 && end == text.size())) return std::string(text);
  return std::string(text.substr(0, begin)) +
         translated(text.substr(begin, end - begin), depth + 1) + std::string(text.substr(end));
}

std::string Translation::translated(std::string_view text, int depth) const {
  if (text.empty() || depth > kDeepest || !has_words(text)) return std::string(text);
  const std::size_t number = text.find_first_not_of("0123456789");
  if (number > 0 && text.substr(number).starts_with(kGlue))  // "12 a source", in a numbered list
    return std::string(text.substr(0, number)) + std::string(kGlue) +
           translated(text.substr(number + kGlue.size()), depth + 1);
  if (auto out = by_pattern(text, true, depth)) return *out;
  if (auto out = by_parts(text, depth)) return *out;
  if (auto out = by_pattern(text, false, depth)) return *out;
  return by_core(text, depth);
}

std::string Translation::text(std::string_view english) const {
  return translated(english, 0);
}

const Pattern* Translation::form_line(std::string_view key) const {
  if (const auto it = forms_.find(key); it != forms_.end()) return &it->second;
  const auto it = std::find_if(texts_.begin(), texts_.end(),
                               [&](const Pattern& p) { return p.english == key; });
  return it == texts_.end() ? nullptr : &*it;
}

void Translation::add_text(Pattern pattern) {
  const auto better = [](const Pattern& a, const Pattern& b) {
    return a.weight != b.weight ? a.weight > b.weight : a.holes() < b.holes();
  };
  texts_.insert(std::upper_bound(texts_.begin(), texts_.end(), pattern, better),
                std::move(pattern));
}

}  // namespace ohmleaf::layout
