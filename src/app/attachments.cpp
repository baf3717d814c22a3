#include "app/attachments.h"

#include <algorithm>
#include <cstdint>
#include <cstring>
#include <qpdf/Pipeline.hh>
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFEmbeddedFileDocumentHelper.hh>
#include <stdexcept>

#include "app/fenced.h"
#include "base/text.h"

namespace ohmleaf::app {
namespace {

// The child answers with one letter, then a list of names and bytes or a sentence.
constexpr char kFiles = 'f', kError = 'e';

constexpr Fence kFence{5, std::size_t{512} << 20};

/// Gathers what a stream unpacks to, and stops it where it would be too much.
class Gather : public Pipeline {
 public:
  explicit Gather(std::size_t room) : Pipeline("attachment", nullptr), room_(room) {}
  void write(unsigned char const* data, std::size_t size) override {
    full_ = full_ || size > room_ - bytes_.size();
    if (full_) throw std::length_error("no room");  // qpdf keeps it to itself
    bytes_.append(reinterpret_cast<const char*>(data), size);
  }
  void finish() override {}
  const std::string& bytes() const { return bytes_; }
  bool full() const { return full_; }

 private:
  std::size_t room_;
  std::string bytes_;
  bool full_ = false;
};

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

std::string unpack(std::string_view pdf) {
  QPDF document;
  document.setSuppressWarnings(true);
  document.processMemoryFile("certificate", pdf.data(), pdf.size());
  if (document.isEncrypted()) return kError + std::string("it is encrypted");
  std::string answer(1, kFiles);
  std::size_t count = 0, room = kMaxAttachedBytes;
  QPDFEmbeddedFileDocumentHelper files(document);
  for (const auto& [key, file] : files.getEmbeddedFiles()) {
    if (++count > kMaxAttachments) return kError + std::string("it has too many files embedded");
    Gather gather(room);
    QPDFObjectHandle stream = file->getEmbeddedFileStream();
    const bool whole = stream.isStream() && stream.pipeStreamData(&gather, 0, qpdf_dl_all);
    if (gather.full()) return kError + std::string("the files embedded in it are too large");
    if (!whole) {
      return kError + std::string("a file embedded in it cannot be unpacked");
    }
    room -= gather.bytes().size();
    put(answer, file->getFilename());
    put(answer, gather.bytes());
  }
  return answer;
}

std::string unpack_or_say(std::string_view pdf) {
  try {
    return unpack(pdf);
  } catch (const std::bad_alloc&) {
    return kError + std::string("it needs too much memory");
  } catch (const std::exception&) {  // qpdf's own words are for people who write PDF files
    return kError + std::string("it is no PDF, or it is damaged");
  }
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

const Attachment* find_attachment(const std::vector<Attachment>& attachments,
                                  std::string_view name) {
  const auto at = std::find_if(attachments.begin(), attachments.end(),
                               [&](const Attachment& a) { return a.name == name; });
  return at == attachments.end() ? nullptr : &*at;
}

}  // namespace ohmleaf::app
