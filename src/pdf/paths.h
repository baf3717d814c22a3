#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

#include "layout/frames.h"

namespace ohmleaf::pdf {

/// A length in thousandths as a PDF number: "12.5".
void append_thousandths(std::string& out, std::int64_t value);

/// Writes paths as operators. Layout counts from the top of a page, PDF from the bottom.
class PathWriter {
 public:
  explicit PathWriter(layout::Pt height) : height_(height) {}
  void polygon(const layout::PolygonFrame& frame);
  std::string take() { return std::move(out_); }

 protected:
  /// Sets colours and width, where they are not set already.
  void begin_path(const std::optional<layout::Color>& fill,
                  const std::optional<layout::Color>& stroke, layout::Pt width);
  void paint(const std::optional<layout::Color>& fill, const std::optional<layout::Color>& stroke);
  void fill_color(layout::Color c);
  void place(layout::Pt x, layout::Pt y);
  void number(std::int64_t thousandths);

  std::string out_;

 private:
  void color(layout::Color c, std::string_view rgb, std::string_view grey);

  layout::Pt height_;
  std::optional<layout::Pt> width_;
  std::optional<layout::Color> fill_;
  std::optional<layout::Color> stroke_;
};

/// A symbol as operators: what is at its top left corner stands at (0, 1 pt).
std::string symbol_operators(const layout::Symbol& symbol);

}  // namespace ohmleaf::pdf
