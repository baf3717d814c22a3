#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "layout/frames.h"

// Pictures made from the words of the standards (PNG: ISO/IEC 15948; JPEG: by the library, with the
// markers edited by hand), each with the pixels that must come out. Nothing of the program's own is
// used to make a PNG: chunks, checksums, filters and interlacing are written here.

namespace pictures {

struct Picture {
  std::string name;
  std::string bytes;
  ohmleaf::layout::Image expected;
  std::vector<std::size_t> seams;  ///< where a chunk or segment begins
};

/// Every colour type, depth and interlacing that the standard allows, and each kind of transparency
/// by tRNS: 38 in all.
std::vector<Picture> every_png();
/// Grey, colour, subsampled, progressive, with restarts, and in the eight positions of a camera.
std::vector<Picture> every_jpeg();
/// In printers' colours, which are refused.
std::string cmyk_jpeg();

/// A chunk with its length and checksum.
std::string chunk(std::string_view type, std::string_view data);
/// zlib's format, nothing compressed.
std::string stored(std::string_view data);

}  // namespace pictures
