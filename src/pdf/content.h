#pragma once
#include <string>
#include <string_view>
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

/// A length in thousandths as a PDF number: "12.5".
void append_thousandths(std::string& out, std::int64_t value);

/// Text frames whose text goes on in a later frame of the same node, or of a span in or beside it,
/// on another line or past a gap: a space has to be written after them, or the words on both sides
/// grow together for a screen reader. Only a hyphen at the end of a line joins.
using Continued = std::unordered_set<const layout::TextFrame*>;
Continued continued_lines(const layout::Document& document);

/// Writes the page. Text uses the glyph numbers of `subsets`; fonts are named /F0, /F1 … by face,
/// images /I0, /I1 … by index. Frames in a row with the same node share one sequence.
PageContent page_content(const layout::Page& page, const layout::Document& document,
                         const Subsets& subsets, const Continued& continued);

}  // namespace ohmleaf::pdf
