#include "base/kept.h"
#include "pdf/write.h"

namespace ohmleaf::pdf {
namespace {

/// A subset as it is embedded.
struct Program {
  layout::Face face = layout::Face::regular;
  std::vector<GlyphId> glyphs;
  std::size_t length = 0;  ///< of the file, before it was compressed
  std::string file, to_unicode;  ///< compressed
};

/// Null after a failure, or where memory is short, as `Objects::deflate` says.
std::shared_ptr<const Program> program_of(Objects& objects, const Subset& subset) {
  static Kept<Program, 12> last;  // the same labels stand in most documents
  if (auto known = last.find([&](const Program& p) {
        return p.face == subset.face() && p.glyphs == subset.glyphs();
      }))
    return known;
  const std::string file = subset.file();
  auto made = std::make_shared<const Program>(
      Program{subset.face(), subset.glyphs(), file.size(), objects.deflate(file),
              objects.deflate(subset.to_unicode())});
  if (made->file.empty() || made->to_unicode.empty()) return nullptr;
  last.keep(made);
  return made;
}

void embed(Objects& objects, Object* descriptor, const Subset& subset, const Program* program) {
  const std::string file = program != nullptr ? std::string() : subset.file();
  Object* embedded =
      program != nullptr ? objects.deflated(program->file) : objects.stream(file);
  const std::size_t length = program != nullptr ? program->length : file.size();
  objects.put_number(embedded, "Length1", static_cast<std::int64_t>(length));
  objects.put(descriptor, "FontFile2", embedded);
}

Object* write_descriptor(Objects& objects, const Subset& subset, const std::string& name,
                         const Program* program) {
  constexpr int kNonsymbolic = 32;
  constexpr int kItalic = 64;
  const FontFile::Shape& shape = subset.font().shape();
  Object* descriptor = objects.indirect();
  objects.put_name(descriptor, "Type", "FontDescriptor");
  objects.put_name(descriptor, "FontName", name);
  objects.put_number(descriptor, "Flags", kNonsymbolic | (shape.italic_angle != 0 ? kItalic : 0));
  Object* box = objects.array();
  objects.put(descriptor, "FontBBox", box);
  for (const int side : {shape.x_min, shape.y_min, shape.x_max, shape.y_max}) {
    objects.push_number(box, side);
  }
  objects.put_number(descriptor, "ItalicAngle", shape.italic_angle);
  objects.put_number(descriptor, "Ascent", shape.ascent);
  objects.put_number(descriptor, "Descent", -shape.descent);
  objects.put_number(descriptor, "CapHeight", shape.cap_height);
  // Only used to draw a substitute, which an embedded font never needs: an estimate will do.
  objects.put_number(descriptor, "StemV", shape.weight / 5);
  embed(objects, descriptor, subset, program);
  return descriptor;
}

Object* write_cid_font(Objects& objects, const Subset& subset, const std::string& name,
                       const Program* program) {
  Object* font = objects.indirect();
  objects.put_name(font, "Type", "Font");
  objects.put_name(font, "Subtype", "CIDFontType2");
  objects.put_name(font, "BaseFont", name);
  Object* system = objects.dictionary();
  objects.put(font, "CIDSystemInfo", system);
  objects.put(system, "Registry", objects.text("Adobe"));
  objects.put(system, "Ordering", objects.text("Identity"));
  objects.put_number(system, "Supplement", 0);
  objects.put_name(font, "CIDToGIDMap", "Identity");
  objects.put_number(font, "DW", subset.font().advance(0));
  Object* widths = objects.array();
  objects.put(font, "W", widths);
  objects.push_number(widths, 1);
  Object* run = objects.array();
  objects.push(widths, run);
  for (const int width : subset.widths()) objects.push_number(run, width);
  objects.put(font, "FontDescriptor", write_descriptor(objects, subset, name, program));
  return font;
}

}  // namespace

Object* write_font(Objects& objects, const Subset& subset) {
  const std::string name = subset.name();
  const auto program = program_of(objects, subset);
  Object* font = objects.indirect();
  objects.put_name(font, "Type", "Font");
  objects.put_name(font, "Subtype", "Type0");
  objects.put_name(font, "BaseFont", name);
  objects.put_name(font, "Encoding", "Identity-H");
  Object* descendants = objects.array();
  objects.put(font, "DescendantFonts", descendants);
  objects.push(descendants, write_cid_font(objects, subset, name, program.get()));
  objects.put(font, "ToUnicode", program != nullptr ? objects.deflated(program->to_unicode)
                                                    : objects.stream(subset.to_unicode()));
  return font;
}

}  // namespace ohmleaf::pdf
