#pragma once
#include <string>
#include <vector>

#include "layout/eval.h"
#include "layout/flow.h"
#include "layout/stack.h"

namespace ohmleaf::layout {

/// Turns one form and one record into the flow of strips that pagination places. Nodes are made
/// here, in reading order.
class Builder {
 public:
  struct Setting {
    const Form& form;
    const record::View& view;
    const FontMetrics& metrics;
    const std::vector<Image>& images;
    int form_index = 0;
    Pt upright_height, landscape_height;  ///< that a page has for strips
  };
  Builder(const Setting& setting, Document& document, Flow& flow, Diagnostics& out);

  void run();
  /// The line that tells of the electronic signature, where there is one and no signature block has
  /// told of it.
  void electronic_signature();

 private:
  friend class TableMaker;

  // Blocks (blocks.cpp)
  void block(const Block& block);
  void content(const Block& block);
  void heading(const Block& block);
  void paragraph(const Block& block);
  void note(const Block& block);
  void image(const Block& block);
  void rule();
  void group(const Block& block);
  void group_once(const Block& block);

  // Fields, checklists, signatures (fields.cpp)
  void fields(const Block& block);
  void field_row(const Block& block, std::vector<const FieldSpec*>& row, Pt column);
  Stack label_stack(const FieldSpec& field);
  Stack field_stack(const FieldSpec& field, const Block& block);
  bool field_shown(const FieldSpec& field) const;
  void long_field(const FieldSpec& field, const Block& block);
  void checklist(const Block& block);
  Stack check_line(const Block& block, const Runs& text, const Binding& outcome, const Runs& reason,
                   const WordMap& words);
  void signature(const Block& block);
  /// The value under a label or in a cell: reading, limit, bar, verdict.
  struct Sizes {
    TypeSize value, small;
    Align align = Align::left;
    bool bars = true, units = true;
  };
  Stack reading_stack(const Binding& source, const Sizes& sizes);
  Stack verdict_stack(const Binding& source, const WordMap& words, TypeSize type);
  Piece text_piece(Rich rich, TypeSize type, Align align = Align::left) const;
  Piece plain_piece(std::string text, Face face, Color color, TypeSize type,
                    Align align = Align::left) const;

  // Strips (builder.cpp)
  Strip& add(Strip strip);
  Strip strip(Pt height);
  void space(Pt height) { pending_ = std::max(pending_, height); }
  void lines(const Rich& rich, TypeSize type, Align align, NodeId node,
             const std::optional<checks::Verdict>& mark, bool keep_last, Pt indent = {});
  void open_box(std::optional<Color> fill, std::optional<Color> stroke, std::optional<Color> edge);
  void close_box();
  void keep_from(std::size_t first);
  Pt on_grid(Pt height) const;
  const Theme& theme() const { return form_.theme; }
  TypeSize type(Step step) const { return form_.theme.type(step); }
  Pt inner_width(bool landscape) const;  ///< of the page, without margins and insets
  /// An image scaled into the room; nothing where the binding names none.
  std::optional<Piece> picture(const Binding& source, Pt width, Pt height, std::string alt) const;

  const Form& form_;
  Evaluator eval_;
  const FontMetrics& metrics_;
  const std::vector<Image>& images_;
  int form_index_;
  Pt upright_height_, landscape_height_;
  Document& document_;
  Flow& flow_;
  Diagnostics& out_;
  StackPainter painter_;
  NodeId section_ = 0;
  Pt left_, width_;  ///< the content's box, from the left margin
  Pt inset_;         ///< what surrounds have taken off the width
  Pt pending_;
  bool fresh_ = false;  ///< a surround has just been opened: nothing goes above its first line
  int box_ = -1;
  std::vector<Pt> boxes_left_;
  int block_ = -1;
};

}  // namespace ohmleaf::layout
