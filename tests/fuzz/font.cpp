// The font reader: bytes that are no font of ours are refused, and whatever is taken can be asked
// for anything.
#include "fuzz/target.h"
#include "pdf/font_file.h"

using namespace ohmleaf;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string bytes(fuzz::text_of(data, size));
  const auto font = pdf::FontFile::parse(bytes);
  if (!font) return 0;
  for (int i = 0; i < font->glyph_count() + 2; ++i) {
    const auto glyph = static_cast<pdf::GlyphId>(i);
    const std::string_view outline = font->outline(glyph);
    fuzz::promise(
        outline.empty() || (outline.data() >= bytes.data() &&
                            outline.data() + outline.size() <= bytes.data() + bytes.size()),
        "an outline lies in its file");
    const char32_t character = font->character(glyph);
    fuzz::promise(character == 0 || font->glyph(character) == glyph || font->glyph(character) != 0,
                  "a character has a glyph");
    font->advance(glyph);
    font->left_bearing(glyph);
  }
  for (char32_t c = 0; c < 0x500; ++c) font->glyph(c);
  for (const char* tag : {"glyf", "head", "hhea", "hmtx", "loca", "maxp", "cmap", "none"})
    font->table(tag);
  return 0;
}
