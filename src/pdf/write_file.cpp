#include <fmt/format.h>

#include <algorithm>

#include "base/digest.h"
#include "fonts/fonts.h"
#include "pdf/paths.h"
#include "pdf/write.h"
#include "pdf/xmp.h"

namespace ohmleaf::pdf {
namespace {

/// Of a page that says nothing of it (ISO 32000-1, 8.4.1): a corner stands out by half of the width
/// times this.
constexpr int kMiterLimit = 10;

Object* write_plane(Objects& objects, int width, int height, bool grey, std::string_view samples) {
  Object* image = objects.stream(samples);
  objects.put_name(image, "Type", "XObject");
  objects.put_name(image, "Subtype", "Image");
  objects.put_number(image, "Width", width);
  objects.put_number(image, "Height", height);
  objects.put_number(image, "BitsPerComponent", 8);
  objects.put_name(image, "ColorSpace", grey ? "DeviceGray" : "DeviceRGB");
  return image;
}

Object* write_image(Objects& objects, const layout::Image& image) {
  Object* made = write_plane(objects, image.width, image.height, image.grey, image.pixels);
  if (!image.alpha.empty()) {
    objects.put(made, "SMask", write_plane(objects, image.width, image.height, true, image.alpha));
  }
  return made;
}

/// One dictionary for all pages: a certificate's pages use the same faces and the same logo.
Object* write_resources(Objects& objects, const Parts& parts) {
  Object* resources = objects.indirect();
  Object* fonts = objects.dictionary();
  objects.put(resources, "Font", fonts);
  for (std::size_t i = 0; i < parts.subsets.size(); ++i) {
    if (parts.subsets[i].empty()) continue;
    objects.put(fonts, fmt::format("F{}", i).c_str(), write_font(objects, parts.subsets[i]));
  }
  return resources;
}

/// The smallest box around a symbol with its strokes, miters and all.
Object* symbol_box(Objects& objects, const layout::Symbol& symbol) {
  Box box{0, 0, 0, 0};
  for (const layout::PolygonFrame& shape : symbol.shapes) {
    const std::int64_t beyond = shape.stroke ? std::int64_t{kMiterLimit} * shape.stroke_width.milli / 2 : 0;
    for (const layout::Point& p : shape.points) {
      const std::int64_t y = layout::Pt{1000}.milli - std::int64_t{p.y.milli};
      box.left = std::min(box.left, p.x.milli - beyond);
      box.right = std::max(box.right, p.x.milli + beyond);
      box.bottom = std::min(box.bottom, y - beyond);
      box.top = std::max(box.top, y + beyond);
    }
  }
  Object* out = objects.array();
  for (const std::int64_t side : {box.left, box.bottom, box.right, box.top})
    objects.push_thousandths(out, side);
  return out;
}

/// What the pages draw by name, once it is known what that is.
void write_drawn(Objects& objects, const Parts& parts, const Symbols& symbols, Object* resources) {
  if (parts.document.images.empty() && symbols.all().empty()) return;
  Object* drawn = objects.dictionary();
  objects.put(resources, "XObject", drawn);
  for (std::size_t i = 0; i < parts.document.images.size(); ++i)
    objects.put(drawn, fmt::format("I{}", i).c_str(),
                write_image(objects, parts.document.images[i]));
  for (std::size_t i = 0; i < symbols.all().size(); ++i) {
    const layout::Symbol& symbol = *symbols.all()[i];
    Object* form = objects.stream(symbol_operators(symbol));
    objects.put_name(form, "Type", "XObject");
    objects.put_name(form, "Subtype", "Form");
    objects.put(form, "BBox", symbol_box(objects, symbol));
    objects.put(form, "Resources", objects.dictionary());
    objects.put(drawn, fmt::format("S{}", i).c_str(), form);
  }
}

std::vector<Object*> write_pages(Objects& objects, Parts& parts) {
  std::vector<Object*> pages;
  Object* resources = write_resources(objects, parts);
  Symbols symbols;
  const Continued continued = continued_lines(parts.document);
  for (std::size_t i = 0; i < parts.document.pages.size() && objects.ok(); ++i) {
    PageContent content =
        page_content(parts.document.pages[i], parts.document, parts.subsets, continued, symbols);
    parts.document.pages[i].frames = {};  // of a long document they are most of the memory
    Object* page = objects.add_page(content.operators);
    pages.push_back(page);
    parts.sequences.push_back(std::move(content.sequences));
    Object* box = objects.array();
    objects.put(page, "MediaBox", box);
    for (const std::int64_t side :
         {std::int32_t{0}, std::int32_t{0}, parts.document.pages[i].width.milli,
          parts.document.pages[i].height.milli}) {
      objects.push_thousandths(box, side);
    }
    objects.put(page, "Resources", resources);
    objects.put_name(page, "Tabs", "S");
    objects.put_number(page, "StructParents", static_cast<std::int64_t>(i));
  }
  write_drawn(objects, parts, symbols, resources);
  return pages;
}

void write_catalog(Objects& objects, const Parts& parts) {
  Object* catalog = objects.catalog();
  Object* metadata = objects.stream(parts.xmp, false);
  objects.put_name(metadata, "Type", "Metadata");
  objects.put_name(metadata, "Subtype", "XML");
  objects.put(catalog, "Metadata", metadata);
  objects.put(catalog, "Lang", objects.text(parts.document.language));
  Object* mark = objects.dictionary();
  objects.put(catalog, "MarkInfo", mark);
  objects.put_true(mark, "Marked");
  Object* preferences = objects.dictionary();
  objects.put(catalog, "ViewerPreferences", preferences);
  objects.put_true(preferences, "DisplayDocTitle");
}

/// sRGB, which every colour on the pages is meant in.
void write_output_intent(Objects& objects) {
  static const std::string deflated = objects.deflate(fonts::srgb_profile());  // the same in each
  Object* profile =
      deflated.empty() ? objects.stream(fonts::srgb_profile()) : objects.deflated(deflated);
  objects.put_number(profile, "N", 3);
  Object* intent = objects.dictionary();
  objects.put_name(intent, "Type", "OutputIntent");
  objects.put_name(intent, "S", "GTS_PDFA1");
  objects.put(intent, "OutputConditionIdentifier", objects.text("sRGB IEC61966-2.1"));
  objects.put(intent, "Info", objects.text("sRGB IEC61966-2.1"));
  objects.put(intent, "DestOutputProfile", profile);
  Object* intents = objects.array();
  objects.put(objects.catalog(), "OutputIntents", intents);
  objects.push(intents, intent);
}

void write_info(Objects& objects, const Parts& parts) {
  Object* info = objects.info();
  const auto put = [&](const char* key, const std::string& value) {
    if (!value.empty()) objects.put(info, key, objects.text(value));
  };
  const Meta& meta = parts.meta;
  put("Title", meta.title);
  put("Author", meta.author);
  put("Subject", meta.subject);
  put("Keywords", meta.keywords);
  put("Creator", meta.creator);
  if (meta.creator.empty()) objects.remove(info, "Producer");
  put("Producer", meta.creator);
  put("CreationDate", pdf_date(meta.created));
  put("ModDate", pdf_date(meta.created));
}

/// Two equal identifiers: the file is made once and never updated.
void write_id(Objects& objects, const std::string& seed) {
  const std::string id = from_hex(sha256_hex(seed)).value_or("").substr(0, 16);
  Object* ids = objects.array();
  objects.put(objects.trailer(), "ID", ids);
  objects.push(ids, objects.bytes(id));
  objects.push(ids, objects.bytes(id));
}

}  // namespace

std::optional<std::string> write_file(Parts& parts, Diagnostics& out) {
  const std::unique_ptr<Objects> made = Objects::make();
  Objects& objects = *made;
  const std::vector<Object*> pages = write_pages(objects, parts);
  if (objects.ok()) {
    write_catalog(objects, parts);
    write_output_intent(objects);
    write_info(objects, parts);
    write_id(objects, parts.meta.id_seed);
    Object* widget = write_seal(objects, parts, pages);
    write_bookmarks(objects, parts.document, pages);
    write_attachments(objects, parts.meta);
    write_structure(objects, parts, pages, widget);
  }
  auto bytes = objects.save(out);
  if (bytes && parts.meta.seal && !measure_seal(*bytes, parts.meta.seal->room)) {
    out.system_error("pdf-seal", "the place for the signature was not found in the file",
                     {"this is a fault of the program; the document was not written"});
    return std::nullopt;
  }
  return bytes;
}

}  // namespace ohmleaf::pdf
