#include "late/door.h"
#include "late/pictures.h"

namespace ohmleaf::app {

void ready_decoders() { late::door<late::Pictures>(); }
std::optional<layout::Image> decode_png(std::string_view bytes, std::string& error) {
  return late::door<late::Pictures>().decode_png(bytes, error);
}
std::optional<layout::Image> decode_jpeg(std::string_view bytes, std::string& error) {
  return late::door<late::Pictures>().decode_jpeg(bytes, error);
}
std::string encode_png(const layout::Image& image) {
  return late::door<late::Pictures>().encode_png(image);
}

}  // namespace ohmleaf::app
