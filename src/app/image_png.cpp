#include <png.h>

#include <csetjmp>
#include <cstring>
#include <vector>

#include "app/images.h"

namespace ohmleaf::app {
namespace {

/// Everything that a longjmp may skip over lives here, outside the function that it leaves.
struct State {
  std::string_view bytes;
  std::size_t at = 0;
  std::string error;
  png_structp png = nullptr;
  png_infop info = nullptr;
  std::string raw;
  std::vector<png_bytep> rows;
  png_uint_32 width = 0, height = 0;
  int channels = 0;

  ~State() { png_destroy_read_struct(&png, &info, nullptr); }
};

void on_error(png_structp png, png_const_charp message) {
  static_cast<State*>(png_get_error_ptr(png))->error = message;
  std::longjmp(png_jmpbuf(png), 1);
}
void on_warning(png_structp, png_const_charp) {}

void read_bytes(png_structp png, png_bytep into, std::size_t count) {
  auto* s = static_cast<State*>(png_get_io_ptr(png));
  if (count > s->bytes.size() - s->at) png_error(png, "the file ends too early");
  std::memcpy(into, s->bytes.data() + s->at, count);
  s->at += count;
}

/// Asks for 8 bits a channel: grey, grey+alpha, RGB or RGBA, whatever the file holds.
void set_transforms(png_structp png, png_infop info) {
  const int type = png_get_color_type(png, info);
  if (type == PNG_COLOR_TYPE_PALETTE) png_set_palette_to_rgb(png);
  if (type == PNG_COLOR_TYPE_GRAY && png_get_bit_depth(png, info) < 8)
    png_set_expand_gray_1_2_4_to_8(png);
  if (png_get_valid(png, info, PNG_INFO_tRNS) != 0) png_set_tRNS_to_alpha(png);
  if (png_get_bit_depth(png, info) == 16) png_set_scale_16(png);
  png_set_interlace_handling(png);
  png_read_update_info(png, info);
}

bool read_all(State& s) {
  s.png = png_create_read_struct(PNG_LIBPNG_VER_STRING, &s, on_error, on_warning);
  if (s.png == nullptr) return false;
  s.info = png_create_info_struct(s.png);
  if (s.info == nullptr) return false;
  if (setjmp(png_jmpbuf(s.png)) != 0) return false;
  png_set_user_limits(s.png, 1'000'000, 1'000'000);  // our own cap, below, speaks plainly
  // A broken checksum anywhere: the library would drop a tRNS chunk and go on with another picture.
  png_set_crc_action(s.png, PNG_CRC_ERROR_QUIT, PNG_CRC_ERROR_QUIT);
  png_set_chunk_cache_max(s.png, 64);
  png_set_chunk_malloc_max(s.png, 8u << 20);
  png_set_read_fn(s.png, &s, read_bytes);
  png_read_info(s.png, s.info);
  s.width = png_get_image_width(s.png, s.info);
  s.height = png_get_image_height(s.png, s.info);
  if (static_cast<long>(s.width) * static_cast<long>(s.height) > kMaxPixels)
    png_error(s.png, "it has more than 4 million pixels");
  set_transforms(s.png, s.info);
  s.channels = png_get_channels(s.png, s.info);
  const std::size_t stride = png_get_rowbytes(s.png, s.info);
  s.raw.assign(stride * s.height, '\0');
  s.rows.resize(s.height);
  for (png_uint_32 y = 0; y < s.height; ++y)
    s.rows[y] = reinterpret_cast<png_bytep>(s.raw.data()) + y * stride;
  png_read_image(s.png, s.rows.data());
  png_read_end(s.png, nullptr);
  return true;
}

/// The same for writing.
struct Written {
  std::string file;
  std::string raw;
  std::vector<png_bytep> rows;
  png_structp png = nullptr;
  png_infop info = nullptr;

  ~Written() { png_destroy_write_struct(&png, &info); }
};

void on_write_error(png_structp png, png_const_charp) {
  std::longjmp(png_jmpbuf(png), 1);
}
void write_bytes(png_structp png, png_bytep bytes, std::size_t count) {
  static_cast<Written*>(png_get_io_ptr(png))
      ->file.append(reinterpret_cast<const char*>(bytes), count);
}
void flush(png_structp) {}

int color_type(const layout::Image& image) {
  if (image.grey) return image.alpha.empty() ? PNG_COLOR_TYPE_GRAY : PNG_COLOR_TYPE_GRAY_ALPHA;
  return image.alpha.empty() ? PNG_COLOR_TYPE_RGB : PNG_COLOR_TYPE_RGB_ALPHA;
}

void interleave(const layout::Image& image, Written& s) {
  const auto width = static_cast<std::size_t>(image.width);
  const auto height = static_cast<std::size_t>(image.height);
  const std::size_t colors = image.grey ? 1 : 3;
  s.raw.reserve(width * height * (colors + 1));
  for (std::size_t i = 0; i < width * height; ++i) {
    s.raw.append(image.pixels, i * colors, colors);
    if (!image.alpha.empty()) s.raw += image.alpha[i];
  }
  const std::size_t stride = width * (colors + (image.alpha.empty() ? 0 : 1));
  for (std::size_t y = 0; y < height; ++y)
    s.rows.push_back(reinterpret_cast<png_bytep>(s.raw.data()) + y * stride);
}

bool write_all(const layout::Image& image, Written& s) {
  s.png = png_create_write_struct(PNG_LIBPNG_VER_STRING, &s, on_write_error, on_warning);
  if (s.png == nullptr) return false;
  s.info = png_create_info_struct(s.png);
  if (s.info == nullptr) return false;
  if (setjmp(png_jmpbuf(s.png)) != 0) return false;
  png_set_write_fn(s.png, &s, write_bytes, flush);
  png_set_IHDR(s.png, s.info, static_cast<png_uint_32>(image.width),
               static_cast<png_uint_32>(image.height), 8, color_type(image), PNG_INTERLACE_NONE,
               PNG_COMPRESSION_TYPE_DEFAULT, PNG_FILTER_TYPE_DEFAULT);
  png_write_info(s.png, s.info);
  png_write_image(s.png, s.rows.data());
  png_write_end(s.png, nullptr);
  return true;
}

}  // namespace

void ready_decoders() {}

std::optional<layout::Image> decode_png(std::string_view bytes, std::string& error) {
  State s;
  s.bytes = bytes;
  if (!read_all(s)) {
    error = s.error.empty() ? "it is not a readable PNG" : s.error;
    return std::nullopt;
  }
  layout::Image image;
  image.width = static_cast<int>(s.width);
  image.height = static_cast<int>(s.height);
  image.grey = s.channels <= 2;
  const std::size_t colors = image.grey ? 1 : 3;
  const bool alpha = s.channels == 2 || s.channels == 4;
  const std::size_t count = static_cast<std::size_t>(s.width) * s.height;
  const auto step = static_cast<std::size_t>(s.channels);
  image.pixels.reserve(count * colors);
  for (std::size_t i = 0; i < count; ++i) {
    image.pixels.append(s.raw, i * step, colors);
    if (alpha) image.alpha += s.raw[i * step + colors];
  }
  return image;
}

std::string encode_png(const layout::Image& image) {
  Written s;
  interleave(image, s);
  if (!write_all(image, s)) return {};
  return std::move(s.file);
}

}  // namespace ohmleaf::app
