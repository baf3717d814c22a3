#include "app/witness.h"

#include "app/attachments.h"
#include "app/documents.h"
#include "base/digest.h"
#include "base/json.h"
#include "base/text.h"

namespace ohmleaf::app {
namespace {

constexpr std::size_t kMaxNumber = 64, kMaxHead = 128;

}  // namespace

std::optional<archive::Witness> witness_from(std::string_view pdf, Diagnostics& out) {
  const auto files = attachments_of(pdf, out);
  if (!files) return std::nullopt;
  const Attachment* record = find_attachment(*files, kCertificateRecord);
  std::string why = "it carries no certificate number";
  const auto json = record != nullptr ? parse_json(record->bytes, why) : std::nullopt;
  archive::Witness w;
  if (json) {
    w.number = json->text("number");
    w.head = json->text("chain_head");
  }
  if (w.number.empty() || w.number.size() > kMaxNumber || w.head.empty() ||
      w.head.size() > kMaxHead || first_invalid_utf8(w.number)) {
    out.error("no-witness", {}, "the PDF is no certificate that ohmleaf issued: " + visible(why),
              {"Give the file that the client was sent, or read number and chain head off its last "
               "page: --witness NUMBER HEAD."});
    return std::nullopt;
  }
  const Json* redacted = json->find("redacted");
  if (redacted != nullptr && redacted->as_bool() && *redacted->as_bool()) return w;
  w.file_sha512 = sha512_hex(pdf);
  for (const Attachment& a : *files)
    if (a.name != kCertificateRecord) w.embedded_sha512.push_back(sha512_hex(a.bytes));
  return w;
}

}  // namespace ohmleaf::app
