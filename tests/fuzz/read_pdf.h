#pragma once
#include <qpdf/qpdf-c.h>

#include <string>
#include <vector>

#include "fuzz/target.h"

// What we write, read by a parser that knows nothing of us: PDF by libqpdf.

namespace fuzz {

struct PdfFile {
  std::string name, old_name, description, bytes;
};

class PdfReader {
 public:
  explicit PdfReader(const std::string& pdf) : data_(qpdf_init()) {
    qpdf_silence_errors(data_);
    qpdf_set_suppress_warnings(data_, QPDF_TRUE);
    const auto read = qpdf_read_memory(data_, "a.pdf", pdf.data(), pdf.size(), nullptr);
    promise((read & QPDF_ERRORS) == 0 && qpdf_get_num_pages(data_) >= 1, "qpdf reads the PDF");
    quiet();
    root_ = qpdf_get_root(data_);
  }
  ~PdfReader() { qpdf_cleanup(&data_); }
  PdfReader(const PdfReader&) = delete;
  PdfReader& operator=(const PdfReader&) = delete;

  /// Asked again after each look: qpdf reads an object when it is wanted.
  void quiet() {
    promise(qpdf_more_warnings(data_) == QPDF_FALSE, "qpdf has nothing to say of it");
  }

  /// A text of the Info dictionary: "/Title".
  std::string info(const char* key) {
    return text(get(get(qpdf_get_trailer(data_), "/Info"), key));
  }
  std::string language() { return text(get(root_, "/Lang")); }
  std::string metadata() { return stream(get(root_, "/Metadata")); }
  /// The description of a figure that is alone in the document.
  std::string figure() {
    return text(get(get(get(get(root_, "/StructTreeRoot"), "/K"), "/K"), "/Alt"));
  }
  /// The titles of the outermost bookmarks.
  std::vector<std::string> bookmarks() {
    std::vector<std::string> out;
    for (qpdf_oh at = get(get(root_, "/Outlines"), "/First");
         qpdf_oh_is_dictionary(data_, at) != QPDF_FALSE && out.size() < 100; at = get(at, "/Next"))
      out.push_back(text(get(at, "/Title")));
    return out;
  }
  std::vector<PdfFile> files() {
    std::vector<PdfFile> out;
    const qpdf_oh names = get(get(get(root_, "/Names"), "/EmbeddedFiles"), "/Names");
    const int count =
        qpdf_oh_is_array(data_, names) != QPDF_FALSE ? qpdf_oh_get_array_n_items(data_, names) : 0;
    for (int i = 0; i + 1 < count; i += 2) {
      const qpdf_oh file = qpdf_oh_get_array_item(data_, names, i + 1);
      promise(text(qpdf_oh_get_array_item(data_, names, i)) == text(get(file, "/UF")),
              "a file has the same name in the list and in itself");
      out.push_back({text(get(file, "/UF")), text(get(file, "/F")), text(get(file, "/Desc")),
                     stream(get(get(file, "/EF"), "/F"))});
    }
    return out;
  }

 private:
  qpdf_oh get(qpdf_oh object, const char* key) {
    return qpdf_oh_get_key_if_dict(data_, object, key);
  }
  std::string text(qpdf_oh object) {
    const char* bytes = nullptr;
    std::size_t length = 0;
    if (qpdf_oh_get_value_as_utf8(data_, object, &bytes, &length) == QPDF_FALSE) return {};
    return {bytes, length};
  }
  std::string stream(qpdf_oh object) {
    QPDF_BOOL filtered = QPDF_FALSE;
    unsigned char* bytes = nullptr;
    std::size_t length = 0;
    const auto code =
        qpdf_oh_get_stream_data(data_, object, qpdf_dl_all, &filtered, &bytes, &length);
    promise((code & QPDF_ERRORS) == 0, "a stream can be unpacked");
    std::string out(reinterpret_cast<const char*>(bytes), bytes != nullptr ? length : 0);
    std::free(bytes);
    return out;
  }
  qpdf_data data_;
  qpdf_oh root_ = 0;
};

}  // namespace fuzz
