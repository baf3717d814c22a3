#include "app/attachments.h"

#include <dlfcn.h>
#include <qpdf/qpdf-c.h>

#include <algorithm>
#include <cstdint>
#include <cstdlib>
#include <cstring>
#include <stdexcept>

#include "app/fenced.h"
#include "base/text.h"

namespace ohmleaf::app {
namespace {

// The child answers with one letter, then a list of names and bytes or a sentence.
constexpr char kFiles = 'f', kError = 'e';

constexpr int kMaxDepth = 8;
constexpr Fence kFence{5, std::size_t{512} << 20};

void put(std::string& answer, std::string_view text) {
  const std::uint64_t size = text.size();
  answer.append(reinterpret_cast<const char*>(&size), sizeof size);
  answer += text;
}

bool take(std::string_view& answer, std::string& text) {
  std::uint64_t size = 0;
  if (answer.size() < sizeof size) return false;
  std::memcpy(&size, answer.data(), sizeof size);
  answer.remove_prefix(sizeof size);
  if (answer.size() < size) return false;
  text = answer.substr(0, size);
  answer.remove_prefix(size);
  return true;
}

/// One function of libqpdf's C interface.
template <class F>
F* in_library(void* library, const char* name) {
  void* found = library != nullptr ? ::dlsym(library, name) : nullptr;
  if (found == nullptr) throw std::runtime_error("libqpdf is not installed, or too old");
  return reinterpret_cast<F*>(found);
}

/// What is used of libqpdf. It is opened by the child, when a PDF is to be read and not before: it
/// brings six libraries along and would add half to the start of every command.
class Qpdf {
 public:
  explicit Qpdf(std::string_view pdf) {
    data_ = in_library<decltype(qpdf_init)>(library_, "qpdf_init")();
    in_library<decltype(qpdf_silence_errors)>(library_, "qpdf_silence_errors")(data_);
    in_library<decltype(qpdf_set_suppress_warnings)>(library_, "qpdf_set_suppress_warnings")(
        data_, QPDF_TRUE);
    const auto read = in_library<decltype(qpdf_read_memory)>(library_, "qpdf_read_memory");
    readable_ = (read(data_, "certificate", pdf.data(), pdf.size(), nullptr) & QPDF_ERRORS) == 0;
  }

  bool readable() const { return readable_; }
  bool encrypted() const { return is_encrypted_(data_) != QPDF_FALSE; }
  qpdf_oh root() const { return root_(data_); }
  /// A null object where `object` is no dictionary or has no such key.
  qpdf_oh get(qpdf_oh object, const char* key) const { return key_(data_, object, key); }
  bool is_stream(qpdf_oh object) const { return is_stream_(data_, object) != QPDF_FALSE; }
  /// 0 where `object` is no array.
  int size(qpdf_oh object) const {
    return is_array_(data_, object) != QPDF_FALSE ? items_(data_, object) : 0;
  }
  qpdf_oh at(qpdf_oh array, int index) const { return item_(data_, array, index); }
  /// Empty where `object` is no string.
  std::string text(qpdf_oh object) const {
    const char* bytes = nullptr;
    std::size_t length = 0;
    if (text_(data_, object, &bytes, &length) == QPDF_FALSE) return {};
    return {bytes, length};
  }
  qpdf_oh trailer() const { return find<decltype(qpdf_get_trailer)>("qpdf_get_trailer")(data_); }
  bool is_null(qpdf_oh object) const {
    return find<decltype(qpdf_oh_is_null)>("qpdf_oh_is_null")(data_, object) != QPDF_FALSE;
  }
  /// 0 where `object` is no whole number.
  long long number(qpdf_oh object) const {
    return find<decltype(qpdf_oh_get_int_value)>("qpdf_oh_get_int_value")(data_, object);
  }
  /// Empty where `object` is no name.
  std::string called(qpdf_oh object) const {
    const bool is = find<decltype(qpdf_oh_is_name)>("qpdf_oh_is_name")(data_, object) != QPDF_FALSE;
    return is ? find<decltype(qpdf_oh_get_name)>("qpdf_oh_get_name")(data_, object) : "";
  }
  /// The bytes of a string; empty where `object` is none.
  std::string bytes(qpdf_oh object) const {
    std::size_t length = 0;
    const char* all = find<decltype(qpdf_oh_get_binary_string_value)>(
        "qpdf_oh_get_binary_string_value")(data_, object, &length);
    return {all, all != nullptr ? length : 0};
  }
  std::optional<std::string> unpacked(qpdf_oh stream) const {
    QPDF_BOOL filtered = QPDF_FALSE;
    unsigned char* bytes = nullptr;
    std::size_t length = 0;
    const auto code = stream_(data_, stream, qpdf_dl_all, &filtered, &bytes, &length);
    if ((code & QPDF_ERRORS) != 0 || filtered == QPDF_FALSE) return std::nullopt;
    return std::string(reinterpret_cast<const char*>(bytes), length);
  }
  /// The whole file written plainly: every stream unpacked, one fixed /ID.
  std::string plain() const {
    find<decltype(qpdf_init_write_memory)>("qpdf_init_write_memory")(data_);
    find<decltype(qpdf_set_static_ID)>("qpdf_set_static_ID")(data_, QPDF_TRUE);
    find<decltype(qpdf_set_qdf_mode)>("qpdf_set_qdf_mode")(data_, QPDF_TRUE);
    find<decltype(qpdf_set_suppress_original_object_IDs)>(
        "qpdf_set_suppress_original_object_IDs")(data_, QPDF_TRUE);
    if ((find<decltype(qpdf_write)>("qpdf_write")(data_) & QPDF_ERRORS) != 0) return {};
    const auto* bytes = find<decltype(qpdf_get_buffer)>("qpdf_get_buffer")(data_);
    const auto size = find<decltype(qpdf_get_buffer_length)>("qpdf_get_buffer_length")(data_);
    return {reinterpret_cast<const char*>(bytes), bytes != nullptr ? size : 0};
  }

 private:
  template <class F>
  F* find(const char* name) const {
    return in_library<F>(library_, name);
  }
  // Never closed: the child that opened it ends at once.
  void* library_ = ::dlopen(OHMLEAF_QPDF_SONAME, RTLD_NOW | RTLD_LOCAL);
  decltype(qpdf_is_encrypted)* is_encrypted_ =
      find<decltype(qpdf_is_encrypted)>("qpdf_is_encrypted");
  decltype(qpdf_get_root)* root_ = find<decltype(qpdf_get_root)>("qpdf_get_root");
  decltype(qpdf_oh_get_key_if_dict)* key_ =
      find<decltype(qpdf_oh_get_key_if_dict)>("qpdf_oh_get_key_if_dict");
  decltype(qpdf_oh_is_stream)* is_stream_ = find<decltype(qpdf_oh_is_stream)>("qpdf_oh_is_stream");
  decltype(qpdf_oh_is_array)* is_array_ = find<decltype(qpdf_oh_is_array)>("qpdf_oh_is_array");
  decltype(qpdf_oh_get_array_n_items)* items_ =
      find<decltype(qpdf_oh_get_array_n_items)>("qpdf_oh_get_array_n_items");
  decltype(qpdf_oh_get_array_item)* item_ =
      find<decltype(qpdf_oh_get_array_item)>("qpdf_oh_get_array_item");
  decltype(qpdf_oh_get_value_as_utf8)* text_ =
      find<decltype(qpdf_oh_get_value_as_utf8)>("qpdf_oh_get_value_as_utf8");
  decltype(qpdf_oh_get_stream_data)* stream_ =
      find<decltype(qpdf_oh_get_stream_data)>("qpdf_oh_get_stream_data");
  qpdf_data data_ = nullptr;
  bool readable_ = false;
};

/// The file specifications in a name tree (ISO 32000-1, 7.9.6), to a sane depth and number.
bool gather(const Qpdf& pdf, qpdf_oh node, int depth, std::vector<qpdf_oh>& files) {
  if (depth > kMaxDepth) return false;
  const qpdf_oh names = pdf.get(node, "/Names"), kids = pdf.get(node, "/Kids");
  for (int i = 1; i < pdf.size(names); i += 2) {
    files.push_back(pdf.at(names, i));
    if (files.size() > kMaxAttachments) return false;
  }
  const int count = pdf.size(kids);
  if (count > static_cast<int>(kMaxAttachments)) return false;
  for (int i = 0; i < count; ++i)
    if (!gather(pdf, pdf.at(kids, i), depth + 1, files)) return false;
  return true;
}

std::string unpack(std::string_view bytes) {
  const Qpdf pdf(bytes);
  // An encrypted file that asks for a password is not readable, but known to be encrypted.
  if (pdf.encrypted()) return kError + std::string("it is encrypted");
  if (!pdf.readable()) return kError + std::string("it is no PDF, or it is damaged");
  std::vector<qpdf_oh> files;
  const qpdf_oh tree = pdf.get(pdf.get(pdf.root(), "/Names"), "/EmbeddedFiles");
  if (!gather(pdf, tree, 0, files)) return kError + std::string("it has too many files embedded");
  std::string answer(1, kFiles);
  std::size_t room = kMaxAttachedBytes;
  for (const qpdf_oh file : files) {
    const qpdf_oh stream = pdf.get(pdf.get(file, "/EF"), "/F");
    const auto content = pdf.is_stream(stream) ? pdf.unpacked(stream) : std::nullopt;
    if (!content) return kError + std::string("a file embedded in it cannot be unpacked");
    if (content->size() > room)
      return kError + std::string("the files embedded in it are too large");
    room -= content->size();
    const std::string name = pdf.text(pdf.get(file, "/UF"));
    put(answer, name.empty() ? pdf.text(pdf.get(file, "/F")) : name);
    put(answer, *content);
  }
  return answer;
}

std::string unpack_or_say(std::string_view pdf) {
  try {
    return unpack(pdf);
  } catch (const std::bad_alloc&) {
    return kError + std::string("it needs too much memory");
  } catch (const std::exception& e) {
    return kError + std::string(e.what());
  }
}

std::string describe_signature(std::string_view bytes) {
  const Qpdf pdf(bytes);
  if (!pdf.readable() || pdf.encrypted()) return {};
  const qpdf_oh fields = pdf.get(pdf.get(pdf.root(), "/AcroForm"), "/Fields");
  const qpdf_oh signature = pdf.get(pdf.at(fields, 0), "/V");
  const qpdf_oh ranges = pdf.get(signature, "/ByteRange");
  std::string answer;
  put(answer, std::to_string(pdf.size(fields)));
  put(answer, pdf.is_null(pdf.get(pdf.trailer(), "/Prev")) ? "" : "updated");
  put(answer, pdf.called(pdf.get(signature, "/SubFilter")));
  put(answer, pdf.bytes(pdf.get(signature, "/Contents")));
  put(answer, pdf.text(pdf.get(signature, "/M")));
  for (int i = 0; i < std::min(pdf.size(ranges), 16); ++i)
    put(answer, std::to_string(pdf.number(pdf.at(ranges, i))));
  return answer;
}

bool plain_name(std::string_view name) {
  return !name.empty() && name.size() <= 128 && name.front() != '.' &&
         std::all_of(name.begin(), name.end(), [](char c) {
           return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                  c == '.' || c == '-' || c == '_';
         });
}

std::optional<std::vector<Attachment>> refuse(const std::string& why, Diagnostics& out) {
  out.error(
      "bad-pdf", {}, "the PDF cannot be read: " + visible(why),
      {"Give the certificate as it was issued, not a scan, a print-out or a converted copy."});
  return std::nullopt;
}

}  // namespace

std::optional<std::vector<Attachment>> attachments_of(std::string_view pdf, Diagnostics& out) {
  if (pdf.size() > kMaxPdfBytes) return refuse("it is larger than 64 MiB", out);
  const auto answer = run_fenced(kFence, [&] { return unpack_or_say(pdf); });
  if (!answer || answer->empty()) return refuse("it takes too much time or memory", out);
  if (answer->front() != kFiles) return refuse(answer->substr(1), out);
  std::string_view rest(*answer);
  rest.remove_prefix(1);
  std::vector<Attachment> found;
  while (!rest.empty()) {
    Attachment a;
    if (!take(rest, a.name) || !take(rest, a.bytes)) return refuse("it is damaged", out);
    if (!plain_name(a.name)) {
      out.warning("strange-attachment", {},
                  "\"" + visible(a.name.substr(0, 128)) +
                      "\", embedded in the PDF, is left out: ohmleaf gives no file such a name");
      continue;
    }
    if (find_attachment(found, a.name)) return refuse("two files in it are named " + a.name, out);
    found.push_back(std::move(a));
  }
  std::sort(found.begin(), found.end(),
            [](const Attachment& a, const Attachment& b) { return a.name < b.name; });
  return found;
}

std::optional<std::string> plain_content(std::string_view pdf) {
  if (pdf.size() > kMaxPdfBytes) return std::nullopt;
  auto answer = run_fenced(kFence, [&] {
    const Qpdf read(pdf);
    return read.readable() ? read.plain() : std::string();
  });
  if (!answer || answer->empty()) return std::nullopt;
  return answer;
}

std::optional<SignatureField> signature_field_of(std::string_view pdf) {
  if (pdf.size() > kMaxPdfBytes) return std::nullopt;
  const auto answer = run_fenced(kFence, [&] { return describe_signature(pdf); });
  if (!answer || answer->empty()) return std::nullopt;
  std::string_view rest(*answer);
  SignatureField f;
  std::string fields, updated, range;
  if (!take(rest, fields) || !take(rest, updated) || !take(rest, f.kind) ||
      !take(rest, f.contents) || !take(rest, f.moment))
    return std::nullopt;
  f.fields = std::strtoul(fields.c_str(), nullptr, 10);
  f.updated = !updated.empty();
  while (take(rest, range)) f.ranges.push_back(std::strtoll(range.c_str(), nullptr, 10));
  return f;
}

const Attachment* find_attachment(const std::vector<Attachment>& attachments,
                                  std::string_view name) {
  const auto at = std::find_if(attachments.begin(), attachments.end(),
                               [&](const Attachment& a) { return a.name == name; });
  return at == attachments.end() ? nullptr : &*at;
}

}  // namespace ohmleaf::app
