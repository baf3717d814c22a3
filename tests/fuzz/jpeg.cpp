// The JPEG decoder, and the PNG that is written from the pixels.
#include "fuzz/picture.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  fuzz::picture(fuzz::text_of(data, size), ohmleaf::app::decode_jpeg);
  return 0;
}
