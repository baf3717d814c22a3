#pragma once
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/date.h"
#include "base/diagnostic.h"
#include "layout/frames.h"

namespace ohmleaf::pdf {

/// A file embedded as an associated file (PDF/A-3, ISO 19005-3 6.8).
struct Attachment {
  std::string name;         ///< "job.toml"
  std::string media_type;   ///< "application/toml"
  std::string description;
  std::string bytes;
  enum class Relation { source, data, supplement } relation = Relation::source;
  /// The same bytes compressed (as pdf/deflate.h does) and their MD5, where both were made
  /// beforehand; what the views show must stay.
  struct Ready {
    std::string_view deflated, md5;
  };
  std::optional<Ready> ready{};
};

/// The signature field that a signed certificate has, and no other file of ours.
struct SealSpace {
  std::string signer;    ///< whom the signature names
  std::size_t room = 0;  ///< for the signature, in bytes
};

/// What goes into Info and XMP. Everything is given by the caller: no clock, no environment.
struct Meta {
  std::string title;
  std::string author;
  std::string subject;
  std::string keywords;
  std::string creator;      ///< "ohmleaf 0.1.0"
  Instant created;
  std::string id_seed;      ///< digest of all input; the file's /ID is made from it
  std::vector<Attachment> attachments;
  std::optional<SealSpace> seal;  ///< needs a document with a line for it
};

/// The embedded fonts, read once per process; thread-safe after the first call.
const layout::FontMetrics& font_metrics();

/// Draws a laid-out document as PDF/A-3a and PDF/UA-1. Same input, same bytes. A glyph that the
/// fonts lack, text that is not valid, or any failure of the library: an error and nothing. Whoever
/// moves the document in saves memory: each page's frames go once they are drawn.
std::optional<std::string> render(layout::Document document, const Meta& meta, Diagnostics& out);

/// Where the signature of a PDF goes: [begin, end), from the bracket before its hex digits to the
/// one after them. All the rest is signed.
struct Hole {
  std::size_t begin = 0, end = 0;
  friend bool operator==(const Hole&, const Hole&) = default;
};

/// The hole in a file that `render` made with a seal, by a strict reading of the bytes: one
/// /ByteRange that leaves out one string of hex digits and covers all else. Nothing for any other
/// file, whatever a lenient reader might make of it.
std::optional<Hole> hole_of(std::string_view pdf);
/// Puts the signature in, in small hex digits; the rest of the hole stays zeros. False where the
/// room is too small.
bool fill_hole(std::string& pdf, const Hole& hole, std::string_view signature);
/// What stands in the hole as bytes, the zeros after it too. Nothing where it is not written as
/// `fill_hole` writes it.
std::optional<std::string> hole_content(std::string_view pdf, const Hole& hole);
/// Whether everything but the signature is as it was rendered, by the file's own plain digest. It
/// proves nothing against intent: it tells a signature that was exchanged from a file that was
/// changed. Nothing where the file has no such digest.
std::optional<bool> own_digest_holds(std::string_view pdf, const Hole& hole);

}  // namespace ohmleaf::pdf
