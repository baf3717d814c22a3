#pragma once
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "checks/finding.h"
#include "layout/flow.h"
#include "layout/marks.h"
#include "layout/text_flow.h"
#include "layout/theme.h"

namespace ohmleaf::layout {

/// One part of a cell or field. Parts stand under one another.
struct Piece {
  enum class Kind { text, bar, marked, box, tick, image, gap } kind = Kind::text;
  Rich rich;
  TypeSize type;
  Align align = Align::left;
  checks::Verdict verdict = checks::Verdict::pass;  ///< of a bar, a marked text
  int used_permille = 0;                            ///< of a bar
  std::string alt;                                  ///< of a bar, box, tick, image
  Pt width, height;                                 ///< of a box, image, gap
  std::size_t image = 0;
  std::optional<TextExtent> extent{};  ///< of `rich`, once it was asked for
};
using Stack = std::vector<Piece>;
/// A stack of one piece, which is moved: a list in braces would copy it.
inline Stack stack_of(Piece piece) {
  Stack out;
  out.push_back(std::move(piece));
  return out;
}

/// Measures and draws stacks. Needs the nodes of the document, to which it adds.
class StackPainter {
 public:
  StackPainter(const Theme& theme, const FontMetrics& metrics, std::vector<Node>& nodes)
      : theme_(theme), metrics_(metrics), nodes_(nodes), marks_(theme) {}

  /// Measures its texts, so that none is measured twice. Whoever changes a text afterwards
  /// clears its extent.
  void measure(Stack& stack) const;
  Pt least_width(const Stack& stack) const;
  Pt natural_width(const Stack& stack) const;
  Pt height(const Stack& stack, Pt width) const;
  /// Draws from (x, y). A stack of one piece is content of `node` itself; the pieces of a longer
  /// one get nodes of their own below it.
  void draw(const Stack& stack, Pt x, Pt y, Pt width, NodeId node, std::vector<Frame>& out);
  void draw_line(TextLine line, TypeSize type, Align align, Pt x, Pt y, Pt width, NodeId node,
                 std::vector<Frame>& out) const;
  NodeId add_node(Role role, NodeId parent, std::string alt = {});

  const Marks& marks() const { return marks_; }
  /// Room of a mark before a text of this size, the gap included.
  static Pt mark_room(TypeSize type) { return type.size + 3_pt; }

 private:
  TextExtent extent(const Piece& piece) const;
  bool on_one_line(const Piece& piece, Pt width) const;
  Pt piece_height(const Piece& piece, Pt width) const;
  /// Its height.
  Pt draw_piece(const Piece& piece, Pt x, Pt y, Pt width, NodeId node, std::vector<Frame>& out);

  const Theme& theme_;
  const FontMetrics& metrics_;
  std::vector<Node>& nodes_;
  Marks marks_;
};

}  // namespace ohmleaf::layout
