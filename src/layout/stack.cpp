#include "layout/stack.h"

#include <algorithm>

#include "layout/marks.h"

namespace ohmleaf::layout {
namespace {

constexpr Pt kBarLeast = 24_pt, kBarNatural = 40_pt, kBarMost = 64_pt;
constexpr Pt kBarRoom = 6_pt;
constexpr Pt kTick = 8_pt;
constexpr Pt kTickRoom = 12_pt;

/// What one of several texts is inside a node: a cell holds paragraphs, a paragraph only spans.
Role within(Role parent) {
  return parent == Role::cell || parent == Role::header_cell ? Role::paragraph : Role::span;
}

/// A space that did not break is drawn as a plain one, so that a search finds the words.
std::string with_plain_spaces(std::string text) {
  if (text.find("\u00A0") == std::string::npos) return text;
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text.compare(i, 2, "\u00A0") == 0) {
      out += ' ';
      ++i;
    } else {
      out += text[i];
    }
  }
  return out;
}

}  // namespace

NodeId StackPainter::add_node(Role role, NodeId parent, std::string alt) {
  Node node;
  node.role = role;
  node.parent = parent;
  node.alt = std::move(alt);
  nodes_.push_back(std::move(node));
  return static_cast<NodeId>(nodes_.size() - 1);
}

void StackPainter::measure(Stack& stack) const {
  for (Piece& p : stack)
    if (!p.extent && (p.kind == Piece::Kind::text || p.kind == Piece::Kind::marked))
      p.extent = extent(p);
}

TextExtent StackPainter::extent(const Piece& p) const {
  return p.extent ? *p.extent : text_extent(p.rich, p.type.size, metrics_);
}

bool StackPainter::on_one_line(const Piece& p, Pt width) const {
  const TextExtent e = extent(p);
  return e.lines == 1 && e.natural <= width;
}

Pt StackPainter::least_width(const Stack& stack) const {
  Pt out;
  for (const Piece& p : stack) {
    switch (p.kind) {
      case Piece::Kind::text:
        out = std::max(out, extent(p).longest_word);
        break;
      case Piece::Kind::marked:
        out = std::max(out, extent(p).longest_word + mark_room(p.type));
        break;
      case Piece::Kind::bar:
        out = std::max(out, kBarLeast);
        break;
      case Piece::Kind::tick:
        out = std::max(out, kTick);
        break;
      default:
        out = std::max(out, p.width);
        break;
    }
  }
  return out;
}

Pt StackPainter::natural_width(const Stack& stack) const {
  Pt out;
  for (const Piece& p : stack) {
    switch (p.kind) {
      case Piece::Kind::text:
        out = std::max(out, extent(p).natural);
        break;
      case Piece::Kind::marked:
        out = std::max(out, extent(p).natural + mark_room(p.type));
        break;
      case Piece::Kind::bar:
        out = std::max(out, kBarNatural);
        break;
      case Piece::Kind::tick:
        out = std::max(out, kTick);
        break;
      default:
        out = std::max(out, p.width);
        break;
    }
  }
  return out;
}

Pt StackPainter::piece_height(const Piece& p, Pt width) const {
  const auto lines = [&](Pt w) {
    if (on_one_line(p, w)) return p.type.leading;
    return p.type.leading * count_lines(p.rich, p.type.size, w, metrics_);
  };
  switch (p.kind) {
    case Piece::Kind::text:
      return lines(width);
    case Piece::Kind::marked:
      return lines(width - mark_room(p.type));
    case Piece::Kind::bar:
      return kBarRoom;
    case Piece::Kind::tick:
      return kTickRoom;
    default:
      return p.height;
  }
}

Pt StackPainter::height(const Stack& stack, Pt width) const {
  Pt out;
  for (const Piece& p : stack) out += piece_height(p, width);
  return out;
}

void StackPainter::draw_line(TextLine line, TypeSize type, Align align, Pt x, Pt y, Pt width,
                             NodeId node, std::vector<Frame>& out) const {
  Pt left = x;
  if (align == Align::right) left = x + (width - line.width);
  if (align == Align::center) left = x + (width - line.width) / 2;
  for (Fragment& f : line.fragments) {
    TextFrame t;
    t.x = left + f.x;
    t.baseline = y + (type.leading + metrics_.cap_height(f.face, type.size)) / 2;
    t.size = type.size;
    t.face = f.face;
    t.color = f.color;
    t.text = with_plain_spaces(std::move(f.text));
    t.node = node;
    out.push_back(std::move(t));
  }
}

Pt StackPainter::draw_piece(const Piece& p, Pt x, Pt y, Pt width, NodeId node,
                            std::vector<Frame>& out) {
  const auto text = [&](Pt left, Pt wide) {
    if (const TextExtent e = extent(p); e.natural <= wide)
      if (auto line = whole_line(p.rich, e)) {
        draw_line(std::move(*line), p.type, p.align, left, y, wide, node, out);
        return p.type.leading;
      }
    Pt height;
    for (TextLine& line : break_lines(p.rich, p.type.size, wide, metrics_)) {
      draw_line(std::move(line), p.type, p.align, left, y + height, wide, node, out);
      height += p.type.leading;
    }
    return height;
  };
  switch (p.kind) {
    case Piece::Kind::text:
      return text(x, width);
    case Piece::Kind::marked: {
      const Pt room = mark_room(p.type);
      marks_.draw(out, p.verdict, x, y + (p.type.leading - p.type.size) / 2, p.type.size);
      return text(x + room, width - room);
    }
    case Piece::Kind::bar: {
      const Pt w = std::min(width, kBarMost);
      const Pt left = p.align == Align::right    ? x + (width - w)
                      : p.align == Align::center ? x + (width - w) / 2
                                                 : x;
      draw_bar(out, p.used_permille, p.verdict, left, y + 2_pt, w, theme_, node);
      break;
    }
    case Piece::Kind::box:
      // A little air between a label and the box under it.
      draw_box(out, x, y + 2_pt, p.width.milli > 0 ? p.width : width, p.height - 3_pt, theme_,
               node);
      break;
    case Piece::Kind::tick: {
      const Pt left = p.align == Align::center ? x + (width - kTick) / 2 : x;
      draw_box(out, left, y + 2_pt, kTick, kTick, theme_, node);
      break;
    }
    case Piece::Kind::image:
      out.emplace_back(ImageFrame{x, y, p.width, p.height, p.image, node});
      break;
    case Piece::Kind::gap:
      break;
  }
  return piece_height(p, width);
}

void StackPainter::draw(const Stack& stack, Pt x, Pt y, Pt width, NodeId node,
                        std::vector<Frame>& out) {
  for (const Piece& p : stack) {
    NodeId own = node;
    const bool picture = p.kind != Piece::Kind::text && p.kind != Piece::Kind::marked;
    if (picture && p.kind != Piece::Kind::gap && node != kArtifact)
      own = add_node(Role::figure, node, p.alt.empty() ? "box" : p.alt);
    else if (!picture && stack.size() > 1 && node != kArtifact)
      own = add_node(within(nodes_[static_cast<std::size_t>(node)].role), node);
    y += draw_piece(p, x, y, width, own, out);
  }
}

}  // namespace ohmleaf::layout
