#include "app/images.h"

#include <fcntl.h>
#include <poll.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cerrno>
#include <chrono>
#include <csignal>
#include <cstring>

#include "base/files.h"
#include "base/text.h"

// A hostile image is decoded in a child that can do no harm: little memory, little time, nothing
// but a pipe to write to. What comes back is checked against its own size before it is believed.

namespace ohmleaf::app {
namespace {

struct Header {
  int ok = 0;
  int width = 0, height = 0;
  int grey = 0, alpha = 0;
};

constexpr std::string_view kPng("\x89PNG\r\n\x1a\n", 8);
constexpr std::string_view kJpeg("\xFF\xD8\xFF", 3);

void write_all(int fd, const void* data, std::size_t size) {
  const auto* p = static_cast<const char*>(data);
  while (size > 0) {
    const ssize_t n = ::write(fd, p, size);
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return;
    p += n;
    size -= static_cast<std::size_t>(n);
  }
}

void limit_self() {
  const rlimit cpu{kMaxDecodeSeconds, kMaxDecodeSeconds};
  ::setrlimit(RLIMIT_CPU, &cpu);
  const rlimit none{0, 0};
  ::setrlimit(RLIMIT_FSIZE, &none);
  ::setrlimit(RLIMIT_CORE, &none);
#if !defined(__SANITIZE_ADDRESS__)  // the sanitizer reserves far more than it uses
  const rlimit memory{256u << 20, 256u << 20};
  ::setrlimit(RLIMIT_AS, &memory);
#endif
}

[[noreturn]] void decode_in_child(int fd, std::string_view bytes) {
  limit_self();
  std::string error;
  std::optional<layout::Image> image;
  try {
    image = bytes.starts_with(kPng) ? decode_png(bytes, error) : decode_jpeg(bytes, error);
  } catch (...) {
    error = "it needs too much memory";
  }
  Header h;
  if (image) {
    h = {1, image->width, image->height, image->grey ? 1 : 0, image->alpha.empty() ? 0 : 1};
    write_all(fd, &h, sizeof h);
    write_all(fd, image->pixels.data(), image->pixels.size());
    write_all(fd, image->alpha.data(), image->alpha.size());
  } else {
    write_all(fd, &h, sizeof h);
    write_all(fd, error.data(), error.size());
  }
  ::_exit(0);
}

/// All that the child says, or nothing when it takes too long.
std::optional<std::string> listen(int fd) {
  using Clock = std::chrono::steady_clock;
  const auto until = Clock::now() + std::chrono::seconds(kMaxDecodeSeconds + 1);
  std::string out;
  char buffer[65536];
  for (;;) {
    const auto left = std::chrono::duration_cast<std::chrono::milliseconds>(until - Clock::now());
    pollfd p{fd, POLLIN, 0};
    const int ready = left.count() <= 0 ? 0 : ::poll(&p, 1, static_cast<int>(left.count()));
    if (ready < 0 && errno == EINTR) continue;
    if (ready <= 0) return std::nullopt;
    const ssize_t n = ::read(fd, buffer, sizeof buffer);
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) return std::nullopt;
    if (n == 0) return out;
    out.append(buffer, static_cast<std::size_t>(n));
  }
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
  int ends[2];
  if (::pipe2(ends, O_CLOEXEC) != 0) {
    error = errno_text(errno);
    return std::nullopt;
  }
  const pid_t child = ::fork();
  if (child == 0) decode_in_child(ends[1], bytes);
  ::close(ends[1]);
  std::optional<std::string> said;
  if (child > 0) said = listen(ends[0]);
  ::close(ends[0]);
  if (child < 0) {
    error = errno_text(errno);
    return std::nullopt;
  }
  if (!said) ::kill(child, SIGKILL);
  while (::waitpid(child, nullptr, 0) < 0 && errno == EINTR) {
  }
  return believe(said.value_or(std::string()), error);
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
  image.name = file.filename().string();
  image.bytes = std::move(*bytes);
  image.pixels = std::move(*pixels);
  return image;
}

}  // namespace ohmleaf::app
