#pragma once
#include <array>
#include <memory>
#include <string_view>
#include <vector>

#include "checks/finding.h"
#include "layout/frames.h"
#include "layout/theme.h"

namespace ohmleaf::layout {

/// The marks of the verdicts, told apart by shape alone: pass a leaf, borderline a leaf half filled,
/// doubtful a leaf torn in two, missing an empty square, fail a cross, note a small square, not
/// applicable a dash. Decoration: a word always stands beside one.
class Marks {
 public:
  explicit Marks(const Theme& theme);
  /// In a square of `size` at (x, y).
  void draw(std::vector<Frame>& out, checks::Verdict verdict, Pt x, Pt y, Pt size) const;

 private:
  std::array<std::shared_ptr<const Symbol>, checks::kVerdicts> marks_;
};

/// The headroom bar: how much of its limit a reading uses. The tick stands at the limit, four
/// fifths along; what is past it stands out on its right.
inline constexpr Pt kBarHeight = 2500_pt / 1000;
void draw_bar(std::vector<Frame>& out, int used_permille, checks::Verdict verdict, Pt x, Pt y,
              Pt width, const Theme& theme, NodeId node);

/// An empty box to tick or to write in.
void draw_box(std::vector<Frame>& out, Pt x, Pt y, Pt width, Pt height, const Theme& theme,
              NodeId node);

/// The word that tells a draft, in large strokes across a page of this size, from its top left corner.
/// Letters that have no strokes here (they are A to Z) are left out; null where there is no other. The
/// header says it in text as well.
std::shared_ptr<const Symbol> draft_word(std::string_view word, Pt width, Pt height,
                                         const Theme& theme);

}  // namespace ohmleaf::layout
