#include "archive/fs.h"

#include <dirent.h>
#include <fcntl.h>
#include <linux/openat2.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <memory>

#include "base/files.h"

namespace ohmleaf::archive {
namespace {

bool fail(FsError& error, int code, std::string_view action, std::string_view name) {
  error.code = code;
  error.what = std::string(action) + " " + std::string(name);
  if (code != 0) error.what += ": " + errno_text(code);
  return false;
}

/// Starts a call again where a signal interrupts it; not for ever, where the answer never changes.
template <typename Call>
auto again_if_interrupted(Call call) {
  constexpr int kTries = 100;
  auto result = call();
  for (int i = 0; i < kTries && result < 0 && (errno == EINTR || errno == EAGAIN); ++i) {
    result = call();
  }
  return result;
}

/// openat for a single name.
int open_name(int folder, const std::string& name, int flags, unsigned mode = 0) {
  return again_if_interrupted(
      [&] { return ::openat(folder, name.c_str(), flags | O_CLOEXEC | O_NOFOLLOW, mode); });
}

/// Kernels before 5.6 and some sandboxes have no openat2: the same walk, one name at a time.
int walk_beneath(int folder, const std::string& relative, int flags) {
  Fd held;
  int at = folder;
  std::size_t begin = 0;
  while (true) {
    const std::size_t slash = relative.find('/', begin);
    const std::string name = relative.substr(begin, slash - begin);
    if (name.empty() || name == "." || name == "..") {
      errno = EXDEV;
      return -1;
    }
    if (slash == std::string::npos) return open_name(at, name, flags);
    Fd next(open_name(at, name, O_RDONLY | O_DIRECTORY));
    if (!next.valid()) return -1;
    held = std::move(next);
    at = held.get();
    begin = slash + 1;
  }
}

int open_beneath(int folder, std::string_view relative, int flags) {
  const std::string path(relative);
  if (path.empty() || path.find('\0') != std::string::npos) {
    errno = EINVAL;
    return -1;
  }
  open_how how{};
  how.flags = static_cast<unsigned>(flags | O_CLOEXEC | O_NOFOLLOW);
  how.resolve = RESOLVE_BENEATH | RESOLVE_NO_SYMLINKS | RESOLVE_NO_MAGICLINKS;
  const long fd = again_if_interrupted(
      [&] { return ::syscall(SYS_openat2, folder, path.c_str(), &how, sizeof how); });
  if (fd < 0 && (errno == ENOSYS || errno == EPERM)) return walk_beneath(folder, path, flags);
  return static_cast<int>(fd);
}

bool write_whole(int fd, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t n = again_if_interrupted([&] { return ::write(fd, bytes.data(), bytes.size()); });
    if (n <= 0) {
      if (n == 0) errno = EIO;
      return false;
    }
    bytes.remove_prefix(static_cast<std::size_t>(n));
  }
  return true;
}

bool read_whole(int fd, std::size_t size_hint, std::size_t max, std::string& out) {
  // One byte more than expected, so that the usual file ends with the second read.
  out.resize(std::min(size_hint, max) + 1);
  std::size_t used = 0;
  while (true) {
    if (used == out.size()) {
      if (used > max) {
        errno = EFBIG;
        return false;
      }
      out.resize(used + (std::size_t{64} << 10));
    }
    const ssize_t n =
        again_if_interrupted([&] { return ::read(fd, out.data() + used, out.size() - used); });
    if (n < 0) return false;
    if (n == 0) break;
    used += static_cast<std::size_t>(n);
  }
  out.resize(used);
  return true;
}

EntryKind kind_of(int folder, const char* name, unsigned char type) {
  if (type == DT_REG) return EntryKind::file;
  if (type == DT_DIR) return EntryKind::folder;
  struct stat st {};
  if (type != DT_UNKNOWN || ::fstatat(folder, name, &st, AT_SYMLINK_NOFOLLOW) != 0) {
    return EntryKind::other;
  }
  if (S_ISREG(st.st_mode)) return EntryKind::file;
  return S_ISDIR(st.st_mode) ? EntryKind::folder : EntryKind::other;
}

}  // namespace

Fd& Fd::operator=(Fd&& other) noexcept {
  if (this != &other) {
    close();
    fd_ = std::exchange(other.fd_, -1);
  }
  return *this;
}

void Fd::close() {
  // What matters was fsynced and read back before; an error here tells nothing that can be used.
  if (fd_ >= 0) ::close(fd_);
  fd_ = -1;
}

Fd open_folder(const std::filesystem::path& path, FsError& error) {
  const int fd = again_if_interrupted(
      [&] { return ::open(path.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC); });
  if (fd < 0) fail(error, errno, "cannot open the folder", path.string());
  return Fd(fd);
}

Fd open_folder_beneath(int folder, std::string_view relative, FsError& error) {
  Fd fd(open_beneath(folder, relative, O_RDONLY | O_DIRECTORY));
  if (!fd.valid()) fail(error, errno, "cannot open the folder", relative);
  return fd;
}

Fd open_file_beneath(int folder, std::string_view relative, std::size_t max, FsError& error) {
  // Non-blocking, so that a pipe planted under the name cannot hang us.
  Fd fd(open_beneath(folder, relative, O_RDONLY | O_NONBLOCK));
  if (!fd.valid()) {
    fail(error, errno, "cannot open", relative);
    return {};
  }
  struct stat st {};
  if (::fstat(fd.get(), &st) != 0) {
    fail(error, errno, "cannot examine", relative);
    return {};
  }
  if (!S_ISREG(st.st_mode)) {
    fail(error, 0, "not a regular file:", relative);
    return {};
  }
  if (st.st_nlink != 1) {
    fail(error, 0,
         "has a second name on the disk (a hard link), which an archive never has:", relative);
    return {};
  }
  if (static_cast<std::uintmax_t>(st.st_size) > max) {
    fail(error, EFBIG, "larger than any file of an archive:", relative);
    return {};
  }
  return fd;
}

std::optional<std::string> read_beneath(int folder, std::string_view relative, std::size_t max,
                                        FsError& error) {
  const Fd fd = open_file_beneath(folder, relative, max, error);
  if (!fd.valid()) return std::nullopt;
  struct stat st {};
  std::string bytes;
  if (::fstat(fd.get(), &st) != 0 ||
      !read_whole(fd.get(), static_cast<std::size_t>(st.st_size), max, bytes)) {
    fail(error, errno, "cannot read", relative);
    return std::nullopt;
  }
  return bytes;
}

std::optional<std::vector<Entry>> list_folder(int folder, FsError& error) {
  // A descriptor of its own: fdopendir takes it over, and the position is not shared.
  const int copy = open_name(folder, ".", O_RDONLY | O_DIRECTORY);
  if (copy < 0) {
    fail(error, errno, "cannot list", "a folder of the archive");
    return std::nullopt;
  }
  const std::unique_ptr<DIR, int (*)(DIR*)> dir(::fdopendir(copy), ::closedir);
  if (!dir) {
    fail(error, errno, "cannot list", "a folder of the archive");
    ::close(copy);
    return std::nullopt;
  }
  std::vector<Entry> entries;
  while (true) {
    errno = 0;
    const dirent* item = ::readdir(dir.get());
    if (!item) break;
    const std::string name = item->d_name;
    if (name == "." || name == "..") continue;
    entries.push_back({name, kind_of(folder, item->d_name, item->d_type)});
  }
  if (errno != 0) {
    fail(error, errno, "cannot list", "a folder of the archive");
    return std::nullopt;
  }
  std::sort(entries.begin(), entries.end(),
            [](const Entry& a, const Entry& b) { return a.name < b.name; });
  return entries;
}

bool exists_in(int folder, std::string_view name) {
  struct stat st {};
  return ::fstatat(folder, std::string(name).c_str(), &st, AT_SYMLINK_NOFOLLOW) == 0;
}

bool write_new(int folder, std::string_view name, std::string_view bytes, FsError& error) {
  const std::string file(name);
  const Fd fd(open_name(folder, file, O_WRONLY | O_CREAT | O_EXCL, 0600));
  if (!fd.valid()) return fail(error, errno, "cannot create", name);
  if (!write_whole(fd.get(), bytes)) return fail(error, errno, "cannot write", name);
  if (::fsync(fd.get()) != 0) return fail(error, errno, "cannot bring to the disk", name);
  const std::optional<std::string> back = read_beneath(folder, name, bytes.size(), error);
  if (!back) return false;
  if (*back != bytes) {
    return fail(error, 0, "the disk gave back other bytes than were written to", name);
  }
  return true;
}

Fd make_folder(int folder, std::string_view name, FsError& error) {
  if (::mkdirat(folder, std::string(name).c_str(), 0700) != 0) {
    fail(error, errno, "cannot create the folder", name);
    return {};
  }
  return open_folder_beneath(folder, name, error);
}

bool sync_folder(int folder, FsError& error) {
  if (::fsync(folder) == 0) return true;
  return fail(error, errno, "cannot bring to the disk", "a folder of the archive");
}

bool rename_new(int from, std::string_view name, int to, std::string_view new_name,
                FsError& error) {
  const std::string a(name), b(new_name);
  if (::renameat2(from, a.c_str(), to, b.c_str(), RENAME_NOREPLACE) == 0) return true;
  if (errno != EINVAL && errno != ENOSYS) return fail(error, errno, "cannot rename to", new_name);
  // A file system without the flag. A plain rename of a folder fails on any target that is not
  // an empty folder, and a file can be linked, which fails on any target.
  struct stat st {};
  if (::fstatat(from, a.c_str(), &st, AT_SYMLINK_NOFOLLOW) != 0) {
    return fail(error, errno, "cannot examine", name);
  }
  if (exists_in(to, new_name)) return fail(error, EEXIST, "cannot rename to", new_name);
  if (S_ISDIR(st.st_mode)) {
    if (::renameat(from, a.c_str(), to, b.c_str()) == 0) return true;
    return fail(error, errno == ENOTEMPTY ? EEXIST : errno, "cannot rename to", new_name);
  }
  if (::linkat(from, a.c_str(), to, b.c_str(), 0) != 0) {
    return fail(error, errno, "cannot rename to", new_name);
  }
  if (::unlinkat(from, a.c_str(), 0) != 0) return fail(error, errno, "cannot remove", name);
  return true;
}

bool rename_over(int from, std::string_view name, int to, std::string_view new_name,
                 FsError& error) {
  if (::renameat(from, std::string(name).c_str(), to, std::string(new_name).c_str()) == 0) {
    return true;
  }
  return fail(error, errno, "cannot rename to", new_name);
}

bool exchange(int from, std::string_view name, int to, std::string_view new_name, FsError& error) {
  const std::string a(name), b(new_name);
  if (::renameat2(from, a.c_str(), to, b.c_str(), RENAME_EXCHANGE) == 0) return true;
  if (errno == EINVAL || errno == ENOSYS) {
    return fail(error, 0,
                "this file system cannot exchange two folders in one step; move the "
                "archive to another disk to replace",
                new_name);
  }
  return fail(error, errno, "cannot exchange", new_name);
}

bool remove_all_beneath(int folder, std::string_view name, FsError& error) {
  const std::string entry(name);
  if (::unlinkat(folder, entry.c_str(), 0) == 0) return true;
  if (errno != EISDIR && errno != EPERM) return fail(error, errno, "cannot remove", name);
  {
    const Fd inner = open_folder_beneath(folder, name, error);
    if (!inner.valid()) return false;
    const std::optional<std::vector<Entry>> entries = list_folder(inner.get(), error);
    if (!entries) return false;
    for (const Entry& e : *entries) {
      if (!remove_all_beneath(inner.get(), e.name, error)) return false;
    }
  }
  if (::unlinkat(folder, entry.c_str(), AT_REMOVEDIR) == 0) return true;
  return fail(error, errno, "cannot remove the folder", name);
}

}  // namespace ohmleaf::archive
