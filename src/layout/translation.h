#pragma once
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "base/source.h"
#include "layout/form.h"

// A second language is a file of words: the engine's own words, the texts of the forms, and the
// sentences of the checks, each English pattern with its translation. Forms, checks and limits keep
// plain English; a translation needs no code.
//
// How a sentence finds its pattern. `{}` in a pattern stands for any text that is not empty, `{#}`
// for one without words: numbers, units, signs. Of the patterns that fit, the one with the most
// literal characters wins, then the one with fewer holes, then the one that stands first. What a
// hole holds is translated in its turn, so "Box depth 25 mm is under its limit of 35 mm" is "{} is
// under its limit of {}" around "Box depth 25 mm", of which the reading passes through. A hole does
// not reach over the end of a sentence or over a semicolon; where nothing fits the whole, the
// sentences are taken one by one, then the parts between semicolons. What no pattern knows stays as
// it is. So nothing is ever dropped: literals are exchanged for literals, and every hole of a
// pattern stands once in its translation.

namespace ohmleaf::layout {

/// One line of a words file.
struct Pattern {
  std::string english;                  ///< as the file has it, with its holes
  std::vector<std::string> literals;    ///< of the English text; one more than holes
  std::vector<std::string> translated;  ///< literals of the translation, likewise
  std::vector<std::size_t> order;       ///< which hole stands after each translated literal
  std::vector<bool> values;             ///< of each hole: only what has no words, `{#}`
  std::size_t weight = 0;               ///< bytes of the literals without spaces
  Span span;

  std::size_t holes() const { return order.size(); }
};

class Translation {
 public:
  std::string name;      ///< from the file's name: "cymraeg"
  std::string language;  ///< BCP 47: "cy"
  std::string title;     ///< what the language calls itself: "Cymraeg"
  WordMap words;         ///< the engine's own words

  /// A text of the record in this language; what no pattern knows comes back as it is.
  std::string text(std::string_view english) const;
  /// The line for a text of a form, by its whole key ("Circuit {}"), from [form] or else [text];
  /// null where there is none.
  const Pattern* form_line(std::string_view key) const;

  void add_text(Pattern pattern);
  void add_form(Pattern pattern) { forms_[pattern.english] = std::move(pattern); }
  const std::vector<Pattern>& texts() const { return texts_; }  ///< the best fit first
  const std::map<std::string, Pattern, std::less<>>& forms() const { return forms_; }

 private:
  std::string translated(std::string_view text, int depth) const;
  std::optional<std::string> by_pattern(std::string_view text, bool bounded, int depth) const;
  std::optional<std::string> by_parts(std::string_view text, int depth) const;
  std::string by_core(std::string_view text, int depth) const;

  std::vector<Pattern> texts_;
  std::map<std::string, Pattern, std::less<>> forms_;
};

/// Reads a words file. Everything that is wrong is reported in one run with its place: a hole that
/// is lost or doubled, a number that differs, an unknown key, a line that stands twice.
std::optional<Translation> load_translation(const Sources& sources, SourceId source,
                                            Diagnostics& out);

/// The form in another language: its own texts exchanged, the record's texts to follow when it is
/// laid out. A form that is in that language already keeps its texts. Texts without a line stay
/// English and are added to `untranslated`.
Form translated(const Form& form, std::shared_ptr<const Translation> translation,
                std::vector<std::string>* untranslated = nullptr);

/// Whether a text holds a letter that a reader would want in his own language: numbers, units and
/// signs have none.
bool has_words(std::string_view text);

}  // namespace ohmleaf::layout
