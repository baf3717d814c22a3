// The only file that knows the PDF library. It uses the library as a writer of PDF objects
// (dictionaries, arrays, streams, cross-reference table) and for the skeleton of a document;
// fonts, images, tags and metadata are objects of our own.
//
// Errors: public calls of the library invoke a handler, calls on objects only set the document's
// error, and both are sticky. The first one is kept, every helper here does nothing after it, and
// the document is dropped; nothing is ever reset.
#include "pdf/haru.h"

#include <fmt/format.h>
#include <hpdf.h>

#include <algorithm>
#include <array>
#include <memory>

#include "base/digest.h"
#include "base/text.h"
#include "fonts/fonts.h"
#include "pdf/big_endian.h"
#include "pdf/xmp.h"

namespace ohmleaf::pdf {
namespace {

struct Failure {
  HPDF_STATUS code = HPDF_OK;
  HPDF_STATUS detail = 0;
};

extern "C" {
/// Called from C: records, never throws.
static void record_failure(HPDF_STATUS code, HPDF_STATUS detail, void* user_data) {
  auto* failure = static_cast<Failure*>(user_data);
  if (failure->code == HPDF_OK) *failure = {code, detail};
}
}

std::string utf16_with_mark(std::string_view text) {
  std::string out = "\xFE\xFF";
  for (const char32_t c : decode_utf8(text)) {
    if (c > 0xFFFF) {
      append_u16(out, 0xD800 + ((c - 0x10000) >> 10));
      append_u16(out, 0xDC00 + ((c - 0x10000) & 0x3FF));
    } else {
      append_u16(out, c);
    }
  }
  return out;
}

bool is_ascii(std::string_view text) {
  return std::all_of(text.begin(), text.end(), [](char c) { return c >= 0x20 && c < 0x7F; });
}

/// The library's objects, with one rule: after a failure nothing more is done.
class Objects {
 public:
  Objects() : doc_(HPDF_NewEx(record_failure, nullptr, nullptr, 0, &failure_)) {}
  ~Objects() {
    if (doc_ != nullptr) HPDF_Free(doc_);
  }
  Objects(const Objects&) = delete;
  Objects& operator=(const Objects&) = delete;

  HPDF_Doc doc() { return doc_; }
  bool ok() {
    if (failure_.code == HPDF_OK && doc_ == nullptr) failure_.code = HPDF_FAILD_TO_ALLOC_MEM;
    if (failure_.code == HPDF_OK) failure_ = {doc_->error.error_no, doc_->error.detail_no};
    return failure_.code == HPDF_OK;
  }
  const Failure& failure() const { return failure_; }

  HPDF_Dict dict() { return ok() ? HPDF_Dict_New(doc_->mmgr) : nullptr; }
  HPDF_Array array() { return ok() ? HPDF_Array_New(doc_->mmgr) : nullptr; }
  HPDF_Dict indirect() {
    HPDF_Dict made = dict();
    if (made != nullptr) HPDF_Xref_Add(doc_->xref, made);
    return ok() ? made : nullptr;
  }
  HPDF_Dict stream(std::string_view bytes, bool compress = true) {
    HPDF_Dict made = ok() ? HPDF_DictStream_New(doc_->mmgr, doc_->xref) : nullptr;
    if (made == nullptr || !ok()) return nullptr;
    if (compress) made->filter = HPDF_STREAM_FILTER_FLATE_DECODE;
    write(made->stream, bytes);
    return made;
  }
  void write(HPDF_Stream stream, std::string_view bytes) {
    if (!ok() || bytes.empty()) return;
    HPDF_Stream_Write(stream, reinterpret_cast<const HPDF_BYTE*>(bytes.data()),
                      static_cast<HPDF_UINT>(bytes.size()));
  }

  void* bytes(std::string value) {
    if (!ok()) return nullptr;
    return HPDF_Binary_New(doc_->mmgr, reinterpret_cast<HPDF_BYTE*>(value.data()),
                           static_cast<HPDF_UINT>(value.size()));
  }
  /// A text string: as it is where ASCII, else UTF-16.
  void* text(std::string_view value) {
    if (!ok()) return nullptr;
    if (!is_ascii(value)) return bytes(utf16_with_mark(value));
    return HPDF_String_New(doc_->mmgr, std::string(value).c_str(), nullptr);
  }
  void* null() { return ok() ? HPDF_Null_New(doc_->mmgr) : nullptr; }

  void put(HPDF_Dict dict, const char* key, void* value) {
    if (ok() && dict != nullptr) HPDF_Dict_Add(dict, key, value);
  }
  void put_name(HPDF_Dict dict, const char* key, const std::string& value) {
    if (ok() && dict != nullptr) HPDF_Dict_AddName(dict, key, value.c_str());
  }
  void put_number(HPDF_Dict dict, const char* key, std::int64_t value) {
    if (ok() && dict != nullptr) HPDF_Dict_AddNumber(dict, key, static_cast<HPDF_INT32>(value));
  }
  void put_true(HPDF_Dict dict, const char* key) {
    if (ok() && dict != nullptr) HPDF_Dict_AddBoolean(dict, key, HPDF_TRUE);
  }
  void push(HPDF_Array array, void* value) {
    if (ok() && array != nullptr) HPDF_Array_Add(array, value);
  }
  void push_number(HPDF_Array array, std::int64_t value) {
    if (ok() && array != nullptr) HPDF_Array_AddNumber(array, static_cast<HPDF_INT32>(value));
  }
  void push_thousandths(HPDF_Array array, std::int64_t value) {
    if (ok() && array != nullptr) {
      HPDF_Array_AddReal(array, static_cast<HPDF_REAL>(static_cast<double>(value) / 1000.0));
    }
  }

 private:
  Failure failure_;
  HPDF_Doc doc_;
};

class FileWriter {
 public:
  explicit FileWriter(const Parts& parts) : parts_(parts) {}

  std::optional<std::string> write(Diagnostics& out) {
    if (objects_.ok()) {
      objects_.doc()->pdf_version = HPDF_VER_17;
      HPDF_SetCompressionMode(objects_.doc(), HPDF_COMP_ALL);
    }
    write_pages();
    write_catalog();
    write_info();
    write_structure();
    write_bookmarks();
    write_attachments();
    std::string bytes = save();
    if (objects_.ok()) return bytes;
    const Failure& failure = objects_.failure();
    out.system_error("pdf-library",
                     fmt::format("the PDF library failed (code 0x{:04X}, detail {})",
                                 static_cast<unsigned>(failure.code),
                                 static_cast<unsigned>(failure.detail)),
                     {"nothing was written; where memory is short, close other programs"});
    return std::nullopt;
  }

 private:
  HPDF_Dict catalog() { return objects_.ok() ? objects_.doc()->catalog : nullptr; }

  void write_pages() {
    HPDF_Dict resources = write_resources();
    for (std::size_t i = 0; i < parts_.pages.size() && objects_.ok(); ++i) {
      HPDF_Page page = HPDF_AddPage(objects_.doc());
      if (page == nullptr) return;
      pages_.push_back(page);
      HPDF_Array box = objects_.array();
      objects_.put(page, "MediaBox", box);
      for (const std::int64_t side : {std::int32_t{0}, std::int32_t{0},
                                      parts_.document.pages[i].width.milli,
                                      parts_.document.pages[i].height.milli}) {
        objects_.push_thousandths(box, side);
      }
      objects_.put(page, "Resources", resources);
      objects_.put_name(page, "Tabs", "S");
      objects_.put_number(page, "StructParents", static_cast<std::int64_t>(i));
      if (!objects_.ok()) return;
      objects_.write(static_cast<HPDF_PageAttr>(page->attr)->stream, parts_.pages[i].operators);
    }
  }

  /// One dictionary for all pages: a certificate's pages use the same faces and the same logo.
  HPDF_Dict write_resources() {
    HPDF_Dict resources = objects_.indirect();
    HPDF_Dict fonts = objects_.dict();
    objects_.put(resources, "Font", fonts);
    for (std::size_t i = 0; i < parts_.subsets.size(); ++i) {
      if (parts_.subsets[i].empty()) continue;
      objects_.put(fonts, fmt::format("F{}", i).c_str(), write_font(parts_.subsets[i]));
    }
    if (parts_.document.images.empty()) return resources;
    HPDF_Dict images = objects_.dict();
    objects_.put(resources, "XObject", images);
    for (std::size_t i = 0; i < parts_.document.images.size(); ++i) {
      objects_.put(images, fmt::format("I{}", i).c_str(), write_image(parts_.document.images[i]));
    }
    return resources;
  }

  HPDF_Dict write_font(const Subset& subset) {
    const std::string name = subset.name();
    HPDF_Dict font = objects_.indirect();
    objects_.put_name(font, "Type", "Font");
    objects_.put_name(font, "Subtype", "Type0");
    objects_.put_name(font, "BaseFont", name);
    objects_.put_name(font, "Encoding", "Identity-H");
    HPDF_Array descendants = objects_.array();
    objects_.put(font, "DescendantFonts", descendants);
    objects_.push(descendants, write_cid_font(subset, name));
    objects_.put(font, "ToUnicode", objects_.stream(subset.to_unicode()));
    return font;
  }

  HPDF_Dict write_cid_font(const Subset& subset, const std::string& name) {
    HPDF_Dict font = objects_.indirect();
    objects_.put_name(font, "Type", "Font");
    objects_.put_name(font, "Subtype", "CIDFontType2");
    objects_.put_name(font, "BaseFont", name);
    HPDF_Dict system = objects_.dict();
    objects_.put(font, "CIDSystemInfo", system);
    objects_.put(system, "Registry", objects_.text("Adobe"));
    objects_.put(system, "Ordering", objects_.text("Identity"));
    objects_.put_number(system, "Supplement", 0);
    objects_.put_name(font, "CIDToGIDMap", "Identity");
    objects_.put_number(font, "DW", subset.font().advance(0));
    HPDF_Array widths = objects_.array();
    objects_.put(font, "W", widths);
    objects_.push_number(widths, 1);
    HPDF_Array run = objects_.array();
    objects_.push(widths, run);
    for (const int width : subset.widths()) objects_.push_number(run, width);
    objects_.put(font, "FontDescriptor", write_descriptor(subset, name));
    return font;
  }

  HPDF_Dict write_descriptor(const Subset& subset, const std::string& name) {
    constexpr int kNonsymbolic = 32;
    constexpr int kItalic = 64;
    const FontFile::Shape& shape = subset.font().shape();
    HPDF_Dict descriptor = objects_.indirect();
    objects_.put_name(descriptor, "Type", "FontDescriptor");
    objects_.put_name(descriptor, "FontName", name);
    objects_.put_number(descriptor, "Flags",
                        kNonsymbolic | (shape.italic_angle != 0 ? kItalic : 0));
    HPDF_Array box = objects_.array();
    objects_.put(descriptor, "FontBBox", box);
    for (const int side : {shape.x_min, shape.y_min, shape.x_max, shape.y_max}) {
      objects_.push_number(box, side);
    }
    objects_.put_number(descriptor, "ItalicAngle", shape.italic_angle);
    objects_.put_number(descriptor, "Ascent", shape.ascent);
    objects_.put_number(descriptor, "Descent", -shape.descent);
    objects_.put_number(descriptor, "CapHeight", shape.cap_height);
    // Only used to draw a substitute, which an embedded font never needs: an estimate will do.
    objects_.put_number(descriptor, "StemV", shape.weight / 5);
    const std::string file = subset.file();
    HPDF_Dict embedded = objects_.stream(file);
    objects_.put_number(embedded, "Length1", static_cast<std::int64_t>(file.size()));
    objects_.put(descriptor, "FontFile2", embedded);
    return descriptor;
  }

  HPDF_Dict write_plane(int width, int height, bool grey, std::string_view samples) {
    HPDF_Dict image = objects_.stream(samples);
    objects_.put_name(image, "Type", "XObject");
    objects_.put_name(image, "Subtype", "Image");
    objects_.put_number(image, "Width", width);
    objects_.put_number(image, "Height", height);
    objects_.put_number(image, "BitsPerComponent", 8);
    objects_.put_name(image, "ColorSpace", grey ? "DeviceGray" : "DeviceRGB");
    return image;
  }

  HPDF_Dict write_image(const layout::Image& image) {
    HPDF_Dict made = write_plane(image.width, image.height, image.grey, image.pixels);
    if (!image.alpha.empty()) {
      objects_.put(made, "SMask", write_plane(image.width, image.height, true, image.alpha));
    }
    return made;
  }

  void write_catalog() {
    HPDF_Dict metadata = objects_.stream(parts_.xmp, false);
    objects_.put_name(metadata, "Type", "Metadata");
    objects_.put_name(metadata, "Subtype", "XML");
    objects_.put(catalog(), "Metadata", metadata);
    objects_.put(catalog(), "Lang", objects_.text(parts_.document.language));
    HPDF_Dict mark = objects_.dict();
    objects_.put(catalog(), "MarkInfo", mark);
    objects_.put_true(mark, "Marked");
    HPDF_Dict preferences = objects_.dict();
    objects_.put(catalog(), "ViewerPreferences", preferences);
    objects_.put_true(preferences, "DisplayDocTitle");

    HPDF_Dict profile = objects_.stream(fonts::srgb_profile());
    objects_.put_number(profile, "N", 3);
    HPDF_Dict intent = objects_.dict();
    objects_.put_name(intent, "Type", "OutputIntent");
    objects_.put_name(intent, "S", "GTS_PDFA1");
    objects_.put(intent, "OutputConditionIdentifier", objects_.text("sRGB IEC61966-2.1"));
    objects_.put(intent, "Info", objects_.text("sRGB IEC61966-2.1"));
    objects_.put(intent, "DestOutputProfile", profile);
    HPDF_Array intents = objects_.array();
    objects_.put(catalog(), "OutputIntents", intents);
    objects_.push(intents, intent);
  }

  void write_info() {
    if (!objects_.ok()) return;
    HPDF_Dict info = objects_.doc()->info;
    const auto put = [&](const char* key, const std::string& value) {
      if (!value.empty()) objects_.put(info, key, objects_.text(value));
    };
    const Meta& meta = parts_.meta;
    put("Title", parts_.title);
    put("Author", meta.author);
    put("Subject", meta.subject);
    put("Keywords", meta.keywords);
    put("Creator", meta.creator);
    if (meta.creator.empty()) HPDF_Dict_RemoveElement(info, "Producer");
    put("Producer", meta.creator);
    put("CreationDate", pdf_date(meta.created));
    put("ModDate", pdf_date(meta.created));

    const std::string id = from_hex(sha256_hex(meta.id_seed)).value_or("").substr(0, 16);
    HPDF_Array ids = objects_.array();
    objects_.put(objects_.doc()->trailer, "ID", ids);
    objects_.push(ids, objects_.bytes(id));
    objects_.push(ids, objects_.bytes(id));
  }

  void write_structure() {
    HPDF_Dict root = objects_.indirect();
    objects_.put_name(root, "Type", "StructTreeRoot");
    objects_.put(catalog(), "StructTreeRoot", root);
    for (std::size_t i = 0; i < parts_.elements.size(); ++i) elements_.push_back(objects_.indirect());
    if (!objects_.ok()) return;
    objects_.put(root, "K", elements_[0]);
    HPDF_Array notes = objects_.array();
    for (std::size_t i = 0; i < elements_.size(); ++i) write_element(i, root, notes);
    write_parent_tree(root);
    HPDF_Dict ids = objects_.dict();
    objects_.put(root, "IDTree", ids);
    objects_.put(ids, "Names", notes);
  }

  void write_element(std::size_t index, HPDF_Dict root, HPDF_Array notes) {
    const layout::Node& node = parts_.document.nodes[index];
    const Element& element = parts_.elements[index];
    HPDF_Dict dict = elements_[index];
    objects_.put_name(dict, "S", std::string(role_name(node.role)));
    objects_.put(dict, "P", index == 0 ? root : elements_[static_cast<std::size_t>(node.parent)]);
    if (element.page) objects_.put(dict, "Pg", pages_[*element.page]);
    if (!node.alt.empty()) objects_.put(dict, "Alt", objects_.text(node.alt));
    if (node.role == layout::Role::note) {
      // Every note has an identifier of its own; numbers of one length stay sorted in the tree.
      const std::string id = fmt::format("note-{:08}", index);
      objects_.put(dict, "ID", objects_.text(id));
      objects_.push(notes, objects_.text(id));
      objects_.push(notes, dict);
    }
    write_attributes(dict, node, element);
    if (element.kids.size() == 1) {
      objects_.put(dict, "K", kid(element.kids[0], element));
    } else if (!element.kids.empty()) {
      HPDF_Array kids = objects_.array();
      objects_.put(dict, "K", kids);
      for (const Kid& k : element.kids) objects_.push(kids, kid(k, element));
    }
  }

  /// The short form, a bare number, serves for sequences on the element's own page.
  void* kid(const Kid& kid, const Element& element) {
    if (!objects_.ok()) return nullptr;
    if (kid.element) return elements_[kid.index];
    if (kid.page == element.page) {
      return HPDF_Number_New(objects_.doc()->mmgr, static_cast<HPDF_INT32>(kid.index));
    }
    HPDF_Dict reference = objects_.dict();
    objects_.put_name(reference, "Type", "MCR");
    objects_.put(reference, "Pg", pages_[kid.page]);
    objects_.put_number(reference, "MCID", static_cast<std::int64_t>(kid.index));
    return reference;
  }

  void write_attributes(HPDF_Dict dict, const layout::Node& node, const Element& element) {
    if (element.box) {
      HPDF_Dict attributes = objects_.dict();
      objects_.put(dict, "A", attributes);
      objects_.put_name(attributes, "O", "Layout");
      HPDF_Array box = objects_.array();
      objects_.put(attributes, "BBox", box);
      for (const std::int64_t side :
           {element.box->left, element.box->bottom, element.box->right, element.box->top}) {
        objects_.push_thousandths(box, side);
      }
      return;
    }
    const bool header = node.role == layout::Role::header_cell;
    if (!header && node.role != layout::Role::cell) return;
    if (!header && node.column_span == 1 && node.row_span == 1) return;
    HPDF_Dict attributes = objects_.dict();
    objects_.put(dict, "A", attributes);
    objects_.put_name(attributes, "O", "Table");
    if (header) objects_.put_name(attributes, "Scope", scope_name(node.scope));
    if (node.column_span != 1) objects_.put_number(attributes, "ColSpan", node.column_span);
    if (node.row_span != 1) objects_.put_number(attributes, "RowSpan", node.row_span);
  }

  /// A header cell without a scope would leave its reach to each reader's guess.
  static std::string scope_name(layout::Scope scope) {
    switch (scope) {
      case layout::Scope::row:
        return "Row";
      case layout::Scope::both:
        return "Both";
      default:
        return "Column";
    }
  }

  void write_parent_tree(HPDF_Dict root) {
    HPDF_Dict tree = objects_.indirect();
    objects_.put(root, "ParentTree", tree);
    objects_.put_number(root, "ParentTreeNextKey", static_cast<std::int64_t>(parts_.pages.size()));
    HPDF_Array numbers = objects_.array();
    objects_.put(tree, "Nums", numbers);
    for (std::size_t i = 0; i < parts_.pages.size(); ++i) {
      HPDF_Array owners = objects_.array();
      objects_.push_number(numbers, static_cast<std::int64_t>(i));
      objects_.push(numbers, owners);
      for (const layout::NodeId node : parts_.pages[i].sequences) {
        objects_.push(owners, elements_[static_cast<std::size_t>(node)]);
      }
    }
  }

  void write_bookmarks() {
    const auto& bookmarks = parts_.document.bookmarks;
    if (bookmarks.empty()) return;
    HPDF_Dict root = objects_.indirect();
    objects_.put_name(root, "Type", "Outlines");
    objects_.put(catalog(), "Outlines", root);
    std::vector<HPDF_Dict> items;
    for (std::size_t i = 0; i < bookmarks.size(); ++i) items.push_back(objects_.indirect());
    if (!objects_.ok()) return;
    write_bookmark_kids(root, items, 0, 0);
    for (std::size_t i = 0; i < bookmarks.size(); ++i) {
      objects_.put(items[i], "Title", objects_.text(bookmarks[i].title));
      HPDF_Array place = objects_.array();
      objects_.put(items[i], "Dest", place);
      objects_.push(place, pages_[bookmarks[i].page]);
      if (objects_.ok()) HPDF_Array_AddName(place, "XYZ");
      objects_.push(place, objects_.null());
      objects_.push_thousandths(place, std::int64_t{parts_.document.pages[bookmarks[i].page]
                                                        .height.milli} - bookmarks[i].y.milli);
      objects_.push(place, objects_.null());
    }
  }

  /// Links the items from `begin` that stand at `level`, and what is under them; only the
  /// outermost level is unfolded. Returns the end of the group.
  std::size_t write_bookmark_kids(HPDF_Dict parent, const std::vector<HPDF_Dict>& items,
                                  std::size_t begin, int level) {
    const auto& bookmarks = parts_.document.bookmarks;
    HPDF_Dict last = nullptr;
    int count = 0;
    std::size_t i = begin;
    while (i < items.size() && bookmarks[i].level >= level) {
      objects_.put(items[i], "Parent", parent);
      if (last == nullptr) {
        objects_.put(parent, "First", items[i]);
      } else {
        objects_.put(last, "Next", items[i]);
        objects_.put(items[i], "Prev", last);
      }
      last = items[i];
      ++count;
      const std::size_t next = i + 1;
      const bool has_kids = next < items.size() && bookmarks[next].level > level;
      i = has_kids ? write_bookmark_kids(items[i], items, next, level + 1) : next;
    }
    objects_.put(parent, "Last", last);
    objects_.put_number(parent, "Count", level == 0 ? count : -count);
    return i;
  }

  void write_attachments() {
    std::vector<std::pair<std::string, HPDF_Dict>> files;
    HPDF_Array associated = nullptr;
    for (const Attachment& attachment : parts_.meta.attachments) {
      if (associated == nullptr) {
        associated = objects_.array();
        objects_.put(catalog(), "AF", associated);
      }
      HPDF_Dict specification = write_attachment(attachment);
      objects_.push(associated, specification);
      const std::string& name = attachment.name;
      files.emplace_back(is_ascii(name) ? name : utf16_with_mark(name), specification);
    }
    if (files.empty()) return;
    std::sort(files.begin(), files.end());
    HPDF_Dict trees = objects_.dict();
    objects_.put(catalog(), "Names", trees);
    HPDF_Dict tree = objects_.dict();
    objects_.put(trees, "EmbeddedFiles", tree);
    HPDF_Array names = objects_.array();
    objects_.put(tree, "Names", names);
    for (const auto& [name, specification] : files) {
      objects_.push(names, is_ascii(name) ? objects_.text(name) : objects_.bytes(name));
      objects_.push(names, specification);
    }
  }

  HPDF_Dict write_attachment(const Attachment& attachment) {
    HPDF_Dict file = objects_.stream(attachment.bytes);
    objects_.put_name(file, "Type", "EmbeddedFile");
    objects_.put_name(file, "Subtype", attachment.media_type);
    HPDF_Dict params = objects_.dict();
    objects_.put(file, "Params", params);
    objects_.put_number(params, "Size", static_cast<std::int64_t>(attachment.bytes.size()));
    objects_.put(params, "CreationDate", objects_.text(pdf_date(parts_.meta.created)));
    objects_.put(params, "ModDate", objects_.text(pdf_date(parts_.meta.created)));
    objects_.put(params, "CheckSum", objects_.bytes(md5_raw(attachment.bytes)));

    std::string plain;  // for readers that know only the older key
    for (const char c : attachment.name) plain += is_ascii({&c, 1}) ? c : '_';
    HPDF_Dict specification = objects_.indirect();
    objects_.put_name(specification, "Type", "Filespec");
    objects_.put(specification, "F", objects_.text(plain));
    objects_.put(specification, "UF", objects_.text(attachment.name));
    objects_.put(specification, "Desc", objects_.text(attachment.description));
    objects_.put_name(specification, "AFRelationship", relation_name(attachment.relation));
    HPDF_Dict embedded = objects_.dict();
    objects_.put(specification, "EF", embedded);
    objects_.put(embedded, "F", file);
    objects_.put(embedded, "UF", file);
    return specification;
  }

  static std::string relation_name(Attachment::Relation relation) {
    switch (relation) {
      case Attachment::Relation::data:
        return "Data";
      case Attachment::Relation::supplement:
        return "Supplement";
      case Attachment::Relation::source:
        break;
    }
    return "Source";
  }

  /// The library's own file writer misses a full disk: the bytes are taken from memory.
  std::string save() {
    std::string bytes;
    if (!objects_.ok()) return bytes;
    HPDF_SaveToStream(objects_.doc());
    if (!objects_.ok()) return bytes;
    HPDF_Stream stream = objects_.doc()->stream;
    for (HPDF_UINT i = 0; i < HPDF_MemStream_GetBufCount(stream); ++i) {
      HPDF_UINT size = 0;
      const HPDF_BYTE* part = HPDF_MemStream_GetBufPtr(stream, i, &size);
      if (part != nullptr) bytes.append(reinterpret_cast<const char*>(part), size);
    }
    return bytes;
  }

  const Parts& parts_;
  Objects objects_;
  std::vector<HPDF_Page> pages_;
  std::vector<HPDF_Dict> elements_;
};

}  // namespace

std::optional<std::string> write_file(const Parts& parts, Diagnostics& out) {
  return FileWriter(parts).write(out);
}

}  // namespace ohmleaf::pdf
