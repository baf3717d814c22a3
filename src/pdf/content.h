#pragma once
#include <memory>
#include <string>
#include <string_view>
#include <unordered_map>
#include <unordered_set>
#include <vector>

#include "layout/frames.h"
#include "pdf/text_check.h"

namespace ohmleaf::pdf {

/// The node that each marked-content sequence of a page belongs to, by its number (MCID).
using Sequences = std::vector<layout::NodeId>;

/// One page as PDF operators.
struct PageContent {
  std::string operators;
  Sequences sequences;
};

/// The symbols that pages draw, by the number under which each is drawn.
class Symbols {
 public:
  std::size_t number(const std::shared_ptr<const layout::Symbol>& symbol);
  const std::vector<std::shared_ptr<const layout::Symbol>>& all() const { return all_; }

 private:
  std::vector<std::shared_ptr<const layout::Symbol>> all_;
  std::unordered_map<const layout::Symbol*, std::size_t> numbers_;
};

/// Text frames whose text goes on in a later frame of the same node, or of a span in or beside it,
/// on another line or past a gap: a space has to be written after them, or the words on both sides
/// grow together for a screen reader. Only a hyphen at the end of a line joins.
using Continued = std::unordered_set<const layout::TextFrame*>;
Continued continued_lines(const layout::Document& document);

/// Writes the page. Text uses the glyph numbers of `subsets`; fonts are named /F0, /F1 … by face,
/// images /I0, /I1 … by index, symbols /S0, /S1 … by number. Frames in a row with the same node share
/// one sequence.
PageContent page_content(const layout::Page& page, const layout::Document& document,
                         const Subsets& subsets, const Continued& continued, Symbols& symbols);

}  // namespace ohmleaf::pdf
