#include <algorithm>

#include "layout/table.h"

namespace ohmleaf::layout {
namespace {

constexpr Pt kPadX = 3_pt, kPadY = 3_pt;

}  // namespace

Pt TableMaker::heading_height(const Column& column) const {
  if (column.spec->rotate) return b_.painter_.natural_width(column.heading) + 2_pt;
  return b_.painter_.height(column.heading, column.width - kPadX * 2);
}

/// Neighbours that name the same group; a column without a group stands alone.
std::vector<TableMaker::Span> TableMaker::spans(const Columns& chosen) const {
  std::vector<Span> out;
  for (std::size_t i = 0; i < chosen.size();) {
    Span span{i, i + 1, columns_[chosen[i]].width, {}};
    const std::string& group = columns_[chosen[i]].spec->group;
    while (!group.empty() && span.end < chosen.size() &&
           columns_[chosen[span.end]].spec->group == group)
      span.width += columns_[chosen[span.end++]].width;
    if (!group.empty())
      span.group.push_back(b_.plain_piece(group, Face::bold, b_.theme().accent, small_));
    i = span.end;
    out.push_back(std::move(span));
  }
  return out;
}

/// One strip: the groups above, the columns' headings below, a firm line under them.
int TableMaker::emit_heading(const Columns& chosen, NodeId table, bool landscape) {
  const std::vector<Span> groups = spans(chosen);
  Pt height, above, right = b_.left_;
  for (const Span& g : groups) {
    right += g.width;
    if (!g.group.empty())
      above = std::max(above, b_.painter_.height(g.group, g.width - kPadX * 2) + kPadY);
  }
  for (const std::size_t c : chosen) height = std::max(height, heading_height(columns_[c]));
  Strip s = b_.strip(above + height + kPadY * 2);
  s.landscape = landscape;
  s.heading = true;
  s.keep_with_next = true;
  const NodeId head = b_.painter_.add_node(Role::table_head, table);
  draw_upper(chosen, groups, b_.painter_.add_node(Role::row, head), above, s);
  if (above.milli > 0) draw_lower(chosen, groups, b_.painter_.add_node(Role::row, head), s);
  s.frames.push_back(
      LineFrame{b_.left_, s.height, right, s.height, 800_pt / 1000, b_.theme().ink, kArtifact});

  Strip again = s;
  for (Frame& f : again.frames) make_artifact(f);
  b_.flow_.headings.push_back({std::move(again)});
  b_.add(std::move(s));
  return static_cast<int>(b_.flow_.headings.size() - 1);
}

NodeId TableMaker::header_cell(NodeId row, int columns, int rows) {
  const NodeId node = b_.painter_.add_node(Role::header_cell, row);
  Node& n = b_.document_.nodes[static_cast<std::size_t>(node)];
  n.scope = Scope::column;
  n.column_span = columns;
  n.row_span = rows;
  return node;
}

/// The groups, and the columns without one, whose headings span both rows.
void TableMaker::draw_upper(const Columns& chosen, const std::vector<Span>& groups, NodeId row,
                            Pt above, Strip& strip) {
  Pt x = b_.left_;
  for (const Span& g : groups) {
    if (g.group.empty()) {
      const NodeId node = header_cell(row, 1, above.milli > 0 ? 2 : 1);
      draw_heading(columns_[chosen[g.begin]], x, strip.height, node, strip);
    } else {
      const NodeId node = header_cell(row, static_cast<int>(g.end - g.begin), 1);
      b_.painter_.draw(g.group, x + kPadX, {}, g.width - kPadX * 2, node, strip.frames);
      const Pt y = above - kPadY + 1_pt;
      strip.frames.emplace_back(LineFrame{x + kPadX, y, x + g.width - kPadX, y, 500_pt / 1000,
                                          b_.theme().accent, kArtifact});
    }
    x += g.width;
  }
}

void TableMaker::draw_lower(const Columns& chosen, const std::vector<Span>& groups, NodeId row,
                            Strip& strip) {
  Pt x = b_.left_;
  for (const Span& g : groups) {
    for (std::size_t k = g.begin; k < g.end; ++k) {
      const Column& column = columns_[chosen[k]];
      if (!g.group.empty()) draw_heading(column, x, strip.height, header_cell(row, 1, 1), strip);
      x += column.width;
    }
  }
}

void TableMaker::draw_heading(const Column& column, Pt x, Pt height, NodeId node, Strip& strip) {
  const Pt y = height - kPadY - heading_height(column);
  if (!column.spec->rotate) {
    b_.painter_.draw(column.heading, x + kPadX, y, column.width - kPadX * 2, node, strip.frames);
    return;
  }
  const Piece& text = column.heading.front();
  Pt baseline = height - kPadY;
  for (const Chunk& chunk : text.rich) {
    TextFrame t;
    t.x = x + (column.width + b_.metrics_.cap_height(chunk.face, text.type.size)) / 2;
    t.baseline = baseline;
    t.size = text.type.size;
    t.face = chunk.face;
    t.color = chunk.color;
    t.text = chunk.text;
    t.node = node;
    t.rotated = true;
    baseline -= b_.metrics_.width(chunk.face, text.type.size, chunk.text);
    strip.frames.push_back(std::move(t));
  }
}

}  // namespace ohmleaf::layout
