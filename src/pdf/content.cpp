#include "pdf/content.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>
#include <cstdlib>
#include <cstring>
#include <optional>

#include "base/text.h"
#include "pdf/haru.h"
#include "pdf/paths.h"
#include "pdf/pdf.h"
#include "pdf/structure.h"
#include "pdf/text_string.h"

namespace ohmleaf::pdf {
namespace {

using layout::Color;
using layout::Pt;

/// Distance of a Bézier curve's control points that comes nearest to a quarter circle.
constexpr std::int64_t kArcMilli = 552;

class ContentWriter : private PathWriter {
 public:
  ContentWriter(const layout::Page& page, const layout::Document& document, const Subsets& subsets,
                const Continued& continued, Symbols& symbols)
      : PathWriter(page.height),
        page_(page),
        document_(document),
        subsets_(subsets),
        continued_(continued),
        symbols_(symbols) {}

  PageContent write() {
    constexpr std::size_t kUsual = 144, kMost = std::size_t{1} << 20;  // bytes of operators
    out_.reserve(std::min(page_.frames.size() * kUsual, kMost));
    for (const layout::Frame& frame : page_.frames) {
      std::visit([this](const auto& f) { draw(f); }, frame);
    }
    close_sequence();
    content_.operators = std::move(out_);
    return std::move(content_);
  }

 private:
  void draw(const layout::TextFrame& frame) {
    if (frame.text.empty()) return;
    open_sequence(frame.node);
    fill_color(frame.color);
    const auto face = static_cast<std::size_t>(frame.face);
    out_ += "BT ";
    if (face_ != face || size_ != frame.size) {
      out_ += "/F";
      out_ += fmt::format_int(face).c_str();
      out_ += ' ';
      number(frame.size.milli);
      out_ += "Tf ";
      face_ = face;
      size_ = frame.size;
    }
    if (frame.rotated) out_ += "0 1 -1 0 ";
    place(frame.x, frame.baseline);
    out_ += frame.rotated ? "Tm (" : "Td (";
    const Subset& subset = subsets_[face];
    glyphs(frame.text, subset, continued_.contains(&frame));
    out_ += ")Tj ET\n";
  }

  void draw(const layout::RectFrame& frame) {
    if (!frame.fill && !frame.stroke) return;
    open_sequence(frame.node);
    begin_path(frame.fill, frame.stroke, frame.stroke_width);
    const Pt radius = std::min({frame.radius, frame.width / 2, frame.height / 2});
    if (radius.milli > 0) {
      rounded(frame, radius);
    } else {
      place(frame.x, frame.y + frame.height);
      number(frame.width.milli);
      number(frame.height.milli);
      out_ += "re ";
    }
    paint(frame.fill, frame.stroke);
  }

  void draw(const layout::LineFrame& frame) {
    open_sequence(frame.node);
    begin_path({}, frame.color, frame.width);
    place(frame.x1, frame.y1);
    out_ += "m ";
    place(frame.x2, frame.y2);
    out_ += "l S\n";
  }

  void draw(const layout::PolygonFrame& frame) {
    if (frame.points.size() < 2 || (!frame.fill && !frame.stroke)) return;
    open_sequence(frame.node);
    polygon(frame);
  }

  void draw(const layout::SymbolFrame& frame) {
    open_sequence(frame.node);
    drawn('S', symbols_.number(frame.symbol), frame.x, frame.y, frame.size, frame.size);
  }

  void draw(const layout::ImageFrame& frame) {
    open_sequence(frame.node);
    drawn('I', frame.image, frame.x, frame.y, frame.width, frame.height);
  }

  /// What has a name among the resources, from its top left corner.
  void drawn(char kind, std::size_t index, Pt x, Pt y, Pt width, Pt height) {
    out_ += "q ";
    number(width.milli);
    out_ += "0 0 ";
    number(height.milli);
    place(x, y + height);
    out_ += fmt::format("cm /{}{} Do Q\n", kind, index);
  }

  /// Clockwise on paper from the left end of the top edge.
  void rounded(const layout::RectFrame& f, Pt radius) {
    const Pt reach{static_cast<std::int32_t>(radius.milli * kArcMilli / 1000)};
    const Pt hold = radius - reach;  // from the corner to the control point
    const Pt right = f.x + f.width;
    const Pt bottom = f.y + f.height;
    place(f.x + radius, f.y);
    out_ += "m ";
    place(right - radius, f.y);
    out_ += "l ";
    curve({right - hold, f.y}, {right, f.y + hold}, {right, f.y + radius});
    place(right, bottom - radius);
    out_ += "l ";
    curve({right, bottom - hold}, {right - hold, bottom}, {right - radius, bottom});
    place(f.x + radius, bottom);
    out_ += "l ";
    curve({f.x + hold, bottom}, {f.x, bottom - hold}, {f.x, bottom - radius});
    place(f.x, f.y + radius);
    out_ += "l ";
    curve({f.x, f.y + hold}, {f.x + hold, f.y}, {f.x + radius, f.y});
    out_ += "h ";
  }

  void curve(layout::Point a, layout::Point b, layout::Point end) {
    place(a.x, a.y);
    place(b.x, b.y);
    place(end.x, end.y);
    out_ += "c ";
  }

  /// As bytes of a literal string: hex digits would be twice as much to compress.
  void glyphs(std::string_view text, const Subset& subset, bool and_space) {
    constexpr std::size_t kMost = 4;  // bytes of one code, both of them escaped
    const std::size_t begin = out_.size();
    out_.resize(begin + (text.size() + 1) * kMost);
    char* at = out_.data() + begin;
    if (is_plain_ascii(text)) {
      for (const char c : text) at = glyph(at, subset.number(static_cast<unsigned char>(c)));
    } else {
      for (const char32_t c : code_points(text)) at = glyph(at, subset.number(c));
    }
    if (and_space) at = glyph(at, subset.number(U' '));
    out_.resize(static_cast<std::size_t>(at - out_.data()));
  }
  static char* glyph(char* at, GlyphId code) {
    return byte(byte(at, static_cast<char>(code >> 8)), static_cast<char>(code & 0xFF));
  }
  static char* byte(char* at, char c) {
    if (c == '\n' || c == '\r') {  // a reader takes them for ends of lines
      *at++ = '\\';
      *at++ = c == '\n' ? 'n' : 'r';
      return at;
    }
    if (c == '(' || c == ')' || c == '\\') *at++ = '\\';
    *at++ = c;
    return at;
  }

  void open_sequence(layout::NodeId node) {
    if (open_ == node) return;
    close_sequence();
    open_ = node;
    if (node == layout::kArtifact) {
      out_ += "/Artifact BMC\n";
      return;
    }
    const auto role = document_.nodes[static_cast<std::size_t>(node)].role;
    out_ += '/';
    out_ += role_name(role);
    out_ += " <</MCID ";
    out_ += fmt::format_int(content_.sequences.size()).c_str();
    out_ += ">>BDC\n";
    content_.sequences.push_back(node);
  }

  void close_sequence() {
    if (open_) out_ += "EMC\n";
    open_.reset();
  }

  const layout::Page& page_;
  const layout::Document& document_;
  const Subsets& subsets_;
  const Continued& continued_;
  Symbols& symbols_;
  PageContent content_;
  std::optional<layout::NodeId> open_;
  std::optional<std::size_t> face_;
  std::optional<Pt> size_;
};

/// Whether a reader needs a space between two frames of one node on the same page.
bool stand_apart(const layout::TextFrame& a, const layout::TextFrame& b) {
  if (a.rotated != b.rotated) return true;
  const int line =
      std::abs(a.rotated ? a.x.milli - b.x.milli : a.baseline.milli - b.baseline.milli);
  if (2 * line > a.size.milli) return true;
  const Pt length = font_metrics().width(a.face, a.size, a.text);
  const Pt gap = a.rotated ? a.baseline - length - b.baseline : b.x - a.x - length;
  return 8 * gap.milli > a.size.milli;
}

bool joins_by_itself(std::string_view before, std::string_view after) {
  return before.ends_with(' ') || before.ends_with('-') || before.ends_with("\u2010") ||
         before.ends_with("\u2011") || after.starts_with(' ');
}

/// The element that a text is a part of: spans do not end a line of thought.
std::size_t block_of(const layout::Document& document, layout::NodeId node) {
  auto at = static_cast<std::size_t>(node);
  while (document.nodes[at].role == layout::Role::span) {
    at = static_cast<std::size_t>(document.nodes[at].parent);
  }
  return at;
}

}  // namespace

Continued continued_lines(const layout::Document& document) {
  struct Last {
    const layout::TextFrame* frame = nullptr;
    const layout::Page* page = nullptr;
  };
  std::vector<Last> last(document.nodes.size());
  Continued continued;
  for (const layout::Page& page : document.pages) {
    for (const layout::Frame& frame : page.frames) {
      const auto* text = std::get_if<layout::TextFrame>(&frame);
      if (text == nullptr || text->node == layout::kArtifact || text->text.empty()) continue;
      Last& before = last[block_of(document, text->node)];
      const bool apart =
          before.frame != nullptr && (before.page != &page || stand_apart(*before.frame, *text));
      if (apart && !joins_by_itself(before.frame->text, text->text)) {
        continued.insert(before.frame);
      }
      before = {text, &page};
    }
  }
  return continued;
}

std::size_t Symbols::number(const std::shared_ptr<const layout::Symbol>& symbol) {
  const auto [known, is_new] = numbers_.try_emplace(symbol.get(), all_.size());
  if (is_new) all_.push_back(symbol);
  return known->second;
}

PageContent page_content(const layout::Page& page, const layout::Document& document,
                         const Subsets& subsets, const Continued& continued, Symbols& symbols) {
  return ContentWriter(page, document, subsets, continued, symbols).write();
}

}  // namespace ohmleaf::pdf
