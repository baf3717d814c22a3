#include "layout/furniture.h"

#include <algorithm>

#include "layout/marks.h"

namespace ohmleaf::layout {
namespace {

constexpr Pt kBanner = 18_pt, kBannerGap = 6_pt;
constexpr Pt kUnderHeader = 12_pt, kOverFooter = 9_pt, kRulePad = 3_pt;

}  // namespace

Furniture::Furniture(const Form& form, const record::View& view, const FontMetrics& metrics,
                     std::vector<Node>& nodes)
    : form_(form), eval_(form, view), painter_(form.theme, metrics, nodes) {
  draft_ = eval_.draft();
  if (draft_)
    for (const bool landscape : {false, true})
      draft_word_[landscape ? 1 : 0] =
          draft_word(eval_.word("draft_mark"), page_width(landscape), page_height(landscape),
                     form_.theme);
  banner_ = eval_.banner();
}

Pt Furniture::page_width(bool landscape) const {
  return landscape ? form_.page.height : form_.page.width;
}
Pt Furniture::page_height(bool landscape) const {
  return landscape ? form_.page.width : form_.page.height;
}
Pt Furniture::content_width(bool landscape) const {
  return page_width(landscape) - form_.page.left - form_.page.right;
}

std::string Furniture::page_words(std::size_t number, std::size_t count) const {
  return eval_.word("page") + " " + std::to_string(number) + " " + eval_.word("of") + " " +
         std::to_string(count);
}

Furniture::Row Furniture::row(const Runs& left, const Runs& middle, std::string right, Pt width,
                              TypeSize type) const {
  const auto stack = [&](Rich rich, Align align) {
    Piece p;
    p.rich = std::move(rich);
    p.type = type;
    p.align = align;
    return stack_of(std::move(p));
  };
  const Color ink = form_.theme.ink, muted = form_.theme.muted;
  Row out;
  out.left = stack(eval_.rich(left, Face::bold, ink), Align::left);
  out.middle = stack(eval_.rich(middle, Face::regular, muted), Align::left);
  out.right = stack({{std::move(right), Face::regular, muted}}, Align::right);
  const Pt gap = 12_pt;
  out.right_width = std::min(painter_.natural_width(out.right) + 1_pt, width / 3);
  const Pt rest = width - out.right_width - gap;
  if (middle.empty()) {
    out.left_width = rest;
  } else {
    if (!left.empty()) out.left_width = std::min(painter_.natural_width(out.left) + 1_pt, rest / 3);
    out.middle_width = rest - out.left_width - (left.empty() ? Pt{} : gap);
  }
  out.height = std::max({painter_.height(out.left, out.left_width),
                         middle.empty() ? Pt{} : painter_.height(out.middle, out.middle_width),
                         painter_.height(out.right, out.right_width)});
  return out;
}

Furniture::Row Furniture::header(bool landscape, const std::string& page) const {
  return row(form_.page.header_left, form_.page.header_middle, page, content_width(landscape),
             form_.theme.type(Step::small));
}

Furniture::Row Furniture::footer(bool landscape) const {
  const std::string right = eval_.plain(form_.page.footer_right);
  Row out = row({}, form_.page.footer_left, right, content_width(landscape),
                form_.theme.type(Step::tiny));
  return out;
}

Furniture::Body Furniture::body(bool landscape) const {
  const PageSetup& p = form_.page;
  // The widest page words there can be: the height does not depend on the count of pages.
  const Row head = header(landscape, page_words(9999, 9999));
  Pt top = p.top + head.height + kRulePad + kUnderHeader;
  if (!banner_.empty()) top += kBanner + kBannerGap;
  const Row foot = footer(landscape);
  const Pt bottom = page_height(landscape) - p.bottom - foot.height - kOverFooter;
  return {p.left, top, content_width(landscape), bottom - top};
}

void Furniture::draw_behind(Page& page, bool landscape) const {
  if (const auto& word = draft_word_[landscape ? 1 : 0])
    page.frames.emplace_back(SymbolFrame{{}, {}, 1_pt, word, kArtifact});
}

void Furniture::draw_row(const Row& r, Pt x, Pt y, Pt width, std::vector<Frame>& out) const {
  painter_.draw(r.left, x, y, r.left_width, kArtifact, out);
  if (r.middle_width.milli > 0)
    painter_.draw(r.middle, x + r.left_width + (r.left_width.milli > 0 ? 12_pt : Pt{}), y,
                  r.middle_width, kArtifact, out);
  painter_.draw(r.right, x + width - r.right_width, y, r.right_width, kArtifact, out);
}

void Furniture::draw(Page& page, bool landscape, std::size_t number, std::size_t count) const {
  const PageSetup& p = form_.page;
  const Pt width = content_width(landscape);
  Pt y = p.top;
  if (!banner_.empty()) {
    const Color ground = draft_ ? form_.theme.fail : form_.theme.ink;
    RectFrame band{p.left, y, width, kBanner, ground, std::nullopt, {}, 2_pt, kArtifact};
    page.frames.push_back(band);
    Piece words;
    words.rich = {{banner_, Face::bold, form_.theme.paper}};
    words.type = {10_pt, kBanner};
    words.align = Align::center;
    painter_.draw({words}, p.left, y, width, kArtifact, page.frames);
    y += kBanner + kBannerGap;
  }
  const Row widest = header(landscape, page_words(9999, 9999));
  Row head = widest;
  head.right = header(landscape, page_words(number, count)).right;
  draw_row(head, p.left, y, width, page.frames);
  y += head.height + kRulePad;
  page.frames.push_back(
      LineFrame{p.left, y, p.left + width, y, 500_pt / 1000, form_.theme.line, kArtifact});
  const Row foot = footer(landscape);
  draw_row(foot, p.left, page_height(landscape) - p.bottom - foot.height, width, page.frames);
}

}  // namespace ohmleaf::layout
