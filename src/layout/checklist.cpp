#include <algorithm>

#include "base/text.h"
#include "layout/builder.h"
#include "layout/marks.h"

namespace ohmleaf::layout {
namespace {

constexpr Pt kGap = 12_pt, kBetween = 6_pt, kRowGap = 3_pt;
constexpr Pt kSignature = 42_pt;

/// A short outcome stays on one line.
std::string unbroken(const std::string& words) {
  if (words.size() > 24) return words;
  std::vector<std::string> parts;
  for (const std::string_view part : split(words, ' ')) parts.emplace_back(part);
  return join(parts, "\u00A0");
}

}  // namespace

/// One line of a checklist: the mark, what was looked at, the outcome in a word, the reason.
Stack Builder::check_line(const Block& b, const Runs& text, const Binding& outcome,
                          const Runs& reason, const WordMap& words) {
  using checks::Verdict;
  const auto verdict = eval_.verdict(outcome);
  const std::string raw = verdict ? eval_.raw(outcome) : std::string("not recorded");
  std::string word = eval_.mapped(raw, words);
  if (word == raw) word = eval_.mapped(raw, b.words);
  if (word == "true" || word == "false") word = eval_.word(word == "true" ? "yes" : "no");
  if (word == raw) word = eval_.in_language(word);
  word = unbroken(word);
  Rich rich = eval_.rich(text, Face::regular, theme().ink);
  const Verdict shown = verdict.value_or(Verdict::missing);
  const bool bold = shown == Verdict::fail;
  rich.push_back({"  " + printable(word), bold ? Face::bold : Face::italic,
                  bold ? theme().fail : theme().muted});
  if (eval_.any(reason)) rich.push_back({": " + eval_.plain(reason), Face::italic, theme().muted});
  Piece p = text_piece(std::move(rich), type(Step::small));
  p.kind = Piece::Kind::marked;
  p.verdict = shown;
  return stack_of(std::move(p));
}

void Builder::checklist(const Block& b) {
  std::vector<Stack> items;
  if (b.repeat && b.source) {
    if (const record::View* list = eval_.find(*b.repeat))
      list->each([&](const record::View& item) {
        eval_.enter(item);
        items.push_back(check_line(b, b.text, *b.source, b.reason, b.words));
        eval_.leave();
      });
  }
  for (const FieldSpec& f : b.fields)
    if (field_shown(f) && f.source) items.push_back(check_line(b, f.label, *f.source, {}, f.words));
  if (items.empty()) return;

  space(kBetween);
  const NodeId list = painter_.add_node(Role::list, section_);
  const Pt column = (width_ - kGap * (b.across - 1)) / b.across;
  const auto across = static_cast<std::size_t>(b.across);
  for (std::size_t i = 0; i < items.size(); i += across) {
    const std::size_t end = std::min(i + across, items.size());
    Pt height;
    for (std::size_t k = i; k < end; ++k)
      height = std::max(height, painter_.height(items[k], column));
    Strip s = strip(height + kRowGap);
    Pt x = left_;
    for (std::size_t k = i; k < end; ++k) {
      const NodeId item = painter_.add_node(Role::list_item, list);
      const NodeId body = painter_.add_node(Role::list_body, item);
      painter_.draw(items[k], x, {}, column, body, s.frames);
      x += column + kGap;
    }
    const bool last = end == items.size();
    s.keep_with_next = !last && (i == 0 || end + across >= items.size());
    add(std::move(s));
  }
}

/// At the left the signature over a line, at the right who signs. Without an image the line waits
/// for ink, and says so unless the certificate is signed electronically.
void Builder::signature(const Block& b) {
  space(kBetween * 2);
  const Pt half = (width_ - kGap * 2) / 2;
  std::optional<Piece> signed_by;
  if (b.source) signed_by = picture(*b.source, half, kSignature - 3_pt, eval_.word("signature"));
  Stack under;
  if (!b.caption.empty())
    under.push_back(
        text_piece(eval_.rich(b.caption, Face::regular, theme().muted), type(Step::small)));
  const bool electronic = !document_.seal && !eval_.signed_line().empty();
  if (!signed_by && !electronic && !b.text.empty())
    under.push_back(text_piece(eval_.rich(b.text, Face::bold, theme().ink), type(Step::small)));
  // Who signs stands at the right, two fields beside one another where they are short.
  std::vector<Stack> stacks;
  for (const FieldSpec& f : b.fields)
    if (field_shown(f)) stacks.push_back(field_stack(f, b));
  const std::size_t across = stacks.size() > 2 ? 2 : 1;
  const Pt one = across == 2 ? (half - kGap) / 2 : half;
  std::vector<Pt> rows((stacks.size() + across - 1) / across);
  for (std::size_t i = 0; i < stacks.size(); ++i)
    rows[i / across] = std::max(rows[i / across], painter_.height(stacks[i], one) + kRowGap);
  Pt right;
  for (const Pt row : rows) right += row;
  Strip s = strip(std::max(kSignature + kRowGap + painter_.height(under, half), right));
  if (signed_by) {
    const Stack picture{*signed_by};
    painter_.draw(picture, left_, kSignature - 2_pt - signed_by->height, half, section_, s.frames);
  }
  s.frames.push_back(LineFrame{left_, kSignature, left_ + half, kSignature, 700_pt / 1000,
                               theme().ink, kArtifact});
  const NodeId node = painter_.add_node(Role::paragraph, section_);
  painter_.draw(under, left_, kSignature + kRowGap, half, node, s.frames);
  Pt y;
  for (std::size_t i = 0; i < stacks.size(); ++i) {
    const NodeId field = painter_.add_node(Role::paragraph, section_);
    const Pt x = left_ + half + kGap * 2 + (one + kGap) * static_cast<std::int32_t>(i % across);
    painter_.draw(stacks[i], x, y, one, field, s.frames);
    if (i % across + 1 == across) y += rows[i / across];
  }
  s.keep_with_next = electronic;
  add(std::move(s));
  electronic_signature();
  space(kBetween);
}

void Builder::electronic_signature() {
  const std::string words = eval_.signed_line();
  if (words.empty() || document_.seal) return;
  space(kRowGap);
  SealLine seal;
  seal.words = words;
  seal.line = painter_.add_node(Role::paragraph, section_);
  lines({{words, Face::regular, theme().ink}}, type(Step::small), Align::left, seal.line,
        std::nullopt, false);
  seal.form = painter_.add_node(Role::form, section_);
  document_.seal = std::move(seal);
}

}  // namespace ohmleaf::layout
