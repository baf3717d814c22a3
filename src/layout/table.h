#pragma once
#include <vector>

#include "layout/builder.h"

namespace ohmleaf::layout {

/// Lays out one table: measures every cell, shares the width, and adds heading and rows as strips.
/// Too wide for the page upright: on landscape pages; too wide for those: in parts, each with the
/// key columns.
class TableMaker {
 public:
  TableMaker(Builder& builder, const Block& block) : b_(builder), block_(block) {}
  void run();

 private:
  struct Column {
    const ColumnSpec* spec = nullptr;
    Stack heading;
    Pt least, natural, width;
  };
  struct Span {
    std::size_t begin, end;  ///< within the chosen columns
    Pt width;
    Stack group;  ///< the group's heading; empty for a column without one
  };
  using Columns = std::vector<std::size_t>;  ///< indexes into columns_

  struct Plan {
    bool landscape;
    Pt width;
    std::vector<Columns> parts;
  };

  void collect(const record::View& list);
  Stack cell(const ColumnSpec& column);
  bool has_value(const ColumnSpec& column) const;
  bool nothing_to_say() const;
  void measure();
  Pt least_width(const Columns& chosen) const;
  void share(const Columns& chosen, Pt width);
  std::vector<Columns> parts(Pt width) const;
  Plan choose();
  bool holds(const Plan& plan);
  void emit(const Plan& plan, std::size_t part);
  void caption(NodeId table, bool first);
  int emit_heading(const Columns& chosen, NodeId table, bool landscape);
  void draw_heading(const Column& column, Pt x, Pt height, NodeId node, Strip& strip);
  std::vector<Span> spans(const Columns& chosen) const;
  NodeId header_cell(NodeId row, int columns, int rows);
  void draw_upper(const Columns& chosen, const std::vector<Span>& groups, NodeId row, Pt above,
                  Strip& strip);
  void draw_lower(const Columns& chosen, const std::vector<Span>& groups, NodeId row, Strip& strip);
  void emit_row(const Columns& chosen, std::size_t row, Pt height, NodeId body, bool landscape,
                int heading);
  Pt row_height(const Columns& chosen, std::size_t row) const;
  Pt heading_height(const Column& column) const;

  Builder& b_;
  const Block& block_;
  std::vector<Column> columns_;
  std::vector<std::vector<Stack>> rows_;
  std::vector<std::vector<Pt>> heights_;  ///< of the rows in each part of the plan that holds them
  TypeSize value_, small_;
};

}  // namespace ohmleaf::layout
