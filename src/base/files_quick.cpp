#include "base/files_quick.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <string>

#include "base/files.h"

namespace ohmleaf {
namespace {

bool put_all(int fd, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t n = ::write(fd, bytes.data(), bytes.size());
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(n));
  }
  return true;
}

}  // namespace

bool write_quick(const std::filesystem::path& path, std::string_view bytes, Diagnostics& out) {
  const auto folder = path.parent_path().empty() ? std::filesystem::path(".") : path.parent_path();
  std::string name = (folder / ".ohmleaf-XXXXXX").string();
  const auto fail = [&](const char* what, bool made) {
    const int e = errno;
    if (made) ::unlink(name.c_str());
    out.system_error(
        "cannot-write", path.string() + ": " + what + ": " + errno_text(e),
        {"Nothing was written. Free some space or choose another folder, then try again."});
    return false;
  };
  const int fd = ::mkostemp(name.data(), O_CLOEXEC);
  if (fd < 0) return fail("cannot make a file here", false);
  const bool written = ::fchmod(fd, 0644) == 0 && put_all(fd, bytes);
  const int e = errno;
  const bool closed = ::close(fd) == 0;
  if (!written) errno = e;
  if (!written || !closed) return fail("cannot write", true);
  if (::rename(name.c_str(), path.c_str()) != 0) return fail("cannot put it in place", true);
  return true;
}

}  // namespace ohmleaf
