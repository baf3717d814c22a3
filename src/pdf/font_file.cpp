#include "pdf/font_file.h"

#include <algorithm>
#include <array>

#include "fonts/fonts.h"
#include "pdf/big_endian.h"

namespace ohmleaf::pdf {
namespace {

constexpr std::uint32_t kTrueType = 0x00010000;
constexpr unsigned kUnitsPerEm = 1000;
constexpr std::size_t kLongestTableList = 64;
/// Reserved at the end of every format 4 table; not a character.
constexpr unsigned kLastCode = 0xFFFF;

}  // namespace

std::optional<FontFile> FontFile::parse(std::string_view bytes) {
  FontFile font;
  font.bytes_ = bytes;
  BigEndian in(bytes);
  if (in.u32(0) != kTrueType || in.u16(4) > kLongestTableList) return std::nullopt;
  if (!font.read_shape() || !font.read_advances() || !font.read_outlines() ||
      !font.read_characters()) {
    return std::nullopt;
  }
  return font;
}

std::string_view FontFile::table(std::string_view tag) const {
  BigEndian in(bytes_);
  const std::size_t count = std::min<std::size_t>(in.u16(4), kLongestTableList);
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t entry = 12 + 16 * i;
    const std::size_t offset = in.u32(entry + 8);
    const std::size_t length = in.u32(entry + 12);
    if (!in.complete()) return {};
    if (bytes_.substr(entry, 4) != tag) continue;
    if (offset > bytes_.size() || length > bytes_.size() - offset) return {};
    return bytes_.substr(offset, length);
  }
  return {};
}

bool FontFile::read_shape() {
  BigEndian head(table("head"));
  BigEndian hhea(table("hhea"));
  BigEndian os2(table("OS/2"));
  BigEndian post(table("post"));
  if (head.u16(18) != kUnitsPerEm) return false;
  shape_.x_min = head.i16(36);
  shape_.y_min = head.i16(38);
  shape_.x_max = head.i16(40);
  shape_.y_max = head.i16(42);
  shape_.ascent = hhea.i16(4);
  shape_.descent = -hhea.i16(6);
  shape_.weight = os2.u16(4);
  shape_.cap_height = os2.i16(88);
  shape_.italic_angle = post.i16(4);
  return head.complete() && hhea.complete() && os2.complete() && post.complete();
}

bool FontFile::read_advances() {
  BigEndian maxp(table("maxp"));
  BigEndian hhea(table("hhea"));
  BigEndian hmtx(table("hmtx"));
  const std::size_t glyphs = maxp.u16(4);
  const std::size_t full = hhea.u16(34);
  if (glyphs == 0 || full == 0 || full > glyphs) return false;
  for (std::size_t i = 0; i < glyphs; ++i) {
    // Past the full entries the last advance holds and only bearings follow.
    advances_.push_back(hmtx.u16(4 * std::min(i, full - 1)));
    bearings_.push_back(hmtx.i16(i < full ? 4 * i + 2 : 4 * full + 2 * (i - full)));
  }
  return maxp.complete() && hhea.complete() && hmtx.complete();
}

bool FontFile::read_outlines() {
  const std::string_view glyf = table("glyf");
  BigEndian head(table("head"));
  BigEndian loca(table("loca"));
  BigEndian in(glyf);
  const bool wide = head.i16(50) != 0;
  for (std::size_t i = 0; i <= advances_.size(); ++i) {
    offsets_.push_back(wide ? loca.u32(4 * i) : 2U * loca.u16(2 * i));
    if (offsets_.back() > glyf.size()) return false;
    if (i == 0) continue;
    const std::uint32_t begin = offsets_[i - 1];
    if (begin > offsets_[i]) return false;
    // A negative number of contours is a composite glyph, whose parts a subset would lose.
    if (begin != offsets_[i] && in.i16(begin) < 0) return false;
  }
  return head.complete() && loca.complete() && in.complete();
}

bool FontFile::read_characters() {
  const std::string_view cmap = table("cmap");
  BigEndian in(cmap);
  const std::size_t count = std::min<std::size_t>(in.u16(2), kLongestTableList);
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t offset = in.u32(8 + 8 * i);
    if (in.u16(4 + 8 * i) != 3 || in.u16(6 + 8 * i) != 1 || in.u16(offset) != 4) continue;
    return in.complete() && read_segments(cmap.substr(offset));
  }
  return false;
}

bool FontFile::read_segments(std::string_view format4) {
  BigEndian in(format4);
  const std::size_t doubled = in.u16(6) / 2U * 2U;
  characters_.assign(advances_.size(), 0);
  unsigned next_free = 0;  // segments are in order and apart, so the walk is bounded
  for (std::size_t at = 0; at < doubled; at += 2) {
    const unsigned last = in.u16(14 + at);
    const unsigned first = in.u16(16 + doubled + at);
    const unsigned delta = in.u16(16 + 2 * doubled + at);
    const std::size_t place = 16 + 3 * doubled + at;
    const unsigned range = in.u16(place);
    if (!in.complete() || first > last || first < next_free) return false;
    for (unsigned code = first; code <= last && code < kLastCode; ++code) {
      unsigned glyph = code;
      if (range != 0) glyph = in.u16(place + range + 2 * (code - first));
      if (range == 0 || glyph != 0) glyph = (glyph + delta) & 0xFFFF;
      if (!in.complete() || !add_character(code, glyph)) return false;
    }
    next_free = last + 1;
  }
  for (std::size_t c = 0; c < low_.size(); ++c)
    low_advances_[c] = static_cast<std::uint16_t>(advance(low_[c]));
  return !runs_.empty();
}

bool FontFile::add_character(char32_t code_point, unsigned glyph) {
  if (glyph == 0) return true;
  if (glyph >= advances_.size()) return false;
  if (characters_[glyph] == 0) characters_[glyph] = code_point;
  if (code_point < low_.size()) low_[code_point] = static_cast<GlyphId>(glyph);
  const bool continues = !runs_.empty() && runs_.back().last + 1 == code_point &&
                         runs_.back().glyph + (code_point - runs_.back().first) == glyph;
  if (continues) {
    runs_.back().last = code_point;
  } else {
    runs_.push_back({code_point, code_point, static_cast<GlyphId>(glyph)});
  }
  return true;
}

GlyphId FontFile::glyph(char32_t code_point) const {
  if (code_point < low_.size()) return low_[code_point];
  const auto after =
      std::upper_bound(runs_.begin(), runs_.end(), code_point,
                       [](char32_t code, const Run& run) { return code < run.first; });
  if (after == runs_.begin()) return 0;
  const Run& run = *(after - 1);
  if (code_point > run.last) return 0;
  return static_cast<GlyphId>(run.glyph + (code_point - run.first));
}

char32_t FontFile::character(GlyphId glyph) const {
  return glyph < characters_.size() ? characters_[glyph] : 0;
}

std::string_view FontFile::outline(GlyphId glyph) const {
  if (glyph >= advances_.size()) return {};
  return table("glyf").substr(offsets_[glyph], offsets_[glyph + 1U] - offsets_[glyph]);
}

const FontFile& font_file(layout::Face face) {
  static const std::array<FontFile, layout::kFaceCount> faces = {
      FontFile::parse(fonts::regular()).value_or(FontFile{}),
      FontFile::parse(fonts::bold()).value_or(FontFile{}),
      FontFile::parse(fonts::italic()).value_or(FontFile{})};
  return faces[static_cast<std::size_t>(face) % faces.size()];
}

std::string_view font_name(layout::Face face) {
  switch (face) {
    case layout::Face::bold:
      return "OhmleafSans-Bold";
    case layout::Face::italic:
      return "OhmleafSans-Italic";
    case layout::Face::regular:
      break;
  }
  return "OhmleafSans-Regular";
}

}  // namespace ohmleaf::pdf
