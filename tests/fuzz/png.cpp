// The PNG decoder, and the PNG that is written anew from the pixels.
#include "app/images.h"
#include "fuzz/target.h"

using namespace ohmleaf;

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view bytes = fuzz::text_of(data, size);
  std::string error;
  const auto image = app::decode_png(bytes, error);
  fuzz::promise(image.has_value() == error.empty(), "an image is decoded, or there is an error");
  if (!image) return 0;
  fuzz::promise(static_cast<long>(image->width) * image->height <= app::kMaxPixels,
                "no image has more pixels than allowed");
  const std::string written = app::encode_png(*image);
  fuzz::promise(!written.empty(), "what was decoded can be written");
  const auto again = app::decode_png(written, error);
  fuzz::promise(again && again->pixels == image->pixels && again->alpha == image->alpha,
                "pixels written anew are the same pixels");
  return 0;
}
