#include "layout/paginate.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace ohmleaf::layout {
namespace {

constexpr Pt kAir = 5_pt;

/// Where a surround begins and ends on the page at hand.
struct Extent {
  int box;
  Pt top, bottom;
  bool begins = true, ends = true;  ///< on this page
};

class Paginator {
 public:
  Paginator(Flow& flow, const std::vector<Furniture>& furniture, Document& document,
            Diagnostics& out)
      : flow_(flow), furniture_(furniture), document_(document), out_(out) {}

  bool run() {
    for (std::size_t i = 0; i < flow_.strips.size(); ++i) {
      if (!place(i)) return false;
    }
    finish_page();
    for (std::size_t i = 0; i < document_.pages.size(); ++i)
      furniture_[static_cast<std::size_t>(forms_[i])].draw(document_.pages[i], landscapes_[i],
                                                           i + 1, document_.pages.size());
    return true;
  }

 private:
  Pt repeated_height(const Strip& s) const {
    Pt out;
    if (s.repeats < 0) return out;
    for (const Strip& h : flow_.headings[static_cast<std::size_t>(s.repeats)]) out += h.height;
    return out;
  }

  Pt room() const { return body_.top + body_.height - y_; }

  /// Height of the strips from `i` that stay together; stops once it is more than a page.
  Pt chain_height(std::size_t i) const {
    Pt out = flow_.strips[i].height;
    while (flow_.strips[i].keep_with_next && i + 1 < flow_.strips.size()) {
      ++i;
      if (flow_.strips[i].page_break) break;
      out += flow_.strips[i].space_before + flow_.strips[i].height;
      if (out > body_.height) break;
    }
    return out;
  }

  bool place(std::size_t i) {
    const Strip& s = flow_.strips[i];
    if (!open_ || s.page_break || s.landscape != landscape_ || s.form != form_) {
      // A break on a page where nothing stands yet would leave the page empty.
      if (open_) leave_open(s);
      if (!open_ || !top_ || s.landscape != landscape_ || s.form != form_)
        new_page(s.form, s.landscape);
    } else if (!top_ && !fits(i)) {
      leave_open(s);
      new_page(s.form, s.landscape);
    }
    if (top_ && s.between) return true;
    if (top_ && s.repeats >= 0 && !s.heading) repeat_heading(s);
    if (s.height > room()) return refuse(s);
    if (!top_) y_ += s.space_before;
    bookmark(s);
    put(std::move(flow_.strips[i].frames), s);
    return true;
  }

  /// A strip that begins a run of strips that stand together moves with them, unless a page has
  /// no room for them all; inside such a run only the strip itself counts.
  bool fits(std::size_t i) const {
    const Strip& s = flow_.strips[i];
    if (s.space_before + s.height > room()) return false;
    const bool begins = i == 0 || !flow_.strips[i - 1].keep_with_next;
    if (!begins) return true;
    const Pt chain = chain_height(i);
    return chain > body_.height || s.space_before + chain <= room();
  }

  void repeat_heading(const Strip& s) {
    for (Strip h : flow_.headings[static_cast<std::size_t>(s.repeats)]) {
      h.box = s.box;
      put(std::move(h.frames), h);
    }
  }

  bool refuse(const Strip& s) {
    const auto mm = [](Pt p) { return (p.milli * 254LL / 72 + 5'000) / 10'000; };
    const BlockName at =
        s.block >= 0 ? flow_.blocks[static_cast<std::size_t>(s.block)] : BlockName{"a block", {}};
    out_.error("form-too-tall", at.span,
               fmt::format("{} cannot fit: one row of it is {} mm high, a page has room for {} mm",
                           at.name, mm(s.height + repeated_height(s)), mm(body_.height)),
               {"Give its columns more width, or shorten the text that stands in it."});
    return false;
  }

  /// Takes the strip's frames: of a long document there is no room for a second set.
  void put(std::vector<Frame> frames, const Strip& s) {
    for (Frame& f : frames) {
      shift(f, body_.left, y_);
      content_.push_back(std::move(f));
    }
    for (int b = s.box; b >= 0; b = flow_.boxes[static_cast<std::size_t>(b)].parent) extend(b, s);
    y_ += s.height;
    if (s.height.milli > 0 || !frames.empty()) top_ = false;
  }

  void extend(int box, const Strip& s) {
    const auto it = std::find_if(extents_.begin(), extents_.end(),
                                 [&](const Extent& e) { return e.box == box; });
    if (it == extents_.end())
      extents_.push_back({box, y_, y_ + s.height, open_boxes_.count(box) == 0, true});
    else
      it->bottom = y_ + s.height;
  }

  /// The page ends inside the surrounds of `s`.
  void leave_open(const Strip& s) {
    for (int b = s.box; b >= 0; b = flow_.boxes[static_cast<std::size_t>(b)].parent) {
      for (Extent& e : extents_)
        if (e.box == b) e.ends = false;
      open_boxes_.insert(b);
    }
  }

  void bookmark(const Strip& s) {
    for (const StripBookmark& b : s.bookmarks) {
      const int above = document_.bookmarks.empty() ? -1 : document_.bookmarks.back().level;
      document_.bookmarks.push_back(
          {b.title, document_.pages.size(), y_, std::min(b.level, above + 1)});
    }
  }

  void new_page(int form, bool landscape) {
    finish_page();
    form_ = form;
    landscape_ = landscape;
    body_ = furniture_[static_cast<std::size_t>(form)].body(landscape);
    y_ = body_.top;
    open_ = top_ = true;
  }

  void finish_page() {
    if (!open_) return;
    const Furniture& f = furniture_[static_cast<std::size_t>(form_)];
    Page page;
    page.width = f.page_width(landscape_);
    page.height = f.page_height(landscape_);
    draw_boxes(page, true);
    f.draw_behind(page, landscape_);
    draw_boxes(page, false);
    constexpr std::size_t kFurniture = 24;  // drawn last, once the pages are counted
    page.frames.reserve(page.frames.size() + content_.size() + kFurniture);
    for (Frame& frame : content_) page.frames.push_back(std::move(frame));
    content_.clear();
    extents_.clear();
    document_.pages.push_back(std::move(page));
    forms_.push_back(form_);
    landscapes_.push_back(landscape_);
    open_ = false;
  }

  /// Grounds go under a draft's mark, frames and edges over it.
  void draw_boxes(Page& page, bool grounds) const {
    std::vector<Extent> outer_first = extents_;
    std::sort(outer_first.begin(), outer_first.end(),
              [](const Extent& a, const Extent& b) { return a.box < b.box; });
    for (const Extent& e : outer_first) {
      const FlowBox& b = flow_.boxes[static_cast<std::size_t>(e.box)];
      RectFrame r;
      r.x = body_.left + b.x;
      // Where a surround goes on over the page it keeps some air.
      r.y = e.begins ? e.top : e.top - kAir;
      r.width = b.width;
      r.height = (e.ends ? e.bottom : e.bottom + kAir) - r.y;
      r.radius = 3_pt;
      r.stroke_width = 500_pt / 1000;
      (grounds ? r.fill : r.stroke) = grounds ? b.fill : b.stroke;
      if (r.fill || r.stroke) page.frames.push_back(r);
      if (grounds || !b.edge) continue;
      RectFrame edge = r;
      edge.stroke = std::nullopt;
      edge.fill = b.edge;
      edge.width = 3_pt;
      edge.radius = 1500_pt / 1000;
      page.frames.push_back(edge);
    }
  }

  Flow& flow_;
  const std::vector<Furniture>& furniture_;
  Document& document_;
  Diagnostics& out_;
  Furniture::Body body_;
  Pt y_;
  int form_ = 0;
  bool landscape_ = false, open_ = false, top_ = true;
  std::vector<Frame> content_;
  std::vector<Extent> extents_;
  std::set<int> open_boxes_;  ///< surrounds that began on an earlier page
  std::vector<int> forms_;
  std::vector<bool> landscapes_;
};

}  // namespace

bool paginate(Flow flow, const std::vector<Furniture>& furniture, Document& document,
              Diagnostics& out) {
  return Paginator(flow, furniture, document, out).run();
}

}  // namespace ohmleaf::layout
