#include <csetjmp>
#include <cstdio>
#include <cstring>

// jpeglib.h needs stdio before it.
#include <jpeglib.h>

#include "app/images.h"

namespace ohmleaf::app {
namespace {

struct State {
  jpeg_error_mgr errors{};
  std::jmp_buf back{};
  char message[JMSG_LENGTH_MAX] = {};
  jpeg_decompress_struct jpeg{};
  std::string raw;
  int orientation = 1;
  bool created = false;

  ~State() {
    if (created) jpeg_destroy_decompress(&jpeg);
  }
};

State* state_of(j_common_ptr c) { return static_cast<State*>(c->client_data); }

[[noreturn]] void on_error(j_common_ptr c) {
  (*c->err->format_message)(c, state_of(c)->message);
  std::longjmp(state_of(c)->back, 1);
}
/// A warning means damaged data that the library would paper over: refused.
void on_message(j_common_ptr c, int level) {
  if (level < 0) on_error(c);
}

[[noreturn]] void refuse(State& s, const char* why) {
  std::strncpy(s.message, why, sizeof s.message - 1);
  std::longjmp(s.back, 1);
}

unsigned number(const unsigned char* p, int bytes, bool little) {
  unsigned n = 0;
  for (int i = 0; i < bytes; ++i) n |= unsigned{p[little ? i : bytes - 1 - i]} << (8 * i);
  return n;
}

/// The orientation tag (0x0112) of the first directory of an Exif marker; 1 where there is none.
int exif_orientation(const unsigned char* data, std::size_t size) {
  if (size < 14 || std::memcmp(data, "Exif\0\0", 6) != 0) return 1;
  const unsigned char* tiff = data + 6;
  const std::size_t length = size - 6;
  const bool little = tiff[0] == 'I';
  const std::size_t directory = number(tiff + 4, 4, little);
  if (directory + 2 > length) return 1;
  const unsigned entries = number(tiff + directory, 2, little);
  for (unsigned i = 0; i < entries; ++i) {
    const std::size_t at = directory + 2 + std::size_t{i} * 12;
    if (at + 12 > length) return 1;
    if (number(tiff + at, 2, little) != 0x0112) continue;
    const unsigned value = number(tiff + at + 8, 2, little);
    return value >= 1 && value <= 8 ? static_cast<int>(value) : 1;
  }
  return 1;
}

bool read_all(State& s, std::string_view bytes) {
  s.jpeg.err = jpeg_std_error(&s.errors);
  s.errors.error_exit = on_error;
  s.errors.emit_message = on_message;
  s.jpeg.client_data = &s;
  if (setjmp(s.back) != 0) return false;
  jpeg_create_decompress(&s.jpeg);
  s.created = true;
  jpeg_save_markers(&s.jpeg, JPEG_APP0 + 1, 0xFFFF);
  jpeg_mem_src(&s.jpeg, reinterpret_cast<const unsigned char*>(bytes.data()),
               static_cast<unsigned long>(bytes.size()));
  jpeg_read_header(&s.jpeg, TRUE);
  if (static_cast<long>(s.jpeg.image_width) * static_cast<long>(s.jpeg.image_height) > kMaxPixels)
    refuse(s, "it has more than 4 million pixels");
  if (s.jpeg.jpeg_color_space == JCS_CMYK || s.jpeg.jpeg_color_space == JCS_YCCK)
    refuse(s, "it is in printers' colours (CMYK); save it as RGB");
  for (jpeg_saved_marker_ptr m = s.jpeg.marker_list; m != nullptr; m = m->next)
    if (m->marker == JPEG_APP0 + 1) s.orientation = exif_orientation(m->data, m->data_length);
  s.jpeg.out_color_space = s.jpeg.num_components == 1 ? JCS_GRAYSCALE : JCS_RGB;
  jpeg_start_decompress(&s.jpeg);
  const std::size_t stride = std::size_t{s.jpeg.output_width} *
                             static_cast<std::size_t>(s.jpeg.output_components);
  s.raw.assign(stride * s.jpeg.output_height, '\0');
  while (s.jpeg.output_scanline < s.jpeg.output_height) {
    auto* row = reinterpret_cast<JSAMPROW>(s.raw.data() + stride * s.jpeg.output_scanline);
    jpeg_read_scanlines(&s.jpeg, &row, 1);
  }
  jpeg_finish_decompress(&s.jpeg);
  return true;
}

/// Turns the pixels as the camera's orientation tag asks (1 to 8 of the Exif standard).
layout::Image turned(const layout::Image& in, int orientation) {
  if (orientation == 1) return in;
  layout::Image out = in;
  const bool swapped = orientation >= 5;
  if (swapped) std::swap(out.width, out.height);
  const std::size_t channels = in.grey ? 1 : 3;
  for (int y = 0; y < out.height; ++y)
    for (int x = 0; x < out.width; ++x) {
      int sx = swapped ? y : x, sy = swapped ? x : y;
      if (orientation == 2 || orientation == 3 || orientation == 7 || orientation == 8)
        sx = in.width - 1 - sx;
      if (orientation == 3 || orientation == 4 || orientation == 6 || orientation == 7)
        sy = in.height - 1 - sy;
      const auto to = (static_cast<std::size_t>(y) * static_cast<std::size_t>(out.width) + static_cast<std::size_t>(x)) * channels;
      const auto from = (static_cast<std::size_t>(sy) * static_cast<std::size_t>(in.width) + static_cast<std::size_t>(sx)) * channels;
      out.pixels.replace(to, channels, in.pixels, from, channels);
    }
  return out;
}

}  // namespace

std::optional<layout::Image> decode_jpeg(std::string_view bytes, std::string& error) {
  State s;
  if (!read_all(s, bytes)) {
    error = s.message[0] != '\0' ? s.message : "it is not a readable JPEG";
    return std::nullopt;
  }
  layout::Image image;
  image.width = static_cast<int>(s.jpeg.output_width);
  image.height = static_cast<int>(s.jpeg.output_height);
  image.grey = s.jpeg.output_components == 1;
  image.pixels = std::move(s.raw);
  return turned(image, s.orientation);
}

}  // namespace ohmleaf::app
