#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "checks/finding.h"
#include "layout/form.h"
#include "layout/text_flow.h"

namespace ohmleaf::layout {

/// "6 kA" stays on one line: the space between a number and its unit does not break, nor those in
/// "≤ 1.37 Ω", "BS 7671", "type A".
std::string glued(const std::string& text);

/// Looks paths up in the record and turns runs into text. Holds the items of the repeats that are
/// being gone through.
class Evaluator {
 public:
  Evaluator(const Form& form, const record::View& root) : form_(form), root_(root) {}

  void enter(const record::View& item) { items_.push_back(&item); }
  void leave() { items_.pop_back(); }

  /// Null where the value is absent.
  const record::View* find(const Binding& binding) const;
  bool truthy(const std::optional<Binding>& binding) const;  ///< true without a binding
  /// Text of a value as printed; empty where it is absent.
  std::string text_of(const record::View* value, const Run& how) const;
  /// The run's text: literal, value, or what stands for an absent one.
  std::string text(const Run& run) const;
  /// Whether any bound run of these has a value, or there is a literal alone.
  bool any(const Runs& runs) const;
  std::string plain(const Runs& runs) const;
  Rich rich(const Runs& runs, Face face, Color color) const;

  std::string word(std::string_view key) const;
  /// A text of the record in the form's language. `binding`: where it comes from; the installer's
  /// and the client's own words stay as they are.
  std::string in_language(const std::string& text, const std::optional<Binding>& binding = {}) const;
  /// A word through a map of the form's own, then through the engine's words, else as it stands.
  std::string mapped(const std::string& value, const WordMap& map) const;
  /// The verdict at a binding: a cell's, or a text that names one. "yes" and "in order" pass.
  std::optional<checks::Verdict> verdict(const Binding& binding) const;
  /// The raw word of a verdict or flag: "pass", "true", "in order".
  std::string raw(const Binding& binding) const;
  std::string date_words(std::string_view iso) const;

  bool draft() const;
  /// What is printed of the electronic signature; empty where there is none.
  std::string signed_line() const;
  /// What stands in the band on every page: a draft, a redacted copy, a working paper. Empty for a
  /// certificate as it was issued.
  std::string banner() const;

  const Form& form() const { return form_; }

 private:
  const Form& form_;
  const record::View& root_;
  std::vector<const record::View*> items_;
};

}  // namespace ohmleaf::layout
