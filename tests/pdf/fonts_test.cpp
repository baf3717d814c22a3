#include <doctest/doctest.h>

#include <algorithm>
#include <fstream>
#include <iterator>
#include <set>

#include "base/text.h"
#include "fonts/fonts.h"
#include "pdf/big_endian.h"
#include "pdf/font_file.h"
#include "pdf/pdf.h"
#include "pdf/subset.h"
#include "places.h"

using namespace ohmleaf;
using namespace ohmleaf::layout;
using namespace ohmleaf::pdf;

namespace {

constexpr Face kFaces[] = {Face::regular, Face::bold, Face::italic};

std::string_view bytes_of(Face face) {
  if (face == Face::bold) return fonts::bold();
  return face == Face::italic ? fonts::italic() : fonts::regular();
}

std::string data_file(const std::string& name) {
  std::ifstream in(std::string(test_data()) + "/pdf/" + name, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// Place of a table in a font file, found without the code under test.
std::size_t table_offset(const std::string& file, const std::string& tag) {
  const std::size_t entry = file.find(tag, 12);
  REQUIRE(entry != std::string::npos);
  return BigEndian(file).u32(entry + 8);
}

}  // namespace

TEST_CASE("every embedded face can be read") {
  for (const Face face : kFaces) {
    CAPTURE(static_cast<int>(face));
    const auto font = FontFile::parse(bytes_of(face));
    REQUIRE(font.has_value());
    CHECK(font->glyph_count() > 500);
    CHECK(font->shape().cap_height > 600);
    CHECK(font->shape().ascent > font->shape().cap_height);
    CHECK(font->shape().descent > 0);
  }
  CHECK(font_file(Face::italic).shape().italic_angle < 0);
  CHECK(font_file(Face::regular).shape().italic_angle == 0);
}

TEST_CASE("no glyph is composite, since subsets and viewers lose their parts") {
  for (const Face face : kFaces) {
    const FontFile& font = font_file(face);
    for (int glyph = 0; glyph < font.glyph_count(); ++glyph) {
      const std::string_view outline = font.outline(static_cast<GlyphId>(glyph));
      CAPTURE(glyph);
      if (!outline.empty()) CHECK(BigEndian(outline).i16(0) > 0);
    }
  }
}

TEST_CASE("a face with a composite glyph is refused") {
  std::string bytes(fonts::regular());
  REQUIRE(FontFile::parse(bytes).has_value());
  const FontFile& font = font_file(Face::regular);
  const auto outline = font.outline(font.glyph(U'A'));
  const std::size_t at = bytes.find(outline);
  REQUIRE(at != std::string::npos);
  put_u16(bytes, at, 0xFFFF);
  CHECK_FALSE(FontFile::parse(bytes).has_value());
}

TEST_CASE("digits are as wide as one another in every face") {
  for (const Face face : kFaces) {
    std::set<int> widths;
    for (char32_t digit = U'0'; digit <= U'9'; ++digit) {
      widths.insert(font_file(face).advance(font_file(face).glyph(digit)));
    }
    CHECK(widths.size() == 1);
    CHECK(*widths.begin() > 400);
  }
}

TEST_CASE("the faces have every character that a certificate needs") {
  const std::u32string signs = decode_utf8(
      "ΩµΔ²³°±×÷≤≥≈≠√∞→←↑↓–—‘’“”•…′″✓✗½¼¾₀₁₂₃₄₅₆₇₈₉\u2011\u00A0€™"
      "ŴŵŶŷẀẁẂẃẄẅỲỳ"                // Welsh
      "ḂḃĊċḊḋḞḟĠġṀṁṖṗṠṡṪṫ"          // Irish
      "ĄąĆćĘęŁłŃńÓóŚśŹźŻż"          // Polish
      "ȘșȚțŐőŰűŘřĚěĞğŞşİıĀāĒēĪīŪū"  // Romanian, Hungarian, Czech, Turkish, Latvian
      "ΑΒΓΔΕΖΗΘΙΚΛΜΝΞΟΠΡΣΤΥΦΧΨΩαβγδεζηθικλμνξοπρςστυφχψω");
  for (const Face face : kFaces) {
    for (char32_t c = 0x20; c < 0x180; ++c) {
      // Never printed: controls, the soft hyphen; U+0149 is deprecated in Unicode.
      const bool printed = c < 0x7F || (c >= 0xA0 && c != 0xAD && c != 0x149);
      CAPTURE(static_cast<unsigned>(c));
      CHECK(font_metrics().has_glyph(face, c) == printed);
    }
    for (const char32_t c : signs) {
      CAPTURE(static_cast<unsigned>(c));
      CHECK(font_metrics().has_glyph(face, c));
    }
    CHECK_FALSE(font_metrics().has_glyph(face, U'漢'));
    CHECK_FALSE(font_metrics().has_glyph(face, 0x1F600));
    CHECK_FALSE(font_metrics().has_glyph(face, 0xFFFF));
  }
}

TEST_CASE("each character has a glyph of its own, so that text comes out as it went in") {
  for (const Face face : kFaces) {
    const FontFile& font = font_file(face);
    for (char32_t c = 0x20; c < 0x10000; ++c) {
      const GlyphId glyph = font.glyph(c);
      CAPTURE(static_cast<unsigned>(c));
      // The ohm sign is the Greek letter after normalisation (Unicode, NFC of U+2126).
      if (glyph != 0) CHECK(font.character(glyph) == (c == 0x2126 ? 0x03A9 : c));
    }
  }
}

TEST_CASE("an outline is where the font says: the letter I is a bar as high as the capitals") {
  const FontFile& font = font_file(Face::regular);
  BigEndian outline(font.outline(font.glyph(U'I')));
  CHECK(outline.i16(0) == 1);
  CHECK(outline.i16(8) == font.shape().cap_height);
  CHECK(font.outline(font.glyph(U' ')).empty());
}

TEST_CASE("width is the sum of the advances, scaled and rounded once") {
  const FontMetrics& metrics = font_metrics();
  const FontFile& font = font_file(Face::bold);
  const int sum = font.advance(font.glyph(U'O')) + font.advance(font.glyph(U'h')) +
                  font.advance(font.glyph(U'Ω'));
  CHECK(metrics.width(Face::bold, 10_pt, "OhΩ").milli == 10 * sum);
  CHECK(metrics.width(Face::bold, Pt{7'350}, "OhΩ").milli == (7'350 * sum + 500) / 1000);
  CHECK(metrics.width(Face::bold, 10_pt, "").milli == 0);
  CHECK(metrics.width(Face::regular, 8_pt, "0.43") == metrics.width(Face::regular, 8_pt, "9.11"));
  CHECK(metrics.ascent(Face::regular, 10_pt).milli == 10 * font_file(Face::regular).shape().ascent);
}

TEST_CASE("bytes that are no font of ours are refused, however they are cut") {
  CHECK_FALSE(FontFile::parse("").has_value());
  const std::string hostile = data_file("zero.ttf");
  CHECK_FALSE(FontFile::parse(hostile).has_value());
  const std::string_view whole = fonts::regular();
  for (std::size_t length = 0; length < whole.size() - 4; length += 997) {
    CAPTURE(length);
    const std::string cut(whole.substr(0, length));
    CHECK_FALSE(FontFile::parse(cut).has_value());
  }
}

TEST_CASE("damaged tables never read outside the file") {
  // Run under the address sanitizer this walks the reader into every field of the headers.
  const std::string whole(fonts::regular());
  int refused = 0;
  for (const std::string tag : {"head", "hhea", "maxp", "cmap", "loca", "hmtx", "OS/2", "post"}) {
    const std::size_t begin = table_offset(whole, tag);
    for (std::size_t at = begin; at < begin + 90 && at + 1 < whole.size(); at += 2) {
      std::string damaged = whole;
      put_u16(damaged, at, 0xFFFF);
      const auto font = FontFile::parse(damaged);
      if (!font) {
        ++refused;
        continue;
      }
      for (char32_t c = 0; c < 0x3000; c += 7) (void)font->outline(font->glyph(c)).size();
    }
  }
  CHECK(refused > 20);
}

TEST_CASE("a subset is a font with just the glyphs used, in the order of their characters") {
  Subset subset(Face::regular);
  CHECK(subset.empty());
  for (const char32_t c : U"bΩa b≤") subset.use(c);
  subset.use(U'漢');
  CHECK(subset.number(U' ') == 1);
  CHECK(subset.number(U'a') == 2);
  CHECK(subset.number(U'b') == 3);
  CHECK(subset.number(U'Ω') == 4);
  CHECK(subset.number(U'≤') == 5);
  CHECK(subset.number(U'c') == 0);
  CHECK(subset.number(U'漢') == 0);

  const std::string file = subset.file();
  BigEndian in(file);
  CHECK(in.u16(4) == 6);
  CHECK(in.u16(table_offset(file, "maxp") + 4) == 6);
  CHECK(in.u16(table_offset(file, "hhea") + 34) == 6);
  const FontFile& font = font_file(Face::regular);
  const std::size_t loca = table_offset(file, "loca");
  const std::size_t glyf = table_offset(file, "glyf");
  const std::string_view omega = font.outline(font.glyph(U'Ω'));
  CHECK(file.substr(glyf + 2U * in.u16(loca + 8), omega.size()) == omega);
  CHECK(in.u16(table_offset(file, "hmtx") + 16) == font.advance(font.glyph(U'Ω')));
  CHECK(subset.widths()[3] == font.advance(font.glyph(U'Ω')));
  std::uint32_t sum = 0;
  for (std::size_t at = 0; at < file.size(); at += 4) sum += in.u32(at);
  CHECK(sum == 0xB1B0AFBA);  // Apple TrueType Reference Manual, "The 'head' table"
  CHECK(file.size() < 3000);
}

TEST_CASE("the map to Unicode says each character, in ranges that never cross a byte") {
  Subset subset(Face::bold);
  for (char32_t c = 0x20; c < 0x180; ++c) subset.use(c);
  const std::string map = subset.to_unicode();
  CHECK(map.find("begincidrange") == std::string::npos);
  CHECK(map.find("<0001> <005F> <0020>") != std::string::npos);
  // 95 of ASCII, then 0xA0 … 0xAC, 0xAE … 0xFF, 0x100 … 0x148: codes 0x60, 0x6D, 0xBF, 0x100.
  CHECK(map.find("<0060> <006C> <00A0>") != std::string::npos);
  CHECK(map.find("<006D> <00BE> <00AE>") != std::string::npos);
  CHECK(map.find("<00BF> <00FF> <0100>") != std::string::npos);
  CHECK(map.find("<0100> <0107> <0141>") != std::string::npos);
}

TEST_CASE("the name of a subset follows from what is used") {
  Subset one(Face::bold);
  Subset same(Face::bold);
  Subset other(Face::bold);
  one.use(U'a');
  one.use(U'b');
  same.use(U'b');
  same.use(U'a');
  other.use(U'a');
  CHECK(one.name() == same.name());
  CHECK(one.name() != other.name());
  CHECK(one.name().size() == 6 + std::string("+OhmleafSans-Bold").size());
}
