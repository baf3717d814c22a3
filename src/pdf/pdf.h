#pragma once
#include <memory>
#include <optional>
#include <string>
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
};

/// The embedded fonts, read once per process; thread-safe after the first call.
const layout::FontMetrics& font_metrics();

/// Draws a laid-out document as PDF/A-3a and PDF/UA-1. Same input, same bytes. A glyph that the
/// fonts lack, text that is not valid, or any failure of the library: an error and nothing.
std::optional<std::string> render(const layout::Document& document, const Meta& meta,
                                  Diagnostics& out);

}  // namespace ohmleaf::pdf
