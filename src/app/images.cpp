#include "app/images.h"

#include <cstring>

#include "app/fenced.h"
#include "base/files.h"
#include "base/text.h"

// A hostile image is decoded in a child that can do no harm. What comes back is checked against its
// own size before it is believed.

namespace ohmleaf::app {
namespace {

struct Header {
  int ok = 0;
  int width = 0, height = 0;
  int grey = 0, alpha = 0;
};

constexpr std::string_view kPng("\x89PNG\r\n\x1a\n", 8);
constexpr std::string_view kJpeg("\xFF\xD8\xFF", 3);

std::string decoded(std::string_view bytes) {
  std::string error;
  const std::optional<layout::Image> image =
      bytes.starts_with(kPng) ? decode_png(bytes, error) : decode_jpeg(bytes, error);
  Header h;
  if (image) h = {1, image->width, image->height, image->grey ? 1 : 0, image->alpha.empty() ? 0 : 1};
  std::string answer(sizeof h, '\0');
  std::memcpy(answer.data(), &h, sizeof h);
  return answer + (image ? image->pixels + image->alpha : error);
}

std::optional<layout::Image> believe(const std::string& said, std::string& error) {
  Header h;
  if (said.size() < sizeof h) {
    error = "it cannot be decoded within 2 seconds and 256 MB";
    return std::nullopt;
  }
  std::memcpy(&h, said.data(), sizeof h);
  if (h.ok != 1) {
    error = said.substr(sizeof h);
    return std::nullopt;
  }
  const long count = static_cast<long>(h.width) * h.height;
  const bool sane = h.width > 0 && h.height > 0 && count <= kMaxPixels;
  const auto colors = static_cast<std::size_t>(sane ? count * (h.grey != 0 ? 1 : 3) : 0);
  const auto alpha = static_cast<std::size_t>(sane && h.alpha != 0 ? count : 0);
  if (!sane || said.size() != sizeof h + colors + alpha) {
    error = "it cannot be decoded";
    return std::nullopt;
  }
  layout::Image image;
  image.width = h.width;
  image.height = h.height;
  image.grey = h.grey != 0;
  image.pixels = said.substr(sizeof h, colors);
  image.alpha = said.substr(sizeof h + colors, alpha);
  return image;
}

std::optional<layout::Image> decode(std::string_view bytes, std::string& error) {
  ready_decoders();
  const Fence fence{kMaxDecodeSeconds, std::size_t{256} << 20};
  return believe(run_fenced(fence, [&] { return decoded(bytes); }).value_or(std::string()), error);
}

}  // namespace

std::optional<LoadedImage> load_image(const std::filesystem::path& folder,
                                      const record::Text& path, Diagnostics& out) {
  if (!path) return std::nullopt;
  LoadedImage image;
  const std::filesystem::path file = folder / *path;
  Diagnostics trouble;
  auto bytes = read_file(file, kMaxImageBytes, trouble);
  if (!bytes) {
    for (Diagnostic d : trouble.all()) {
      d.span = path.span;
      out.add(std::move(d));
    }
    return std::nullopt;
  }
  std::string error = "it is neither a PNG nor a JPEG";
  std::optional<layout::Image> pixels;
  if (bytes->starts_with(kPng) || bytes->starts_with(kJpeg)) pixels = decode(*bytes, error);
  if (!pixels) {
    out.error("bad-image", path.span,
              "the image \"" + visible(*path) + "\" cannot be used: " + visible(error),
              {"Save it again as PNG, at most 4 MiB and 4 million pixels."});
    return std::nullopt;
  }
  image.path = *path;
  image.bytes = encode_png(*pixels);
  image.pixels = std::move(*pixels);
  if (!image.bytes.empty()) return image;
  out.error("bad-image", path.span, "the image \"" + visible(*path) + "\" cannot be written anew",
            {"Save it again as PNG, smaller."});
  return std::nullopt;
}

std::string image_file_name(std::size_t index) {
  return "image-" + std::to_string(index + 1) + ".png";
}

}  // namespace ohmleaf::app
