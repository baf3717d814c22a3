#pragma once
#include <array>
#include <memory>
#include <vector>

#include "layout/eval.h"
#include "layout/stack.h"

namespace ohmleaf::layout {

/// What stands on every page of a form: header with number, premises and page n of N, footer, and
/// the marks of a draft. All of it is decoration to a screen reader; a draft also says so in the
/// text.
class Furniture {
 public:
  Furniture(const Form& form, const record::View& view, const FontMetrics& metrics,
            std::vector<Node>& nodes);

  /// Of the page that the strips may use, from the page's top left corner.
  struct Body {
    Pt left, top, width, height;
  };
  Body body(bool landscape) const;
  Pt page_width(bool landscape) const;
  Pt page_height(bool landscape) const;
  /// Goes behind the content.
  void draw_behind(Page& page, bool landscape) const;
  void draw(Page& page, bool landscape, std::size_t number, std::size_t count) const;

 private:
  struct Row {
    Stack left, middle, right;
    Pt left_width, middle_width, right_width;
    Pt height;
  };
  Row header(bool landscape, const std::string& page) const;
  Row footer(bool landscape) const;
  Row row(const Runs& left, const Runs& middle, std::string right, Pt width, TypeSize type) const;
  void draw_row(const Row& row, Pt x, Pt y, Pt width, std::vector<Frame>& out) const;
  std::string page_words(std::size_t number, std::size_t count) const;
  Pt content_width(bool landscape) const;

  const Form& form_;
  Evaluator eval_;
  mutable StackPainter painter_;
  bool draft_ = false;
  std::array<std::shared_ptr<const Symbol>, 2> draft_word_;  ///< upright, landscape; null: none
  std::string banner_;  ///< empty: none
};

}  // namespace ohmleaf::layout
