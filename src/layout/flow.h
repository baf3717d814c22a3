#pragma once
#include <optional>
#include <string>
#include <vector>

#include "base/source.h"
#include "layout/form.h"
#include "layout/frames.h"

namespace ohmleaf::layout {

struct StripBookmark {
  std::string title;
  int level = 0;
};

/// The smallest part of the flow: a line of a paragraph, a row of a table, a row of fields. Never
/// split. Its frames are placed from the left end of the content and from its own top.
struct Strip {
  Pt height;
  Pt space_before;  ///< dropped at the top of a page
  bool keep_with_next = false;
  bool page_break = false;  ///< starts a new page
  bool landscape = false;
  bool between = false;  ///< left out at the top of a page
  bool heading = false;  ///< part of a table's heading
  int repeats = -1;      ///< index of the heading to repeat where a page starts before it
  int box = -1;          ///< innermost surround it stands in
  int form = 0;          ///< index of the form it belongs to
  std::vector<Frame> frames;
  std::vector<StripBookmark> bookmarks;
  int block = -1;  ///< index into Flow::blocks
};

/// A card or a band drawn behind a run of strips, again on each page that it reaches.
struct FlowBox {
  int parent = -1;
  Pt x, width;
  std::optional<Color> fill, stroke, edge;
};

struct BlockName {
  std::string name;
  Span span;
};

struct Flow {
  std::vector<Strip> strips;
  std::vector<std::vector<Strip>> headings;
  std::vector<FlowBox> boxes;
  std::vector<BlockName> blocks;
};

/// Moves a frame by (dx, dy).
void shift(Frame& frame, Pt dx, Pt dy);
/// Makes a frame decoration.
void make_artifact(Frame& frame);

}  // namespace ohmleaf::layout
