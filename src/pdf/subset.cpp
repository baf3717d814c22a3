#include "pdf/subset.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "base/digest.h"
#include "pdf/big_endian.h"

namespace ohmleaf::pdf {
namespace {

constexpr std::size_t kCheckSumAdjustment = 8;  // in 'head'
constexpr std::uint32_t kCheckSumMagic = 0xB1B0AFBA;
constexpr std::size_t kLocaFormat = 50;        // in 'head'
constexpr std::size_t kMetricsCount = 34;      // in 'hhea'
constexpr std::size_t kGlyphCount = 4;         // in 'maxp'
constexpr std::size_t kEntriesPerBlock = 100;  // of a CMap operator

void pad(std::string& bytes) {
  bytes.append((4 - bytes.size() % 4) % 4, '\0');
}

std::uint32_t check_sum(std::string_view padded) {
  BigEndian in(padded);
  std::uint32_t sum = 0;
  for (std::size_t at = 0; at + 4 <= padded.size(); at += 4) sum += in.u32(at);
  return sum;
}

/// Puts tables together, in the order of their tags, and sets the sum over the whole file.
std::string assemble(std::vector<std::pair<std::string, std::string>> tables) {
  std::sort(tables.begin(), tables.end());
  const auto count = static_cast<unsigned>(tables.size());
  unsigned power = 1;
  unsigned log = 0;
  while (power * 2 <= count) {
    power *= 2;
    ++log;
  }
  std::string file;
  append_u32(file, 0x00010000);
  append_u16(file, count);
  append_u16(file, power * 16);
  append_u16(file, log);
  append_u16(file, (count - power) * 16);
  std::size_t offset = 12 + 16 * tables.size();
  std::size_t head = 0;
  std::string body;
  for (auto& [tag, bytes] : tables) {
    const std::size_t length = bytes.size();
    pad(bytes);
    if (tag == "head") head = offset + body.size();
    file += tag;
    append_u32(file, check_sum(bytes));
    append_u32(file, static_cast<std::uint32_t>(offset + body.size()));
    append_u32(file, static_cast<std::uint32_t>(length));
    body += bytes;
  }
  file += body;
  put_u32(file, head + kCheckSumAdjustment, kCheckSumMagic - check_sum(file));
  return file;
}

struct CodeRange {
  unsigned first, last;
  char32_t character;
};

void append_ranges(std::string& out, const std::vector<CodeRange>& ranges) {
  for (std::size_t begin = 0; begin < ranges.size(); begin += kEntriesPerBlock) {
    const std::size_t end = std::min(ranges.size(), begin + kEntriesPerBlock);
    out += fmt::format("{} beginbfrange\n", end - begin);
    for (std::size_t i = begin; i < end; ++i) {
      out += fmt::format("<{:04X}> <{:04X}> <{:04X}>\n", ranges[i].first, ranges[i].last,
                         static_cast<unsigned>(ranges[i].character));
    }
    out += "endbfrange\n";
  }
}

}  // namespace

bool Subset::use_new(char32_t code_point) {
  const GlyphId glyph = font_->glyph(code_point);
  if (glyph == 0) return false;
  if (code_point < low_used_.size()) low_used_[code_point] = true;
  if (glyph < used_.size() && used_[glyph]) return true;
  if (used_.empty()) used_.resize(static_cast<std::size_t>(font_->glyph_count()));
  used_[glyph] = true;
  glyphs_.insert(std::lower_bound(glyphs_.begin(), glyphs_.end(), glyph), glyph);
  numbered_ = false;
  return true;
}

void Subset::number_all() const {
  numbers_.assign(used_.size(), 0);
  for (std::size_t i = 0; i < glyphs_.size(); ++i)
    numbers_[glyphs_[i]] = static_cast<GlyphId>(i + 1);
  for (std::size_t c = 0; c < low_numbers_.size(); ++c)
    low_numbers_[c] = number_of(static_cast<char32_t>(c));
  numbered_ = true;
}

GlyphId Subset::number_of(char32_t code_point) const {
  const GlyphId glyph = font_->glyph(code_point);
  return glyph == 0 || glyph >= numbers_.size() ? GlyphId{0} : numbers_[glyph];
}

std::string Subset::name() const {
  std::string used;
  for (const GlyphId glyph : glyphs_) append_u16(used, glyph);
  const std::string digest = sha256_hex(used);
  std::string prefix;
  for (std::size_t i = 0; i < 6; ++i) {
    const auto value = std::stoi(digest.substr(4 * i, 4), nullptr, 16);
    prefix.push_back(static_cast<char>('A' + value % 26));
  }
  return prefix + "+" + std::string(font_name(face_));
}

std::vector<int> Subset::widths() const {
  std::vector<int> widths;
  for (const GlyphId glyph : glyphs_) widths.push_back(font_->advance(glyph));
  return widths;
}

std::string Subset::glyph_tables(std::string& loca, std::string& hmtx) const {
  std::string glyf;
  const auto add = [&](GlyphId glyph) {
    append_u16(loca, static_cast<unsigned>(glyf.size() / 2));
    append_u16(hmtx, static_cast<unsigned>(font_->advance(glyph)));
    append_u16(hmtx, static_cast<unsigned>(font_->left_bearing(glyph)) & 0xFFFF);
    glyf += font_->outline(glyph);
    pad(glyf);
  };
  add(0);
  for (const GlyphId glyph : glyphs_) add(glyph);
  append_u16(loca, static_cast<unsigned>(glyf.size() / 2));
  return glyf;
}

std::string Subset::file() const {
  std::string loca;
  std::string hmtx;
  std::string glyf = glyph_tables(loca, hmtx);
  const auto count = static_cast<unsigned>(glyphs_.size() + 1);
  std::string head(font_->table("head"));
  put_u32(head, kCheckSumAdjustment, 0);
  put_u16(head, kLocaFormat, 0);
  std::string hhea(font_->table("hhea"));
  put_u16(hhea, kMetricsCount, count);
  std::string maxp(font_->table("maxp"));
  put_u16(maxp, kGlyphCount, count);
  return assemble({{"glyf", std::move(glyf)},
                   {"head", std::move(head)},
                   {"hhea", std::move(hhea)},
                   {"hmtx", std::move(hmtx)},
                   {"loca", std::move(loca)},
                   {"maxp", std::move(maxp)}});
}

std::string Subset::to_unicode() const {
  std::vector<CodeRange> ranges;
  for (std::size_t i = 0; i < glyphs_.size(); ++i) {
    const auto code = static_cast<unsigned>(i + 1);
    const char32_t character = font_->character(glyphs_[i]);
    // Only the last byte of a code and of its text may count up inside one range.
    const bool continues = !ranges.empty() && code % 256 != 0 && character % 256 != 0 &&
                           ranges.back().character + (code - ranges.back().first) == character;
    if (continues) {
      ranges.back().last = code;
    } else {
      ranges.push_back({code, code, character});
    }
  }
  std::string out =
      "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n"
      "/CIDSystemInfo <</Registry (Adobe) /Ordering (UCS) /Supplement 0>> def\n"
      "/CMapName /Adobe-Identity-UCS def\n/CMapType 2 def\n"
      "1 begincodespacerange\n<0000> <FFFF>\nendcodespacerange\n";
  append_ranges(out, ranges);
  out += "endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend\n";
  return out;
}

}  // namespace ohmleaf::pdf
