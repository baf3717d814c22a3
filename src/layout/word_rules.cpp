#include "layout/word_rules.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "base/text.h"

namespace ohmleaf::layout {
namespace {

struct Contrary {
  std::string_view good, bad;
};
constexpr std::array kContrary{
    Contrary{"pass", "fail"},       Contrary{"pass", "missing"}, Contrary{"pass", "doubtful"},
    Contrary{"pass", "borderline"}, Contrary{"true", "false"},   Contrary{"yes", "no"},
};

std::string_view english(std::string_view key) {
  if (key == "true") return "yes";
  if (key == "false") return "no";
  for (const EngineWord& w : engine_words())
    if (w.key == key) return w.english;
  return key;
}

std::string read_as(const WordMap& map, std::string_view key) {
  const auto it = map.find(key);
  return fold_for_search(trim(it != map.end() ? std::string_view(it->second) : english(key)));
}

int holes(std::string_view text) {
  int count = 0;
  for (auto at = text.find("{}"); at != text.npos; at = text.find("{}", at + 2)) ++count;
  return count;
}

/// Words by which a page says what it is: never empty.
bool marks(std::string_view key) {
  constexpr std::array kMarks{"draft", "draft_mark", "redacted", "no_certificate",
                              "pass",  "borderline", "doubtful", "missing",
                              "fail",  "yes",        "no"};
  return std::find(kMarks.begin(), kMarks.end(), key) != kMarks.end();
}

}  // namespace

std::optional<WordFault> fault_in_map(const WordMap& map) {
  for (const auto& [good, bad] : kContrary) {
    const bool given = map.contains(bad) || map.contains(good);
    if (!given || read_as(map, good) != read_as(map, bad)) continue;
    const std::string_view key = map.contains(bad) ? bad : good;
    return WordFault{"alike", std::string(key),
                     fmt::format("\"{}\" would be printed in the same words as \"{}\"", bad, good),
                     "Give it words of its own: a reader must see the difference without colour."};
  }
  return std::nullopt;
}

std::optional<WordFault> fault_in_engine_words(const WordMap& words) {
  for (const auto& [key, text] : words) {
    if (marks(key) && trim(text).empty())
      return WordFault{"empty", key, fmt::format("the word for \"{}\" is empty", key),
                       "Write the word, or leave the line out: the English one is then printed."};
    if (key == "draft_mark" &&
        !std::all_of(text.begin(), text.end(), [](char c) { return c >= 'A' && c <= 'Z'; }))
      return WordFault{"draft", key, "the word across a draft is drawn from the letters A to Z",
                       "Write it in capital letters without accents."};
    if (holes(text) != holes(english(key)))
      return WordFault{
          "hole", key,
          fmt::format("\"{}\" must hold {{}} as often as \"{}\" does", visible(text), english(key)),
          "The number is printed where {} stands."};
  }
  return fault_in_map(words);
}

}  // namespace ohmleaf::layout
