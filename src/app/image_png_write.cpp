#include <png.h>

#include <csetjmp>
#include <vector>

#include "app/images.h"

namespace ohmleaf::app {
namespace {

/// Everything that a longjmp may skip over lives here, outside the function that it leaves.
struct State {
  std::string file;
  std::string raw;
  std::vector<png_bytep> rows;
  png_structp png = nullptr;
  png_infop info = nullptr;

  ~State() { png_destroy_write_struct(&png, &info); }
};

void on_error(png_structp png, png_const_charp) { std::longjmp(png_jmpbuf(png), 1); }
void on_warning(png_structp, png_const_charp) {}
void write_bytes(png_structp png, png_bytep bytes, std::size_t count) {
  static_cast<State*>(png_get_io_ptr(png))
      ->file.append(reinterpret_cast<const char*>(bytes), count);
}
void flush(png_structp) {}

int color_type(const layout::Image& image) {
  if (image.grey) return image.alpha.empty() ? PNG_COLOR_TYPE_GRAY : PNG_COLOR_TYPE_GRAY_ALPHA;
  return image.alpha.empty() ? PNG_COLOR_TYPE_RGB : PNG_COLOR_TYPE_RGB_ALPHA;
}

void interleave(const layout::Image& image, State& s) {
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

bool write_all(const layout::Image& image, State& s) {
  s.png = png_create_write_struct(PNG_LIBPNG_VER_STRING, &s, on_error, on_warning);
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

std::string encode_png(const layout::Image& image) {
  State s;
  interleave(image, s);
  if (!write_all(image, s)) return {};
  return std::move(s.file);
}

}  // namespace ohmleaf::app
