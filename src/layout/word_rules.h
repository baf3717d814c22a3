#pragma once
#include <optional>
#include <string>

#include "layout/form.h"

// What no form and no language may say, whoever wrote it: a fail in the words of a pass, a draft
// without its mark.

namespace ohmleaf::layout {

struct WordFault {
  std::string id;   ///< "alike", "empty", "draft" or "hole"
  std::string key;  ///< of the word that cannot stand
  std::string what;
  std::string hint;
};

/// Words for values of the record ("fail" = "not in order"): none of them may read as its contrary
/// does. What the map leaves out has the word of the engine.
std::optional<WordFault> fault_in_map(const WordMap& map);

/// The engine's own words, over the English ones: the same, and none that marks a draft, a copy or
/// a verdict may be empty or lose its number.
std::optional<WordFault> fault_in_engine_words(const WordMap& words);

}  // namespace ohmleaf::layout
