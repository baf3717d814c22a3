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
#include "pdf/pdf.h"
#include "pdf/structure.h"
#include "pdf/text_string.h"

namespace ohmleaf::pdf {
namespace {

using layout::Color;
using layout::Pt;

/// Distance of a Bézier curve's control points that comes nearest to a quarter circle.
constexpr std::int64_t kArcMilli = 552;

/// "000001002 … 999".
constexpr auto kDigits = [] {
  std::array<char, 3000> digits{};
  for (std::size_t i = 0; i < 1000; ++i) {
    digits[3 * i] = static_cast<char>('0' + i / 100);
    digits[3 * i + 1] = static_cast<char>('0' + i / 10 % 10);
    digits[3 * i + 2] = static_cast<char>('0' + i % 10);
  }
  return digits;
}();

class ContentWriter {
 public:
  ContentWriter(const layout::Page& page, const layout::Document& document, const Subsets& subsets,
                const Continued& continued)
      : page_(page), document_(document), subsets_(subsets), continued_(continued) {}

  PageContent write() {
    constexpr std::size_t kUsual = 144, kMost = std::size_t{1} << 20;  // bytes of operators
    out_.reserve(std::min(page_.frames.size() * kUsual, kMost));
    for (const layout::Frame& frame : page_.frames) {
      std::visit([this](const auto& f) { draw(f); }, frame);
    }
    close_sequence();
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
    begin_path(frame.fill, frame.stroke, frame.stroke_width);
    for (std::size_t i = 0; i < frame.points.size(); ++i) {
      place(frame.points[i].x, frame.points[i].y);
      out_ += i == 0 ? "m " : "l ";
    }
    out_ += "h ";
    paint(frame.fill, frame.stroke);
  }

  void draw(const layout::ImageFrame& frame) {
    open_sequence(frame.node);
    out_ += "q ";
    number(frame.width.milli);
    out_ += "0 0 ";
    number(frame.height.milli);
    place(frame.x, frame.y + frame.height);
    out_ += fmt::format("cm /I{} Do Q\n", frame.image);
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

  void begin_path(const std::optional<Color>& fill, const std::optional<Color>& stroke, Pt width) {
    if (fill) fill_color(*fill);
    if (!stroke) return;
    if (stroke_ != *stroke) {
      color(*stroke, "RG", "G");
      stroke_ = *stroke;
    }
    if (width_ != width) {
      number(width.milli);
      out_ += "w ";
      width_ = width;
    }
  }

  void paint(const std::optional<Color>& fill, const std::optional<Color>& stroke) {
    out_ += fill && stroke ? "B\n" : fill ? "f\n" : "S\n";
  }

  void fill_color(Color c) {
    if (fill_ == c) return;
    color(c, "rg", "g");
    fill_ = c;
  }

  void color(Color c, std::string_view rgb, std::string_view grey) {
    const auto part = [this](int value) { number((value * 1000 + 127) / 255); };
    part(c.r);
    if (c.r != c.g || c.g != c.b) {
      part(c.g);
      part(c.b);
      out_ += rgb;
    } else {
      out_ += grey;
    }
    out_ += ' ';
  }

  /// Layout counts from the top of the page, PDF from the bottom.
  void place(Pt x, Pt y) {
    number(x.milli);
    number(std::int64_t{page_.height.milli} - y.milli);
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

  void number(std::int64_t thousandths) {
    append_thousandths(out_, thousandths);
    out_ += ' ';
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
  PageContent content_;
  std::string& out_ = content_.operators;
  std::optional<layout::NodeId> open_;
  std::optional<std::size_t> face_;
  std::optional<Pt> size_;
  std::optional<Pt> width_;
  std::optional<Color> fill_;
  std::optional<Color> stroke_;
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

void append_thousandths(std::string& out, std::int64_t value) {
  std::array<char, 28> text;  // NOLINT(cppcoreguidelines-pro-type-member-init): written before it is read
  char* at = text.data();
  if (value < 0) *at++ = '-';
  const std::int64_t size = std::abs(value);
  std::uint32_t rest = 0;
  if (size < 1'000'000) {  // any length on a page
    const auto small = static_cast<std::uint32_t>(size), whole = small / 1000;
    rest = small - whole * 1000;
    const std::size_t skip = whole < 10 ? 2 : whole < 100 ? 1 : 0;
    std::memcpy(at, kDigits.data() + std::size_t{whole} * 3 + skip, 3);
    at += 3 - skip;
  } else {
    at = std::to_chars(at, text.data() + text.size() - 4, size / 1000).ptr;
    rest = static_cast<std::uint32_t>(size % 1000);
  }
  if (rest != 0) {
    *at = '.';
    std::memcpy(at + 1, kDigits.data() + std::size_t{rest} * 3, 3);
    at += at[3] != '0' ? 4 : at[2] != '0' ? 3 : 2;
  }
  out.append(text.data(), static_cast<std::size_t>(at - text.data()));
}

PageContent page_content(const layout::Page& page, const layout::Document& document,
                         const Subsets& subsets, const Continued& continued) {
  return ContentWriter(page, document, subsets, continued).write();
}

}  // namespace ohmleaf::pdf
