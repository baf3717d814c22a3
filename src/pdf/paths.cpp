#include "pdf/paths.h"

#include <array>
#include <charconv>
#include <cstdlib>
#include <cstring>

namespace ohmleaf::pdf {
namespace {

using layout::Color;
using layout::Pt;

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

}  // namespace

void PathWriter::polygon(const layout::PolygonFrame& frame) {
  begin_path(frame.fill, frame.stroke, frame.stroke_width);
  for (std::size_t i = 0; i < frame.points.size(); ++i) {
    place(frame.points[i].x, frame.points[i].y);
    out_ += i == 0 ? "m " : "l ";
  }
  out_ += "h ";
  paint(frame.fill, frame.stroke);
}

void PathWriter::begin_path(const std::optional<Color>& fill, const std::optional<Color>& stroke, Pt width) {
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

void PathWriter::paint(const std::optional<Color>& fill, const std::optional<Color>& stroke) {
  out_ += fill && stroke ? "B\n" : fill ? "f\n" : "S\n";
}

void PathWriter::fill_color(Color c) {
  if (fill_ == c) return;
  color(c, "rg", "g");
  fill_ = c;
}

void PathWriter::color(Color c, std::string_view rgb, std::string_view grey) {
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

void PathWriter::place(Pt x, Pt y) {
  number(x.milli);
  number(std::int64_t{height_.milli} - y.milli);
}

void PathWriter::number(std::int64_t thousandths) {
  append_thousandths(out_, thousandths);
  out_ += ' ';
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

std::string symbol_operators(const layout::Symbol& symbol) {
  PathWriter writer(layout::Pt{1000});
  for (const layout::PolygonFrame& shape : symbol.shapes) writer.polygon(shape);
  return writer.take();
}

}  // namespace ohmleaf::pdf
