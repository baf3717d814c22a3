#pragma once
#include <cstddef>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <string>
#include <string_view>

#include "base/diagnostic.h"
#include "base/source.h"
#include "base/text.h"
#include "places.h"

// What the fuzz targets share. A target is one file: LLVMFuzzerTestOneInput feeds bytes to one
// reader and holds it to its promises.

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

namespace fuzz {

/// Stops the run where a reader breaks its word, so that the input is kept.
inline void promise(bool kept, const char* what) {
  if (kept) return;
  std::fprintf(stderr, "broken promise: %s\n", what);
  std::abort();
}

inline std::string_view text_of(const std::uint8_t* data, std::size_t size) {
  return {reinterpret_cast<const char*>(data), size};
}

inline std::string file(const std::string& path) {
  std::ifstream in(std::string(source_root()) + "/" + path, std::ios::binary);
  std::string bytes{std::istreambuf_iterator<char>(in), {}};
  promise(!bytes.empty(), "a file of the samples can be read");
  return bytes;
}

/// Each message points into a text that is there, says something, and can be shown: the place is
/// computed as the terminal's report does it.
inline void hold(const ohmleaf::Diagnostics& found, const ohmleaf::Sources& sources) {
  for (const ohmleaf::Diagnostic& d : found.all()) {
    promise(!d.message.empty(), "a message has words");
    promise(!ohmleaf::first_invalid_utf8(ohmleaf::visible(d.message)), "a message can be printed");
    if (!d.span.valid()) continue;
    const ohmleaf::SourceText& source = sources.get(d.span.source);
    promise(d.span.begin <= d.span.end && d.span.end <= source.text().size(),
            "a message points into its file");
    const auto place = source.line_column(d.span.begin);
    promise(place.line >= 1 && place.column >= 1, "a place counts from 1");
  }
}

}  // namespace fuzz
