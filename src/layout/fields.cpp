#include <algorithm>

#include "layout/builder.h"
#include "layout/marks.h"

namespace ohmleaf::layout {
namespace {

constexpr Pt kGap = 12_pt, kBetween = 6_pt, kRowGap = 6_pt;
/// A row of fields higher than this is broken line by line instead.
constexpr Pt kTallest = 168_pt;
constexpr Pt kWriteIn = 21_pt;

std::string member(const record::View& cell, std::string_view name) {
  const record::View* v = cell.find(name);
  return v ? printable(v->text) : std::string();
}

int number_of(const std::string& digits) {
  int n = 0;
  for (const char c : digits) {
    if (c < '0' || c > '9' || n > 1'000'000) return n;
    n = n * 10 + (c - '0');
  }
  return n;
}

std::string with_number(std::string words, int n) {
  if (const auto at = words.find("{}"); at != std::string::npos)
    words.replace(at, 2, std::to_string(n));
  return words;
}

}  // namespace

/// Value, limit, bar, and the verdict where it is not a pass.
Stack Builder::reading_stack(const Binding& source, const Sizes& z) {
  Stack out;
  const record::View* cell = eval_.find(source);
  if (!cell || !cell->present()) {
    out.push_back(plain_piece("–", Face::regular, theme().muted, z.value, z.align));
    return out;
  }
  using checks::Verdict;
  const Verdict verdict = eval_.verdict(source).value_or(Verdict::not_applicable);
  const std::string text = member(*cell, "text"), unit = member(*cell, "unit");
  const std::string limit = glued(eval_.in_language(member(*cell, "limit"))), note = member(*cell, "note");
  if (!text.empty()) {
    Rich value{{eval_.mapped(text, form_.words), Face::bold, theme().ink}};
    if (text == "yes" || text == "no") value[0].text = eval_.word(text);
    if (z.units && !unit.empty()) value.push_back({"\u00A0" + unit, Face::regular, theme().ink});
    out.push_back(text_piece(std::move(value), z.value, z.align));
  }
  const bool shout = verdict >= Verdict::borderline;
  if (shout) {
    Piece mark =
        plain_piece(eval_.word(checks::name(verdict)), Face::bold, theme().of(verdict), z.small);
    mark.kind = Piece::Kind::marked;
    mark.verdict = verdict;
    out.push_back(std::move(mark));
  }
  if (!note.empty())
    out.push_back(plain_piece(note, Face::regular, theme().muted, z.small, z.align));
  if (!limit.empty()) {
    const std::string words = z.units ? eval_.word("limit") + " " + limit : limit;
    out.push_back(plain_piece(words, Face::regular, theme().muted, z.small, z.align));
  }
  const std::string others = glued(eval_.in_language(member(*cell, "other_limits")));
  if (z.units && !others.empty())
    out.push_back(plain_piece(eval_.word("also") + " " + others, Face::regular, theme().muted,
                              z.small, z.align));
  const std::string used = member(*cell, "used_permille");
  if (z.bars && !used.empty() && !text.empty()) {
    Piece bar;
    bar.kind = Piece::Kind::bar;
    bar.used_permille = number_of(used);
    bar.verdict = verdict;
    bar.align = z.align;
    bar.alt = with_number(eval_.word("used"), (bar.used_permille + 5) / 10);
    out.push_back(std::move(bar));
  }
  return out;
}

Stack Builder::verdict_stack(const Binding& source, const WordMap& words, TypeSize size) {
  const auto verdict = eval_.verdict(source);
  if (!verdict) return stack_of(plain_piece("–", Face::regular, theme().muted, size));
  const std::string raw = eval_.raw(source);
  std::string text = eval_.mapped(raw, words);
  if (text == raw)
    text = raw == "true" ? eval_.word("yes") : raw == "false" ? eval_.word("no") : eval_.word(raw);
  if (text == raw) text = eval_.in_language(text);
  const bool bold = *verdict >= checks::Verdict::borderline;
  Piece p = plain_piece(printable(text), bold ? Face::bold : Face::regular,
                        bold ? theme().of(*verdict) : theme().ink, size);
  p.kind = Piece::Kind::marked;
  p.verdict = *verdict;
  return stack_of(std::move(p));
}

Stack Builder::label_stack(const FieldSpec& f) {
  if (f.label.empty()) return {};
  return stack_of(
      text_piece(eval_.rich(f.label, Face::regular, theme().muted), type(Step::small)));
}

Stack Builder::field_stack(const FieldSpec& f, const Block& b) {
  const TypeSize small = type(Step::small);
  Stack out = label_stack(f);
  Stack value;
  switch (f.show) {
    case Show::text:
      value.push_back(text_piece(eval_.rich(f.value, Face::regular, theme().ink), type(b.step)));
      break;
    case Show::reading:
      if (f.source)
        value = reading_stack(*f.source, {type(b.step), small, Align::left, b.bars, true});
      break;
    case Show::verdict:
      if (f.source) value = verdict_stack(*f.source, f.words, type(b.step));
      break;
    case Show::tick:
    case Show::box: {
      Piece box;
      const bool tick = f.show == Show::tick;
      box.kind = tick ? Piece::Kind::tick : Piece::Kind::box;
      box.height = f.height.milli > 0 ? on_grid(f.height) : kWriteIn;
      box.alt = eval_.word(tick ? "tick" : "write_in");
      value.push_back(std::move(box));
      break;
    }
  }
  out.insert(out.end(), value.begin(), value.end());
  return out;
}

bool Builder::field_shown(const FieldSpec& f) const {
  if (!eval_.truthy(f.when)) return false;
  if (!f.hide_empty) return true;
  if (!f.source) return eval_.any(f.value);
  const record::View* v = eval_.find(*f.source);
  return v && v->present();
}

void Builder::fields(const Block& b) {
  space(kBetween);
  const Pt column = (width_ - kGap * (b.across - 1)) / b.across;
  std::vector<const FieldSpec*> row;
  int used = 0;
  for (const FieldSpec& f : b.fields) {
    if (!field_shown(f)) continue;
    const int span = std::min(f.span, b.across);
    if (used + span > b.across) {
      field_row(b, row, column);
      row.clear();
      used = 0;
    }
    row.push_back(&f);
    used += span;
  }
  if (!row.empty()) field_row(b, row, column);
}

void Builder::field_row(const Block& b, std::vector<const FieldSpec*>& row, Pt column) {
  std::vector<Stack> stacks;
  std::vector<Pt> widths, labels;
  Pt height, label;
  for (const FieldSpec* f : row) {
    const int span = std::min(f->span, b.across);
    stacks.push_back(field_stack(*f, b));
    widths.push_back(column * span + kGap * (span - 1));
    labels.push_back(painter_.height(label_stack(*f), widths.back()));
    label = std::max(label, labels.back());
  }
  // A label of two lines begins higher, so that the values and boxes of a row stand in line.
  for (std::size_t i = 0; i < row.size(); ++i)
    height = std::max(height, painter_.height(stacks[i], widths[i]) + label - labels[i]);
  if (height > kTallest) {
    for (const FieldSpec* f : row) long_field(*f, b);
    return;
  }
  Strip s = strip(height);
  Pt x = left_;
  for (std::size_t i = 0; i < row.size(); ++i) {
    const NodeId node = painter_.add_node(Role::paragraph, section_);
    painter_.draw(stacks[i], x, label - labels[i], widths[i], node, s.frames);
    x += widths[i] + kGap;
  }
  add(std::move(s));
  space(kRowGap);
}

/// A value too long for its place takes the whole width and may go on to the next page.
void Builder::long_field(const FieldSpec& f, const Block& b) {
  const NodeId node = painter_.add_node(Role::paragraph, section_);
  const Stack stack = field_stack(f, b);
  for (std::size_t i = 0; i < stack.size(); ++i) {
    if (stack[i].kind == Piece::Kind::text) {
      const bool label = i == 0 && !f.label.empty();
      lines(stack[i].rich, stack[i].type, Align::left, painter_.add_node(Role::span, node),
            std::nullopt, label);
    } else {
      const Stack one{stack[i]};
      Strip s = strip(painter_.height(one, width_));
      painter_.draw(one, left_, {}, width_, node, s.frames);
      add(std::move(s));
    }
  }
  space(kRowGap);
}

}  // namespace ohmleaf::layout
