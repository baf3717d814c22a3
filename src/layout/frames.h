#pragma once
#include <compare>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace ohmleaf::layout {

/// A length on paper in thousandths of a point (1/72 inch). Fixed point, so that the same input
/// gives the same page on every machine. Origin: top left of the page, y grows downwards.
struct Pt {
  std::int32_t milli = 0;

  friend constexpr auto operator<=>(const Pt&, const Pt&) = default;
  friend constexpr Pt operator+(Pt a, Pt b) { return {a.milli + b.milli}; }
  friend constexpr Pt operator-(Pt a, Pt b) { return {a.milli - b.milli}; }
  friend constexpr Pt operator-(Pt a) { return {-a.milli}; }
  friend constexpr Pt operator*(Pt a, int n) { return {a.milli * n}; }
  friend constexpr Pt operator/(Pt a, int n) { return {a.milli / n}; }
  constexpr Pt& operator+=(Pt b) {
    milli += b.milli;
    return *this;
  }
  constexpr Pt& operator-=(Pt b) {
    milli -= b.milli;
    return *this;
  }
};

constexpr Pt operator""_pt(unsigned long long n) {
  return {static_cast<std::int32_t>(n) * 1000};
}
constexpr Pt operator""_pt(long double n) {
  return {static_cast<std::int32_t>(n * 1000.0L + 0.5L)};
}

struct Color {
  std::uint8_t r = 0, g = 0, b = 0;
  friend constexpr bool operator==(const Color&, const Color&) = default;
};

/// The faces of the one family that a document is set in.
enum class Face : std::uint8_t { regular, bold, italic };
inline constexpr int kFaceCount = 3;

/// Index into `Document::nodes`; kArtifact for what is decoration (rules, grounds, page furniture).
using NodeId = std::int32_t;
inline constexpr NodeId kArtifact = -1;

/// One run of text on one baseline: no line breaks, no tabs, NFC, every glyph known to exist.
/// `rotated` text reads upwards (90 degrees anticlockwise), starting at (x, baseline).
struct TextFrame {
  Pt x, baseline;
  Pt size;
  Face face = Face::regular;
  Color color;
  std::string text;
  NodeId node = kArtifact;
  bool rotated = false;
};

struct RectFrame {
  Pt x, y, width, height;
  std::optional<Color> fill;
  std::optional<Color> stroke;
  Pt stroke_width;
  Pt radius;  ///< of the corners
  NodeId node = kArtifact;
};

struct LineFrame {
  Pt x1, y1, x2, y2;
  Pt width;
  Color color;
  NodeId node = kArtifact;
};

struct Point {
  Pt x, y;
};

/// Closed polygon: the marks that say pass, fail, doubt by shape.
struct PolygonFrame {
  std::vector<Point> points;
  std::optional<Color> fill;
  std::optional<Color> stroke;
  Pt stroke_width;
  NodeId node = kArtifact;
};

/// What is drawn many times, kept once: its shapes, as they are at a size of 1 pt. Their nodes count
/// for nothing.
struct Symbol {
  std::vector<PolygonFrame> shapes;
};

/// A symbol `size` times as large, with what is at its (0, 0) at (x, y).
struct SymbolFrame {
  Pt x, y, size;
  std::shared_ptr<const Symbol> symbol;  ///< never null
  NodeId node = kArtifact;
};

struct ImageFrame {
  Pt x, y, width, height;
  std::size_t image = 0;  ///< index into Document::images
  NodeId node = kArtifact;
};

using Frame =
    std::variant<TextFrame, RectFrame, LineFrame, PolygonFrame, SymbolFrame, ImageFrame>;

struct Page {
  Pt width, height;
  std::vector<Frame> frames;  ///< in drawing order
};

/// Standard structure types of ISO 32000-1, 14.8.4 that we use.
enum class Role : std::uint8_t {
  document,
  section,
  h1,
  h2,
  h3,
  paragraph,
  list,
  list_item,
  list_label,
  list_body,
  table,
  table_head,
  table_body,
  row,
  header_cell,
  cell,
  figure,
  note,
  caption,
  span,
  form  ///< a form field: holds nothing but the widget, which `pdf` adds
};
enum class Scope : std::uint8_t { none, row, column, both };

/// A node of the logical structure. Node 0 is the document; a parent always stands before its
/// children; siblings are in reading order, which is the order of the vector.
struct Node {
  Role role = Role::paragraph;
  NodeId parent = 0;
  std::string alt;  ///< figures: what the picture says, in words
  Scope scope = Scope::none;
  int column_span = 1;
  int row_span = 1;
};

/// One bookmark. `level` 0 is the outermost; a level never jumps by more than one.
struct Bookmark {
  std::string title;
  std::size_t page = 0;
  Pt y;
  int level = 0;
};

/// Decoded pixels, 8 bits a channel: RGB or grey, with an optional alpha plane.
struct Image {
  int width = 0, height = 0;
  bool grey = false;
  std::string pixels;
  std::string alpha;  ///< empty: opaque
};

/// The line that tells of the electronic signature, and the element for the field behind it.
struct SealLine {
  NodeId line = 0, form = 0;
  std::string words;  ///< as printed
};

/// What a layout run gives and an exporter draws. Nothing here knows PDF.
struct Document {
  std::string language = "en-GB";
  std::string title;
  std::vector<Page> pages;
  std::vector<Node> nodes;
  std::vector<Bookmark> bookmarks;
  std::vector<Image> images;
  std::optional<SealLine> seal;  ///< only where the certificate is to be signed electronically
};

/// How wide text is. Implemented by `pdf/` from the embedded fonts, by a fixed-width double in
/// the tests of layout.
class FontMetrics {
 public:
  virtual ~FontMetrics() = default;
  virtual Pt width(Face face, Pt size, std::string_view text) const = 0;
  virtual bool has_glyph(Face face, char32_t code_point) const = 0;
  /// Heights above and depth below the baseline, both positive.
  virtual Pt ascent(Face face, Pt size) const = 0;
  virtual Pt descent(Face face, Pt size) const = 0;
  virtual Pt cap_height(Face face, Pt size) const = 0;
};

}  // namespace ohmleaf::layout
