#include <algorithm>

#include "layout/builder.h"
#include "layout/marks.h"
#include "layout/table.h"

namespace ohmleaf::layout {
namespace {

constexpr Pt kBeforeSection = 18_pt, kBeforeHeading = 9_pt, kAfterHeading = 3_pt;
constexpr Pt kBetween = 6_pt, kAroundBox = 9_pt;

Role heading_role(int level) {
  if (level == 1) return Role::h1;
  return level == 2 ? Role::h2 : Role::h3;
}

Step heading_step(int level) {
  if (level == 1) return Step::title;
  return level == 2 ? Step::section : Step::heading;
}

Face face_of(Tone tone) {
  if (tone == Tone::strong) return Face::bold;
  return tone == Tone::emphasis ? Face::italic : Face::regular;
}

Color color_of(Tone tone, const Theme& theme) {
  if (tone == Tone::muted) return theme.muted;
  return tone == Tone::accent ? theme.accent : theme.ink;
}

}  // namespace

void Builder::block(const Block& b) {
  if (!eval_.truthy(b.when)) return;
  const int outer = block_;
  flow_.blocks.push_back({b.name, b.span});
  block_ = static_cast<int>(flow_.blocks.size() - 1);
  const std::size_t first = flow_.strips.size();
  content(b);
  if (b.keep_together && b.kind != BlockKind::group) keep_from(first);
  if (b.keep_with_next && flow_.strips.size() > first) flow_.strips.back().keep_with_next = true;
  block_ = outer;
}

void Builder::content(const Block& b) {
  switch (b.kind) {
    case BlockKind::heading:
      heading(b);
      break;
    case BlockKind::paragraph:
      paragraph(b);
      break;
    case BlockKind::note:
      note(b);
      break;
    case BlockKind::fields:
      fields(b);
      break;
    case BlockKind::table:
      TableMaker(*this, b).run();
      break;
    case BlockKind::checklist:
      checklist(b);
      break;
    case BlockKind::signature:
      signature(b);
      break;
    case BlockKind::image:
      image(b);
      break;
    case BlockKind::rule:
      rule();
      break;
    case BlockKind::space:
      space(on_grid(b.height));
      break;
    case BlockKind::page_break: {
      Strip s = strip({});
      s.page_break = true;
      add(std::move(s));
      break;
    }
    case BlockKind::group:
      group(b);
      break;
  }
}

void Builder::heading(const Block& b) {
  const TypeSize size = type(heading_step(b.level));
  const bool section = b.level == 2;
  space(section ? kBeforeSection : kBeforeHeading);
  if (section) {
    // A quiet line with the accent's only regular appearance: its short beginning.
    Strip line = strip(theme().grid * 2);
    line.frames.emplace_back(
        LineFrame{left_, {}, left_ + width_, {}, 500_pt / 1000, theme().line, kArtifact});
    line.frames.emplace_back(
        LineFrame{left_, {}, left_ + 24_pt, {}, 2_pt, theme().accent, kArtifact});
    line.keep_with_next = line.between = true;
    add(std::move(line));
  }
  const NodeId node = painter_.add_node(heading_role(b.level), section_);
  const std::size_t first = flow_.strips.size();
  std::optional<checks::Verdict> mark;
  if (b.mark) mark = eval_.verdict(*b.mark);
  lines(eval_.rich(b.text, Face::bold, theme().ink), size, Align::left, node, mark, true);
  for (std::size_t i = first; i < flow_.strips.size(); ++i) flow_.strips[i].keep_with_next = true;
  if (b.bookmark) flow_.strips[first].bookmarks.push_back({eval_.plain(b.text), b.level - 1});
  space(b.level == 1 ? kBetween : kAfterHeading);
}

void Builder::paragraph(const Block& b) {
  space(b.step == Step::small || b.step == Step::tiny ? kAfterHeading : kBetween);
  const NodeId node = painter_.add_node(Role::paragraph, section_);
  std::optional<checks::Verdict> mark;
  if (b.mark) mark = eval_.verdict(*b.mark);
  Color color = color_of(b.tone, theme());
  if (mark && b.tone == Tone::strong) color = theme().of(*mark);
  const Pt indent = b.indent ? StackPainter::mark_room(type(Step::body)) : Pt{};
  lines(eval_.rich(b.text, face_of(b.tone), color), type(b.step), b.align, node, mark,
        b.keep_with_next, indent);
}

void Builder::note(const Block& b) {
  space(kAroundBox);
  const std::size_t first = flow_.strips.size();
  open_box(theme().ground, std::nullopt, std::nullopt);
  if (!b.caption.empty()) {
    const NodeId node = painter_.add_node(Role::paragraph, section_);
    lines(eval_.rich(b.caption, Face::bold, theme().ink), type(Step::small), Align::left, node,
          std::nullopt, true);
  }
  const NodeId node = painter_.add_node(Role::paragraph, section_);
  const TypeSize size = type(b.step == Step::body ? Step::small : b.step);
  lines(eval_.rich(b.text, face_of(b.tone), color_of(b.tone, theme())), size, Align::left, node,
        std::nullopt, false);
  close_box();
  keep_from(first);
  space(kBetween);
}

/// A picture at the right, text at its left: the head of a letter.
void Builder::image(const Block& b) {
  space(kBetween);
  const Pt most = b.height.milli > 0 ? b.height : 42_pt;
  std::optional<Piece> piece;
  if (b.source) piece = picture(*b.source, width_ / 2, most, eval_.word("logo"));
  if (!piece && b.text.empty()) return;
  const Pt beside = piece ? width_ - piece->width - 12_pt : width_;
  Stack text;
  text.push_back(text_piece(eval_.rich(b.text, Face::regular, theme().ink), type(Step::small)));
  if (!b.caption.empty())
    text.insert(text.begin(),
                text_piece(eval_.rich(b.caption, Face::bold, theme().ink), type(Step::lead)));
  const Pt height = std::max(painter_.height(text, beside), piece ? piece->height : Pt{});
  Strip s = strip(height);
  const NodeId node = painter_.add_node(Role::paragraph, section_);
  painter_.draw(text, left_, {}, beside, node, s.frames);
  if (piece) {
    const Pt x = b.text.empty() && b.align == Align::left ? left_ : left_ + width_ - piece->width;
    const Stack pictures{*piece};
    painter_.draw(pictures, x, {}, piece->width, section_, s.frames);
  }
  add(std::move(s));
  space(kBetween);
}

void Builder::rule() {
  space(kBetween);
  Strip s = strip(theme().grid);
  s.frames.emplace_back(
      LineFrame{left_, {}, left_ + width_, {}, 500_pt / 1000, theme().line, kArtifact});
  add(std::move(s));
  space(kBetween);
}

void Builder::group(const Block& b) {
  if (!b.repeat) {
    group_once(b);
    return;
  }
  const record::View* list = eval_.find(*b.repeat);
  if (!list) return;
  list->each([&](const record::View& item) {
    eval_.enter(item);
    group_once(b);
    eval_.leave();
  });
}

void Builder::group_once(const Block& b) {
  const std::size_t first = flow_.strips.size();
  if (b.surround != Surround::none) {
    std::optional<Color> edge;
    if (b.mark) {
      const auto v = eval_.verdict(*b.mark);
      edge = v ? theme().of(*v) : theme().accent;
    }
    space(kAroundBox);
    const bool card = b.surround == Surround::card;
    open_box(card ? std::optional<Color>() : theme().ground,
             card ? std::optional<Color>(theme().line) : std::nullopt, edge);
  }
  for (const Block& child : b.blocks) block(child);
  if (b.surround != Surround::none) {
    close_box();
    space(kAroundBox);
  }
  if (b.keep_together) keep_from(first);
}

}  // namespace ohmleaf::layout
