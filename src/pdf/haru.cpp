// The only file that knows the PDF library. It uses the library as a writer of PDF objects
// (dictionaries, arrays, streams, cross-reference table) and for the skeleton of a document;
// fonts, images, tags and metadata are objects of our own (write_*.cpp).
//
// Errors: public calls of the library invoke a handler, calls on objects only set the document's
// error, and both are sticky. The first one is kept, every call here does nothing after it, and
// the document is dropped; nothing is ever reset.
#include "pdf/haru.h"

#include <fmt/format.h>
#include <hpdf.h>

#include <algorithm>
#include <cstring>
#include <deque>

#include "base/digest.h"
#include "base/text.h"
#include "pdf/big_endian.h"
#include "pdf/deflate.h"
#include "pdf/own_objects.h"
#include "pdf/text_string.h"

namespace ohmleaf::pdf {
namespace {

constexpr std::size_t kObject = 512;  // bytes beside its stream that one has at most, as a rule

struct Failure {
  HPDF_STATUS code = HPDF_OK;
  HPDF_STATUS detail = 0;
};

HPDF_Dict as_dict(Object* object) {
  return reinterpret_cast<HPDF_Dict>(object);
}
HPDF_Array as_array(Object* object) {
  return reinterpret_cast<HPDF_Array>(object);
}
Object* as_object(void* object) {
  return static_cast<Object*>(object);
}

extern "C" {
/// Called from C in the middle of a dictionary: what `set_entries` was given.
static HPDF_STATUS write_entries(HPDF_Dict dict, HPDF_Stream stream) {
  const auto& text = *static_cast<const std::string*>(dict->attr);
  return HPDF_Stream_Write(stream, reinterpret_cast<const HPDF_BYTE*>(text.data()),
                           static_cast<HPDF_UINT>(text.size()));
}
/// The same for a stream that was compressed here.
static HPDF_STATUS write_filter(HPDF_Dict, HPDF_Stream stream) {
  return HPDF_Stream_WriteStr(stream, "/Filter /FlateDecode\012");
}

/// What the library reads of a stream that is kept here.
struct Kept {
  std::string bytes;
  std::size_t at = 0;
};
static HPDF_STATUS kept_read(HPDF_Stream stream, HPDF_BYTE* to, HPDF_UINT* size) {
  auto& kept = *static_cast<Kept*>(stream->attr);
  const std::size_t left = kept.bytes.size() - kept.at;
  const HPDF_STATUS status = left < *size ? HPDF_STREAM_EOF : HPDF_OK;
  *size = static_cast<HPDF_UINT>(std::min<std::size_t>(left, *size));
  std::memcpy(to, kept.bytes.data() + kept.at, *size);
  kept.at += *size;
  if (kept.at == kept.bytes.size()) kept = {};  // it is read once
  return status;
}
static HPDF_STATUS kept_seek(HPDF_Stream stream, HPDF_INT to, HPDF_WhenceMode) {
  static_cast<Kept*>(stream->attr)->at = static_cast<std::size_t>(to);
  return HPDF_OK;
}
static HPDF_INT32 kept_tell(HPDF_Stream stream) {
  return static_cast<HPDF_INT32>(static_cast<const Kept*>(stream->attr)->at);
}
static HPDF_UINT32 kept_size(HPDF_Stream stream) {
  return static_cast<HPDF_UINT32>(static_cast<const Kept*>(stream->attr)->bytes.size());
}
/// The file as the library writes it. Never throws.
static HPDF_STATUS append(HPDF_Stream stream, const HPDF_BYTE* bytes, HPDF_UINT size) {
  try {
    static_cast<std::string*>(stream->attr)->append(reinterpret_cast<const char*>(bytes), size);
  } catch (const std::exception&) {
    return HPDF_SetError(stream->error, HPDF_FAILD_TO_ALLOC_MEM, 0);
  }
  return HPDF_OK;
}

/// Called from C: records, never throws.
static void record_failure(HPDF_STATUS code, HPDF_STATUS detail, void* user_data) {
  auto* failure = static_cast<Failure*>(user_data);
  if (failure->code == HPDF_OK) *failure = {code, detail};
}
}

/// A file that libharu keeps.
class HaruObjects final : public Objects {
 public:
  HaruObjects() : doc_(HPDF_NewEx(record_failure, nullptr, nullptr, 0, &failure_)) {
    if (ok()) doc_->pdf_version = HPDF_VER_17;
  }
  ~HaruObjects() override {
    if (doc_ != nullptr) HPDF_Free(doc_);
  }

  bool ok() override;
  Object* dictionary() override;
  Object* array() override;
  Object* indirect() override;
  Object* stream(std::string_view bytes, bool compress) override;
  Object* deflated(std::string_view bytes) override;
  std::string deflate(std::string_view bytes) override { return deflated_(bytes); }
  void set_entries(Object* dictionary, std::string entries) override;
  std::string reference(Object* indirect) override;
  std::int64_t begin_own() override;
  void own(std::string_view value) override;
  Object* bytes(std::string value) override;
  Object* text(std::string_view value) override;
  Object* null() override;
  Object* number(std::int64_t value) override;
  void put(Object* dictionary, const char* key, Object* value) override;
  void put_name(Object* dictionary, const char* key, const std::string& value) override;
  void put_number(Object* dictionary, const char* key, std::int64_t value) override;
  void put_true(Object* dictionary, const char* key) override;
  void remove(Object* dictionary, const char* key) override;
  void push(Object* array, Object* value) override;
  void push_name(Object* array, const char* value) override;
  void push_number(Object* array, std::int64_t value) override;
  void push_thousandths(Object* array, std::int64_t value) override;
  Object* catalog() override;
  Object* info() override;
  Object* trailer() override;
  Object* add_page(std::string_view operators) override;
  std::optional<std::string> save(Diagnostics& out) override;

 private:
  /// Compressed here: what the library does itself takes four times as long. Kept here too: it
  /// copies byte by byte.
  void fill(HPDF_Dict stream, std::string_view bytes, bool compress) {
    std::string packed = compress ? deflated_(bytes) : std::string();
    if (packed.empty())
      keep(stream, std::string(bytes), false);
    else
      keep(stream, std::move(packed), true);
  }
  void keep(HPDF_Dict stream, std::string bytes, bool deflated) {
    stream->filter = HPDF_STREAM_FILTER_NONE;
    if (deflated) stream->write_fn = write_filter;
    kept_.push_back({std::move(bytes)});
    HPDF_Stream reader = HPDF_CallbackReader_New(doc_->mmgr, kept_read, kept_seek, kept_tell,
                                                 kept_size, &kept_.back());
    if (reader == nullptr) return;  // which the document's error tells
    HPDF_Stream_Free(stream->stream);
    stream->stream = reader;
  }
  HPDF_Dict new_stream() {
    HPDF_Dict made = ok() ? HPDF_DictStream_New(doc_->mmgr, doc_->xref) : nullptr;
    return ok() ? made : nullptr;
  }

  Failure failure_;
  HPDF_Doc doc_ = nullptr;
  Deflater deflated_;
  OwnObjects own_;
  // Where dictionaries and streams point to: they stay in place.
  std::deque<std::string> entries_;
  std::deque<Kept> kept_;
};

bool HaruObjects::ok() {
  if (failure_.code == HPDF_OK && doc_ == nullptr) failure_.code = HPDF_FAILD_TO_ALLOC_MEM;
  if (failure_.code == HPDF_OK) {
    failure_ = {doc_->error.error_no, doc_->error.detail_no};
  }
  return failure_.code == HPDF_OK;
}

Object* HaruObjects::dictionary() {
  return ok() ? as_object(HPDF_Dict_New(doc_->mmgr)) : nullptr;
}

Object* HaruObjects::array() {
  return ok() ? as_object(HPDF_Array_New(doc_->mmgr)) : nullptr;
}

Object* HaruObjects::indirect() {
  Object* made = dictionary();
  if (made != nullptr) HPDF_Xref_Add(doc_->xref, made);
  return ok() ? made : nullptr;
}

Object* HaruObjects::stream(std::string_view bytes, bool compress) {
  HPDF_Dict made = new_stream();
  if (made != nullptr) fill(made, bytes, compress);
  return as_object(made);
}

Object* HaruObjects::deflated(std::string_view bytes) {
  HPDF_Dict made = new_stream();
  if (made != nullptr) keep(made, std::string(bytes), true);
  return as_object(made);
}

void HaruObjects::set_entries(Object* dictionary, std::string entries) {
  if (!ok() || dictionary == nullptr) return;
  entries_.push_back(std::move(entries));
  as_dict(dictionary)->attr = &entries_.back();
  as_dict(dictionary)->write_fn = write_entries;
}

std::string HaruObjects::reference(Object* indirect) {
  if (!ok() || indirect == nullptr) return "null";
  return std::to_string(as_dict(indirect)->header.obj_id & 0x00FFFFFF) + " 0 R";
}

std::int64_t HaruObjects::begin_own() {
  if (!ok()) return 0;
  const HPDF_Xref xref = doc_->xref;
  const std::int64_t next = std::int64_t{xref->start_offset} + xref->entries->count;
  own_.begin(next);
  return next;
}

void HaruObjects::own(std::string_view value) {
  if (ok()) own_.add(value);
}

Object* HaruObjects::bytes(std::string value) {
  if (!ok()) return nullptr;
  return as_object(HPDF_Binary_New(doc_->mmgr, reinterpret_cast<HPDF_BYTE*>(value.data()),
                                   static_cast<HPDF_UINT>(value.size())));
}

Object* HaruObjects::text(std::string_view value) {
  if (!ok()) return nullptr;
  if (!is_plain_ascii(value)) return bytes(utf16_with_mark(value));
  return as_object(HPDF_String_New(doc_->mmgr, std::string(value).c_str(), nullptr));
}

Object* HaruObjects::null() {
  return ok() ? as_object(HPDF_Null_New(doc_->mmgr)) : nullptr;
}

Object* HaruObjects::number(std::int64_t value) {
  if (!ok()) return nullptr;
  return as_object(HPDF_Number_New(doc_->mmgr, static_cast<HPDF_INT32>(value)));
}

void HaruObjects::put(Object* dictionary, const char* key, Object* value) {
  if (ok() && dictionary != nullptr) HPDF_Dict_Add(as_dict(dictionary), key, value);
}

void HaruObjects::put_name(Object* dictionary, const char* key, const std::string& value) {
  if (ok() && dictionary != nullptr) HPDF_Dict_AddName(as_dict(dictionary), key, value.c_str());
}

void HaruObjects::put_number(Object* dictionary, const char* key, std::int64_t value) {
  if (!ok() || dictionary == nullptr) return;
  HPDF_Dict_AddNumber(as_dict(dictionary), key, static_cast<HPDF_INT32>(value));
}

void HaruObjects::put_true(Object* dictionary, const char* key) {
  if (ok() && dictionary != nullptr) HPDF_Dict_AddBoolean(as_dict(dictionary), key, HPDF_TRUE);
}

void HaruObjects::remove(Object* dictionary, const char* key) {
  if (ok() && dictionary != nullptr) HPDF_Dict_RemoveElement(as_dict(dictionary), key);
}

void HaruObjects::push(Object* array, Object* value) {
  if (ok() && array != nullptr) HPDF_Array_Add(as_array(array), value);
}

void HaruObjects::push_name(Object* array, const char* value) {
  if (ok() && array != nullptr) HPDF_Array_AddName(as_array(array), value);
}

void HaruObjects::push_number(Object* array, std::int64_t value) {
  if (!ok() || array == nullptr) return;
  HPDF_Array_AddNumber(as_array(array), static_cast<HPDF_INT32>(value));
}

void HaruObjects::push_thousandths(Object* array, std::int64_t value) {
  if (!ok() || array == nullptr) return;
  const double points = static_cast<double>(value) / 1000.0;
  HPDF_Array_AddReal(as_array(array), static_cast<HPDF_REAL>(points));
}

Object* HaruObjects::catalog() {
  return ok() ? as_object(doc_->catalog) : nullptr;
}
Object* HaruObjects::info() {
  return ok() ? as_object(doc_->info) : nullptr;
}
Object* HaruObjects::trailer() {
  return ok() ? as_object(doc_->trailer) : nullptr;
}

Object* HaruObjects::add_page(std::string_view operators) {
  HPDF_Page page = ok() ? HPDF_AddPage(doc_) : nullptr;
  if (page == nullptr || !ok()) return nullptr;
  auto* attributes = static_cast<HPDF_PageAttr>(page->attr);
  fill(attributes->contents, operators, true);
  attributes->stream = attributes->contents->stream;
  return as_object(page);
}

std::optional<std::string> HaruObjects::save(Diagnostics& out) {
  // The library's own file writer misses a full disk, and its writer into memory copies byte by byte.
  std::string bytes;
  if (ok()) {
    // Room for all: a string that has to grow is copied into twice the room.
    std::size_t size = kObject * doc_->xref->entries->count + own_.size_in_file();
    for (const Kept& k : kept_) size += k.bytes.size();
    bytes.reserve(size);
    doc_->stream = HPDF_CallbackWriter_New(doc_->mmgr, append, &bytes);
    if (doc_->stream != nullptr) HPDF_SaveToStream(doc_);
  }
  if (!ok()) {
    out.system_error("pdf-library",
                     fmt::format("the PDF library failed (code 0x{:04X}, detail {})",
                                 static_cast<unsigned>(failure_.code),
                                 static_cast<unsigned>(failure_.detail)),
                     {"nothing was written; where memory is short, close other programs"});
    return std::nullopt;
  }
  if (!own_.empty() && !own_.append_to(bytes)) {
    out.system_error("pdf-library", "the PDF library wrote a file that is not as it was asked for");
    return std::nullopt;
  }
  return bytes;
}

}  // namespace

std::unique_ptr<Objects> Objects::make() { return std::make_unique<HaruObjects>(); }

}  // namespace ohmleaf::pdf
