// The PNG decoder, and the PNG that is written anew from the pixels.
#include "fuzz/picture.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  fuzz::picture(fuzz::text_of(data, size), ohmleaf::app::decode_png);
  return 0;
}
