#include "layout/builder.h"

#include <algorithm>

#include "layout/marks.h"

namespace ohmleaf::layout {
namespace {

constexpr Pt kPadTop = 6_pt, kPadSide = 10_pt;

}  // namespace

Builder::Builder(const Setting& s, Document& document, Flow& flow, Diagnostics& out)
    : form_(s.form),
      eval_(s.form, s.view),
      metrics_(s.metrics),
      images_(s.images),
      form_index_(s.form_index),
      upright_height_(s.upright_height),
      landscape_height_(s.landscape_height),
      document_(document),
      flow_(flow),
      out_(out),
      painter_(s.form.theme, s.metrics, document.nodes) {
  width_ = inner_width(form_.page.landscape);
}

void Builder::run() {
  section_ = painter_.add_node(Role::section, 0);
  const std::size_t first = flow_.strips.size();
  if (const std::string banner = eval_.banner(); form_.certificate && !banner.empty()) {
    // The banner on the page is decoration; this is what a screen reader and a search find.
    const NodeId node = painter_.add_node(Role::paragraph, section_);
    lines({{banner, Face::bold, theme().fail}}, type(Step::small), Align::left, node,
          std::nullopt, true);
  }
  for (const Block& b : form_.blocks) block(b);
  if (flow_.strips.size() > first) flow_.strips[first].page_break = true;
}

Pt Builder::inner_width(bool landscape) const {
  const PageSetup& p = form_.page;
  const Pt across = landscape ? p.height : p.width;
  return across - p.left - p.right - inset_;
}

Pt Builder::on_grid(Pt height) const {
  const std::int32_t g = theme().grid.milli;
  return {(height.milli + g - 1) / g * g};
}

Strip Builder::strip(Pt height) {
  Strip s;
  s.height = on_grid(height);
  return s;
}

Strip& Builder::add(Strip s) {
  s.space_before = fresh_ ? Pt{} : on_grid(pending_);
  fresh_ = false;
  pending_ = {};
  s.box = box_;
  s.form = form_index_;
  s.block = block_;
  s.landscape = s.landscape || form_.page.landscape;
  flow_.strips.push_back(std::move(s));
  return flow_.strips.back();
}

/// Lines of a text as strips. The first two and the last two stay together, so that no page
/// begins or ends with a lonely line.
void Builder::lines(const Rich& rich, TypeSize type, Align align, NodeId node,
                    const std::optional<checks::Verdict>& mark, bool keep_last, Pt indent) {
  const Pt room = mark ? StackPainter::mark_room(type) : indent;
  auto broken = break_lines(rich, type.size, width_ - room, metrics_);
  for (std::size_t i = 0; i < broken.size(); ++i) {
    Strip s = strip(type.leading);
    if (mark && i == 0)
      painter_.marks().draw(s.frames, *mark, left_, (type.leading - type.size) / 2, type.size);
    painter_.draw_line(std::move(broken[i]), type, align, left_ + room, {}, width_ - room, node, s.frames);
    const bool last = i + 1 == broken.size();
    s.keep_with_next = last ? keep_last : (i == 0 || i + 2 == broken.size());
    add(std::move(s));
  }
}

void Builder::open_box(std::optional<Color> fill, std::optional<Color> stroke,
                       std::optional<Color> edge) {
  FlowBox box;
  box.parent = box_;
  box.x = left_;
  box.width = width_;
  box.fill = fill;
  box.stroke = stroke;
  box.edge = edge;
  flow_.boxes.push_back(box);
  box_ = static_cast<int>(flow_.boxes.size() - 1);
  Strip top = strip(kPadTop);
  top.keep_with_next = true;
  add(std::move(top));
  fresh_ = true;
  left_ += kPadSide;
  width_ -= kPadSide * 2;
  inset_ += kPadSide * 2;
}

void Builder::close_box() {
  left_ -= kPadSide;
  width_ += kPadSide * 2;
  inset_ -= kPadSide * 2;
  pending_ = {};
  if (!flow_.strips.empty()) flow_.strips.back().keep_with_next = true;
  add(strip(kPadTop));
  box_ = flow_.boxes[static_cast<std::size_t>(box_)].parent;
}

/// Keeps the strips from `first` on one page, as far as a page has room for them.
void Builder::keep_from(std::size_t first) {
  Pt total;
  for (std::size_t i = first; i < flow_.strips.size(); ++i)
    total += flow_.strips[i].height + flow_.strips[i].space_before;
  const bool landscape = first < flow_.strips.size() && flow_.strips[first].landscape;
  if (total > (landscape ? landscape_height_ : upright_height_)) return;
  for (std::size_t i = first; i + 1 < flow_.strips.size(); ++i)
    flow_.strips[i].keep_with_next = true;
}

Piece Builder::text_piece(Rich rich, TypeSize type, Align align) const {
  Piece p;
  p.rich = std::move(rich);
  p.type = type;
  p.align = align;
  return p;
}

Piece Builder::plain_piece(std::string text, Face face, Color color, TypeSize type,
                           Align align) const {
  return text_piece({{std::move(text), face, color}}, type, align);
}

std::optional<Piece> Builder::picture(const Binding& source, Pt width, Pt height,
                                      std::string alt) const {
  const record::View* v = eval_.find(source);
  if (!v || v->text.empty()) return std::nullopt;
  std::size_t index = 0;
  for (const char c : v->text) {
    if (c < '0' || c > '9' || index > 10'000) return std::nullopt;
    index = index * 10 + static_cast<std::size_t>(c - '0');
  }
  if (index >= images_.size()) return std::nullopt;
  const Image& image = images_[index];
  if (image.width <= 0 || image.height <= 0) return std::nullopt;
  Piece p;
  p.kind = Piece::Kind::image;
  p.image = index;
  p.alt = std::move(alt);
  p.height = height;
  const std::int64_t wide = std::int64_t{height.milli} * image.width / image.height;
  p.width = Pt{static_cast<std::int32_t>(std::min<std::int64_t>(wide, 10'000'000))};
  if (p.width > width) {
    p.width = width;
    p.height =
        Pt{static_cast<std::int32_t>(std::int64_t{width.milli} * image.height / image.width)};
  }
  return p;
}

}  // namespace ohmleaf::layout
