#pragma once
#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "base/toml.h"
#include "layout/form.h"
#include "layout/form_keys.h"

namespace ohmleaf::layout {

/// Reads one form. Keeps the shapes of the repeats around the block being read, so that every
/// binding is checked where it stands.
class FormReader {
 public:
  FormReader(const Sources& sources, SourceId source, const record::Shape& root, Diagnostics& out)
      : sources_(sources), source_(source), root_(root), out_(out) {}

  std::optional<Form> read(const Theme& base);

 private:
  /// What a binding may point at.
  enum class Want { printable, list, condition, cell, verdict, image };

  // Bindings (form_bind.cpp)
  std::optional<Binding> bind(const TomlNode& node, Want want);
  const record::Shape* shape_of(const Binding& binding) const;
  void unknown_path(const TomlNode& node, const Binding& binding);
  bool suits(const record::Shape& shape, Want want) const;

  // Values (form_text.cpp)
  Runs runs(const TomlNode& node);
  Run run(const TomlNode& node);
  void run_key(const TomlNode& node, Run& run);
  WordMap words(const TomlNode& node);
  FieldSpec field(const TomlNode& node);
  ColumnSpec column(const TomlNode& node);
  /// `path`, `value`, `show` and how it is printed: alike in fields and columns.
  void shown(const TomlNode& node, Runs& value, Show& show, std::optional<Binding>& source,
             WordMap& map);

  // Blocks (form_read.cpp)
  Block block(const TomlNode& node, int repeats);
  void block_content(const TomlNode& node, Block& block, int repeats);
  bool block_kind(const TomlNode& node, Block& block);
  void page(const TomlNode& node, Form& form);

  // Small readers (form_text.cpp); each reports what it does not understand.
  void only(const TomlNode& node, std::string_view what, FormPart part);
  bool flag(const TomlNode& node, std::string_view key, bool otherwise);
  int whole(const TomlNode& node, std::string_view key, int least, int most, int otherwise);
  Pt millimetres(const TomlNode& node, int most);
  Pt millimetres(const TomlNode& table, std::string_view key, int most);
  std::string text(const TomlNode& node);
  template <class E, std::size_t N>
  E choice(const TomlNode& node, const std::array<FormWord<E>, N>& words, E otherwise);
  void wrong(std::string id, const TomlNode& node, std::string message, std::string hint = {});
  std::string line_of(Span span) const;

  const Sources& sources_;
  SourceId source_;
  const record::Shape& root_;
  std::vector<const record::Shape*> scopes_;  ///< elements of the repeats, outermost first
  Diagnostics& out_;
  std::vector<Binding> bound_;
};

template <class E, std::size_t N>
E FormReader::choice(const TomlNode& node, const std::array<FormWord<E>, N>& words, E otherwise) {
  for (const auto& [word, value] : words)
    if (node.kind == TomlKind::string && node.text == word) return value;
  std::string allowed;
  for (const auto& [word, value] : words)
    allowed += (allowed.empty() ? "" : ", ") + std::string(word);
  wrong("form-choice", node, "this is none of the words that may stand here",
        "One of: " + allowed + ".");
  return otherwise;
}

}  // namespace ohmleaf::layout
