#include "late/door.h"
#include "late/pictures.h"

namespace ohmleaf::app {
namespace {

const late::Pictures& door() {
  static const auto& opened = late::open<late::Pictures>("pictures");
  return opened;
}

}  // namespace

void ready_decoders() { door(); }
std::optional<layout::Image> decode_png(std::string_view bytes, std::string& error) {
  return door().decode_png(bytes, error);
}
std::optional<layout::Image> decode_jpeg(std::string_view bytes, std::string& error) {
  return door().decode_jpeg(bytes, error);
}
std::string encode_png(const layout::Image& image) { return door().encode_png(image); }

}  // namespace ohmleaf::app
