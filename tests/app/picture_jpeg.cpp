#include <cstdio>
#include <cstdlib>

// jpeglib.h needs stdio before it.
#include <jpeglib.h>

#include "app/picture_kinds.h"

namespace pictures {
namespace {

constexpr int kWidth = 24, kHeight = 16;

struct Options {
  int components = 3;
  bool subsampled = false, progressive = false;
  int restarts = 0;
  int orientation = 0;
};

/// A slope, so that what the lossy part takes away stays small.
int slope(int x, int y, int channel) {
  if (channel == 0) return 40 + x * 7;
  if (channel == 1) return 220 - y * 10;
  return channel == 2 ? 60 + x * 2 + y * 4 : 30;
}

/// An Exif marker with nothing but the orientation, in the byte order of Intel or of Motorola.
std::string exif(int orientation) {
  const bool little = orientation % 2 == 0;
  const auto number = [little](unsigned n, int bytes) {
    std::string out;
    for (int i = 0; i < bytes; ++i)
      out += static_cast<char>(n >> 8 * (little ? i : bytes - 1 - i) & 0xFF);
    return out;
  };
  return std::string("Exif\0\0", 6) + (little ? "II" : "MM") + number(42, 2) + number(8, 4) +
         number(1, 2) + number(0x0112, 2) + number(3, 2) + number(1, 4) +
         number(static_cast<unsigned>(orientation), 2) + number(0, 2) + number(0, 4);
}

std::string written(const Options& o) {
  jpeg_compress_struct jpeg{};
  jpeg_error_mgr errors{};
  jpeg.err = jpeg_std_error(&errors);
  jpeg_create_compress(&jpeg);
  unsigned char* memory = nullptr;
  unsigned long size = 0;
  jpeg_mem_dest(&jpeg, &memory, &size);
  jpeg.image_width = kWidth;
  jpeg.image_height = kHeight;
  jpeg.input_components = o.components;
  jpeg.in_color_space = o.components == 1 ? JCS_GRAYSCALE : o.components == 3 ? JCS_RGB : JCS_CMYK;
  jpeg_set_defaults(&jpeg);
  jpeg_set_quality(&jpeg, 98, TRUE);
  for (int i = 0; !o.subsampled && i < o.components; ++i)
    jpeg.comp_info[i].h_samp_factor = jpeg.comp_info[i].v_samp_factor = 1;
  if (o.progressive) jpeg_simple_progression(&jpeg);
  jpeg.restart_interval = static_cast<unsigned>(o.restarts);
  jpeg_start_compress(&jpeg, TRUE);
  if (o.orientation > 0) {
    const std::string marker = exif(o.orientation);
    jpeg_write_marker(&jpeg, JPEG_APP0 + 1, reinterpret_cast<const JOCTET*>(marker.data()),
                      static_cast<unsigned>(marker.size()));
  }
  for (int y = 0; y < kHeight; ++y) {
    std::vector<JSAMPLE> row;
    for (int x = 0; x < kWidth; ++x)
      for (int c = 0; c < o.components; ++c) row.push_back(static_cast<JSAMPLE>(slope(x, y, c)));
    JSAMPROW at = row.data();
    jpeg_write_scanlines(&jpeg, &at, 1);
  }
  jpeg_finish_compress(&jpeg);
  std::string out(reinterpret_cast<const char*>(memory), size);
  jpeg_destroy_compress(&jpeg);
  std::free(memory);
  return out;
}

/// Where the row and the column of the picture as seen lie in the stored one (Exif 2.3, table of
/// the orientation tag: which side of the scene is row 0, which is column 0).
ohmleaf::layout::Image seen(const Options& o) {
  const int turn = o.orientation == 0 ? 1 : o.orientation;
  ohmleaf::layout::Image out;
  out.grey = o.components == 1;
  out.width = turn >= 5 ? kHeight : kWidth;
  out.height = turn >= 5 ? kWidth : kHeight;
  for (int y = 0; y < out.height; ++y)
    for (int x = 0; x < out.width; ++x) {
      const int right = kWidth - 1, bottom = kHeight - 1;
      int sx = x, sy = y;
      switch (turn) {
        case 2:
          sx = right - x;
          break;  // row 0 top, column 0 right
        case 3:
          sx = right - x;
          sy = bottom - y;
          break;  // bottom, right
        case 4:
          sy = bottom - y;
          break;  // bottom, left
        case 5:
          sx = y;
          sy = x;
          break;  // left, top
        case 6:
          sx = y;
          sy = bottom - x;
          break;  // right, top
        case 7:
          sx = right - y;
          sy = bottom - x;
          break;  // right, bottom
        case 8:
          sx = right - y;
          sy = x;
          break;  // left, bottom
        default:
          break;
      }
      for (int c = 0; c < o.components; ++c) out.pixels += static_cast<char>(slope(sx, sy, c));
    }
  return out;
}

Picture made(std::string name, const Options& o) {
  Picture p;
  p.name = std::move(name);
  p.bytes = written(o);
  p.expected = seen(o);
  for (std::size_t i = 0; i + 1 < p.bytes.size(); ++i)
    if (p.bytes[i] == '\xFF' && p.bytes[i + 1] != '\0' && i > 0) p.seams.push_back(i);
  return p;
}

}  // namespace

std::vector<Picture> every_jpeg() {
  std::vector<Picture> out;
  out.push_back(made("grey", {1}));
  out.push_back(made("grey, progressive", {1, false, true}));
  out.push_back(made("colour", {3}));
  out.push_back(made("colour, subsampled", {3, true}));
  out.push_back(made("colour, progressive", {3, false, true}));
  out.push_back(made("colour, with restarts", {3, false, false, 2}));
  for (int i = 1; i <= 8; ++i)
    out.push_back(made("orientation " + std::to_string(i), {3, false, false, 0, i}));
  return out;
}

std::string cmyk_jpeg() {
  return written({4});
}

}  // namespace pictures
