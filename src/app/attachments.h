#pragma once
#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"

namespace ohmleaf::app {

/// A file embedded in a PDF, as that PDF says: nothing of it is trusted.
struct Attachment {
  std::string name;  ///< letters, digits, `.-_`, 1 to 128 of them, not beginning with a dot
  std::string bytes;
};

inline constexpr std::size_t kMaxPdfBytes = std::size_t{64} << 20;
inline constexpr std::size_t kMaxAttachments = 64;
/// Of all embedded files together, unpacked.
inline constexpr std::size_t kMaxAttachedBytes = std::size_t{32} << 20;

/// The files embedded in a PDF, by name. The PDF may come from anybody: it is read in a child
/// process with little memory and time. No PDF, encrypted, beyond a bound, two files of one name:
/// an error. A file whose name is not one that ohmleaf gives is left out, with a warning. An empty
/// list is no error. Call it before any thread is started.
std::optional<std::vector<Attachment>> attachments_of(std::string_view pdf, Diagnostics& out);

/// The PDF with every stream unpacked and a fixed /ID, to compare what two files hold however they
/// were compressed. Nothing where it cannot be read. In a child process, as above.
std::optional<std::string> plain_content(std::string_view pdf);

/// The signature of a PDF as a PDF reader finds it: the newest version of the document, its form,
/// the field in it.
struct SignatureField {
  std::size_t fields = 0;         ///< of the form, of any kind
  bool updated = false;           ///< the file is of several versions, one after another
  std::string kind;               ///< "/ETSI.CAdES.detached"
  std::vector<long long> ranges;  ///< of bytes that it says it is over: begin and length, in turn
  std::string contents;           ///< the signature, with the zeros after it
  std::string moment;             ///< when it was made, as it says
};
/// Nothing where the PDF cannot be read. In a child process, as above.
std::optional<SignatureField> signature_field_of(std::string_view pdf);

/// The one of that name, or null.
const Attachment* find_attachment(const std::vector<Attachment>& attachments,
                                  std::string_view name);

}  // namespace ohmleaf::app
