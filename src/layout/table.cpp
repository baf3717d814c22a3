#include "layout/table.h"

#include <algorithm>
#include <array>

namespace ohmleaf::layout {
namespace {

constexpr Pt kPadX = 3_pt, kPadY = 3_pt;
/// A longer word is broken before a column is made wider for it.
constexpr Pt kWordCap = 66_pt;
/// A reading asks for no more: the reason of a LIM wraps under it.
constexpr Pt kReadingCap = 72_pt;

}  // namespace

bool TableMaker::has_value(const ColumnSpec& c) const {
  if (c.show == Show::text) return b_.eval_.any(c.value);
  if (!c.source) return true;
  const record::View* v = b_.eval_.find(*c.source);
  return v && v->present();
}

Stack TableMaker::cell(const ColumnSpec& c) {
  switch (c.show) {
    case Show::text:
      return stack_of(
          b_.text_piece(b_.eval_.rich(c.value, c.key ? Face::bold : Face::regular, b_.theme().ink),
                        value_, c.align));
    case Show::reading:
      return b_.reading_stack(*c.source, {value_, small_, c.align, block_.bars, false});
    case Show::verdict: {
      if (c.words.empty()) return b_.verdict_stack(*c.source, block_.words, value_);
      WordMap words = block_.words;
      for (const auto& [from, to] : c.words) words[from] = to;
      return b_.verdict_stack(*c.source, words, value_);
    }
    case Show::box:
    case Show::tick: {
      Piece p;
      p.kind = c.show == Show::tick ? Piece::Kind::tick : Piece::Kind::box;
      p.align = c.align;
      p.height = c.height.milli > 0 ? b_.on_grid(c.height) : 18_pt;
      p.alt = b_.eval_.word(c.show == Show::tick ? "tick" : "write_in");
      return stack_of(std::move(p));
    }
  }
  return {};
}

/// Every cell as a stack; columns that hide when nothing stands in them are left out.
void TableMaker::collect(const record::View& list) {
  std::vector<bool> used(block_.columns.size(), false);
  std::vector<std::vector<Stack>> all;
  list.each([&](const record::View& item) {
    b_.eval_.enter(item);
    std::vector<Stack> row;
    row.reserve(block_.columns.size());
    for (std::size_t c = 0; c < block_.columns.size(); ++c) {
      const ColumnSpec& spec = block_.columns[c];
      used[c] = used[c] || !spec.hide_empty || has_value(spec);
      row.push_back(cell(spec));
      b_.painter_.measure(row.back());
    }
    b_.eval_.leave();
    all.push_back(std::move(row));
  });
  rows_.resize(all.size());
  for (std::size_t c = 0; c < block_.columns.size(); ++c) {
    if (!used[c]) continue;
    Column column;
    column.spec = &block_.columns[c];
    column.heading.push_back(
        b_.text_piece(b_.eval_.rich(column.spec->heading, Face::bold, b_.theme().muted), small_,
                      column.spec->align));
    columns_.push_back(std::move(column));
    for (std::size_t r = 0; r < all.size(); ++r) rows_[r].push_back(std::move(all[r][c]));
  }
}

void TableMaker::measure() {
  for (std::size_t c = 0; c < columns_.size(); ++c) {
    Column& column = columns_[c];
    if (column.spec->rotate) {
      column.least = column.natural = small_.leading;
    } else {
      column.least = b_.painter_.least_width(column.heading);
      column.natural = b_.painter_.natural_width(column.heading);
      column.natural = std::min(column.natural, column.least * 2);  // headings may wrap
    }
    for (const auto& row : rows_) {
      column.least = std::max(column.least, b_.painter_.least_width(row[c]));
      column.natural = std::max(column.natural, b_.painter_.natural_width(row[c]));
    }
    column.least = std::min(column.least, kWordCap);
    if (column.spec->show == Show::reading) column.natural = std::min(column.natural, kReadingCap);
    if (column.spec->max.milli > 0) column.natural = std::min(column.natural, column.spec->max);
    column.least = std::max({std::min(column.least, column.natural), column.spec->min, 6_pt});
    column.natural = std::clamp(column.natural, column.least, 4000_pt);
    column.least += kPadX * 2;
    column.natural += kPadX * 2;
  }
}

Pt TableMaker::least_width(const Columns& chosen) const {
  Pt out;
  for (const std::size_t c : chosen) out += columns_[c].least;
  return out;
}

/// Shares the width: what content asks for where there is room, else what it needs and a part of
/// the rest by how much more it asks for.
void TableMaker::share(const Columns& chosen, Pt width) {
  std::int64_t least = 0, natural = 0, open = 0;
  for (const std::size_t c : chosen) {
    least += columns_[c].least.milli;
    natural += columns_[c].natural.milli;
    if (columns_[c].spec->max.milli == 0) open += columns_[c].natural.milli;
  }
  const bool room = natural <= width.milli;
  const std::int64_t rest = width.milli - (room ? natural : least);
  const std::int64_t asked = room ? open : natural - least;
  for (const std::size_t c : chosen) {
    Column& column = columns_[c];
    column.width = room ? column.natural : column.least;
    const std::int64_t want = room ? (column.spec->max.milli == 0 ? column.natural.milli : 0)
                                   : column.natural.milli - column.least.milli;
    if (asked > 0 && rest > 0) column.width += Pt{static_cast<std::int32_t>(rest * want / asked)};
  }
}

/// The columns in as few parts as fit, each beginning with the key columns.
std::vector<TableMaker::Columns> TableMaker::parts(Pt width) const {
  Columns keys, others;
  for (std::size_t c = 0; c < columns_.size(); ++c)
    (columns_[c].spec->key ? keys : others).push_back(c);
  if (keys.empty() && !others.empty()) {
    keys.push_back(others.front());
    others.erase(others.begin());
  }
  std::vector<Columns> out;
  Columns part = keys;
  for (const std::size_t c : others) {
    Columns wider = part;
    wider.push_back(c);
    if (least_width(wider) > width && part.size() > keys.size()) {
      out.push_back(std::move(part));
      part = keys;
    }
    part.push_back(c);
  }
  out.push_back(std::move(part));
  return out;
}

/// Every column that was to say something hides, and only the names of the rows would be left.
bool TableMaker::nothing_to_say() const {
  const bool keys_only =
      std::all_of(columns_.begin(), columns_.end(), [](const Column& c) { return c.spec->key; });
  return columns_.empty() || (keys_only && columns_.size() < block_.columns.size());
}

void TableMaker::run() {
  value_ = b_.type(block_.step == Step::body ? Step::small : block_.step);
  small_ = b_.type(Step::tiny);
  if (value_.size < b_.type(Step::small).size) small_ = value_;
  const record::View* list = b_.eval_.find(*block_.repeat);
  if (!list || !list->present()) return;
  collect(*list);
  if (nothing_to_say()) return;
  measure();
  const Plan plan = choose();
  for (std::size_t i = 0; i < plan.parts.size(); ++i) {
    if (least_width(plan.parts[i]) > plan.width) {
      b_.out_.error("form-too-wide", block_.span, block_.name + " is wider than the page",
                    {"Take smaller \"min\" widths, or fewer key columns."});
      return;
    }
    share(plan.parts[i], plan.width);
    emit(plan, i);
  }
}

/// The first of these that holds every row: the page upright, a landscape page, a landscape page
/// for each part of the columns, and at last parts so small that a long text has half the width.
TableMaker::Plan TableMaker::choose() {
  Columns all(columns_.size());
  for (std::size_t c = 0; c < all.size(); ++c) all[c] = c;
  // A table in a card keeps to its card; elsewhere it may have a page of its own, turned.
  const bool turned = b_.form_.page.landscape, turns = turned || b_.inset_.milli == 0;
  const Pt wide = turns ? b_.inner_width(true) : b_.width_;
  const std::array plans{Plan{turned, b_.width_, {all}}, Plan{turns, wide, {all}},
                         Plan{turns, wide, parts(wide)}, Plan{turns, wide, parts(wide / 2)}};
  for (const Plan& plan : plans)
    if (holds(plan)) return plan;
  heights_.clear();
  return plans[2];
}

bool TableMaker::holds(const Plan& plan) {
  const Pt room = plan.landscape ? b_.landscape_height_ : b_.upright_height_;
  heights_.clear();
  for (const Columns& chosen : plan.parts) {
    heights_.emplace_back();
    if (least_width(chosen) > plan.width) return false;
    share(chosen, plan.width);
    Pt heading;
    for (const std::size_t c : chosen) heading = std::max(heading, heading_height(columns_[c]));
    heading += kPadY * 3 + small_.leading * 2;
    for (std::size_t r = 0; r < rows_.size(); ++r) {
      heights_.back().push_back(row_height(chosen, r));
      if (heading + kPadY * 2 + heights_.back().back() > room) return false;
    }
  }
  return true;
}

Pt TableMaker::row_height(const Columns& chosen, std::size_t r) const {
  Pt height;
  for (const std::size_t c : chosen)
    height = std::max(height, b_.painter_.height(rows_[r][c], columns_[c].width - kPadX * 2));
  return height;
}

void TableMaker::caption(NodeId table, bool first) {
  if (block_.caption.empty()) return;
  Rich text = b_.eval_.rich(block_.caption, Face::bold, b_.theme().ink);
  if (!first)
    text.push_back({" (" + b_.eval_.word("continued") + ")", Face::regular, b_.theme().muted});
  const NodeId node = b_.painter_.add_node(Role::caption, table);
  b_.lines(text, b_.type(Step::small), Align::left, node, std::nullopt, true);
  b_.space(3_pt);
}

void TableMaker::emit(const Plan& plan, std::size_t part) {
  const Columns& chosen = plan.parts[part];
  const bool landscape = plan.landscape;
  b_.space(6_pt);
  const NodeId table = b_.painter_.add_node(Role::table, b_.section_);
  const std::size_t start = b_.flow_.strips.size();
  caption(table, part == 0);
  const int heading = emit_heading(chosen, table, landscape);
  const NodeId body = b_.painter_.add_node(Role::table_body, table);
  for (std::size_t r = 0; r < rows_.size(); ++r) {
    const Pt height = part < heights_.size() ? heights_[part][r] : row_height(chosen, r);
    emit_row(chosen, r, height, body, landscape, heading);
  }
  if (landscape)
    for (std::size_t i = start; i < b_.flow_.strips.size(); ++i)
      b_.flow_.strips[i].landscape = true;
  b_.space(6_pt);
}

void TableMaker::emit_row(const Columns& chosen, std::size_t r, Pt height, NodeId body,
                          bool landscape, int heading) {
  Strip s = b_.strip(height + kPadY * 2);
  s.landscape = landscape;
  s.repeats = heading;
  s.frames.reserve(2 * chosen.size() + 1);  // two to a cell, as a rule, and the rule below
  const NodeId row = b_.painter_.add_node(Role::row, body);
  Pt x = b_.left_;
  for (const std::size_t c : chosen) {
    const Column& column = columns_[c];
    const NodeId cell =
        b_.painter_.add_node(column.spec->key ? Role::header_cell : Role::cell, row);
    if (column.spec->key) b_.document_.nodes[static_cast<std::size_t>(cell)].scope = Scope::row;
    b_.painter_.draw(rows_[r][c], x + kPadX, kPadY, column.width - kPadX * 2, cell, s.frames);
    x += column.width;
  }
  s.frames.push_back(
      LineFrame{b_.left_, s.height, x, s.height, 400_pt / 1000, b_.theme().line, kArtifact});
  // No lonely first or last row.
  const std::size_t n = rows_.size();
  s.keep_with_next = r + 1 < n && (r == 0 || r + 2 == n);
  b_.add(std::move(s));
}

}  // namespace ohmleaf::layout
