#pragma once
#include <optional>

#include "app/images.h"
#include "fuzz/target.h"

namespace fuzz {

/// Holds a decoder to its promises, and the PNG that is written from what it decoded.
template <class Decode>
void picture(std::string_view bytes, Decode decode) {
  using namespace ohmleaf;
  std::string error;
  const auto image = decode(bytes, error);
  promise(image.has_value() == error.empty(), "an image is decoded, or there is an error");
  if (!image) return;
  promise(static_cast<long>(image->width) * image->height <= app::kMaxPixels,
          "no image has more pixels than allowed");
  const std::string written = app::encode_png(*image);
  promise(!written.empty(), "what was decoded can be written");
  const auto again = app::decode_png(written, error);
  promise(again && again->pixels == image->pixels && again->alpha == image->alpha,
          "pixels written anew are the same pixels");
}

}  // namespace fuzz
