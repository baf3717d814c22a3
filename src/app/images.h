#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include "base/diagnostic.h"
#include "layout/frames.h"
#include "record/field.h"

namespace ohmleaf::app {

/// An image file beside installer.toml, with its pixels.
struct LoadedImage {
  std::string path;   ///< as the profile names it
  std::string bytes;  ///< the same pixels written anew as PNG: what a camera or an editor noted in
                      ///< the file (places, names, versions) goes into no certificate
  layout::Image pixels;
};
/// What the `index`th image of a certificate is called there and in the archive: "image-1.png".
std::string image_file_name(std::size_t index);

inline constexpr std::size_t kMaxImageBytes = 4u << 20;
inline constexpr long kMaxPixels = 4'000'000;
inline constexpr int kMaxDecodeSeconds = 2;

/// Reads and decodes a PNG or JPEG whose path stands in the profile, relative to `folder`. Missing,
/// not an image, damaged, too large or too slow: an error at the place of the path. Decoding runs
/// in a child process with limits of memory and time, so that a hostile file harms nothing; call
/// it before any thread is started.
std::optional<LoadedImage> load_image(const std::filesystem::path& folder,
                                      const record::Text& path, Diagnostics& out);

/// The decoders themselves, without the child process. On failure `error` says why.
/// Opens the libraries: before a child decodes, so that the parent sees one that is missing.
void ready_decoders();
std::optional<layout::Image> decode_png(std::string_view bytes, std::string& error);
std::optional<layout::Image> decode_jpeg(std::string_view bytes, std::string& error);
/// The pixels as a PNG without any note beside them; empty where the library fails.
std::string encode_png(const layout::Image& image);

}  // namespace ohmleaf::app
