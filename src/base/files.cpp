#include "base/files.h"
#include "base/files_quick.h"

#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <system_error>

namespace ohmleaf {
namespace {

/// A descriptor that closes itself; close errors on a written file are caught by fsync before.
class Descriptor {
 public:
  explicit Descriptor(int fd) : fd_(fd) {}
  ~Descriptor() { if (fd_ >= 0) ::close(fd_); }
  Descriptor(const Descriptor&) = delete;
  Descriptor& operator=(const Descriptor&) = delete;
  int get() const { return fd_; }
  bool ok() const { return fd_ >= 0; }

 private:
  int fd_;
};

bool write_all(int fd, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t n = ::write(fd, bytes.data(), bytes.size());
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return false;
    bytes.remove_prefix(static_cast<std::size_t>(n));
  }
  return true;
}

/// `likely`: how many bytes there should be, so that they find their room at once.
std::optional<std::string> read_all(int fd, std::size_t max_bytes, std::size_t likely = 0) {
  std::string out;
  out.reserve(likely);
  char buffer[65536];
  for (;;) {
    const ssize_t n = ::read(fd, buffer, sizeof buffer);
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) return std::nullopt;
    if (n == 0) return out;
    out.append(buffer, static_cast<std::size_t>(n));
    if (out.size() > max_bytes) return out;
  }
}

/// What mkostemp and mkdtemp make a name of that nobody has.
std::string unique_pattern(const std::filesystem::path& parent, std::string_view stem) {
  return (parent / stem).string() + std::string(6, 'X');
}

}  // namespace

std::string errno_text(int error) { return std::generic_category().message(error); }

std::optional<std::string> read_file(const std::filesystem::path& path, std::size_t max_bytes,
                                     Diagnostics& out) {
  // O_NONBLOCK: opening a FIFO must not hang; a regular file ignores it.
  const Descriptor fd(::open(path.c_str(), O_RDONLY | O_CLOEXEC | O_NONBLOCK));
  if (!fd.ok()) {
    const int e = errno;
    if (e == ENOENT || e == ENOTDIR || e == ENAMETOOLONG)
      out.error("no-such-file", {}, path.string() + ": there is no such file");
    else
      out.system_error("cannot-read", path.string() + ": " + errno_text(e));
    return std::nullopt;
  }
  struct stat st {};
  if (::fstat(fd.get(), &st) != 0 || !S_ISREG(st.st_mode)) {
    out.error("not-a-file", {}, path.string() + ": this is not a plain file");
    return std::nullopt;
  }
  const bool large = static_cast<std::uint64_t>(st.st_size) > max_bytes;
  auto bytes = large ? std::optional<std::string>()
                     : read_all(fd.get(), max_bytes, static_cast<std::size_t>(st.st_size));
  if (large || (bytes && bytes->size() > max_bytes)) {
    out.error("file-too-large", {}, path.string() + ": the file is larger than " +
                                        std::to_string(max_bytes >> 10) + " KiB");
    return std::nullopt;
  }
  if (!bytes) out.system_error("cannot-read", path.string() + ": " + errno_text(errno));
  return bytes;
}

std::optional<std::filesystem::path> make_scratch_folder(const std::filesystem::path& parent,
                                                         std::string_view stem) {
  std::string name = unique_pattern(parent, stem);
  if (::mkdtemp(name.data()) == nullptr) return std::nullopt;
  return name;
}

namespace {

/// While a temporary stands beside a file, Ctrl-C and its like wait until it is in place or gone: it
/// would be left behind otherwise.
class SignalsLater {
 public:
  SignalsLater() {
    sigset_t ends;
    sigemptyset(&ends);
    for (const int signal : {SIGINT, SIGTERM, SIGHUP}) sigaddset(&ends, signal);
    ::pthread_sigmask(SIG_BLOCK, &ends, &before_);
  }
  ~SignalsLater() { ::pthread_sigmask(SIG_SETMASK, &before_, nullptr); }
  SignalsLater(const SignalsLater&) = delete;
  SignalsLater& operator=(const SignalsLater&) = delete;

 private:
  sigset_t before_{};
};

/// How the finished temporary takes its name: over what is there, or only where nothing is.
enum class Publish { over, fresh };

std::filesystem::path folder_of(const std::filesystem::path& path) {
  return path.parent_path().empty() ? std::filesystem::path(".") : path.parent_path();
}

/// The finished bytes under a name of their own: gone with this, whatever happens, unless they have
/// taken their place.
class Temporary {
 public:
  explicit Temporary(std::string pattern) : name_(std::move(pattern)) {}
  ~Temporary() { remove(); }
  Temporary(const Temporary&) = delete;
  Temporary& operator=(const Temporary&) = delete;

  int make() {
    const int fd = ::mkostemp(name_.data(), O_CLOEXEC);
    there_ = fd >= 0;
    return fd;
  }
  const char* name() const { return name_.c_str(); }
  bool take_place(const std::filesystem::path& path) {
    if (::rename(name(), path.c_str()) != 0) return false;
    there_ = false;
    return true;
  }
  void remove() {
    const int e = errno;
    if (there_) ::unlink(name());
    there_ = false;
    errno = e;
  }

 private:
  std::string name_;
  bool there_ = false;
};

bool same_on_disk(const char* name, std::string_view bytes) {
  const Descriptor again(::open(name, O_RDONLY | O_CLOEXEC | O_NOFOLLOW));
  char buffer[65536];
  for (;;) {
    const ssize_t n = again.ok() ? ::read(again.get(), buffer, sizeof buffer) : -1;
    if (n < 0 && again.ok() && errno == EINTR) continue;
    if (n < 0) return false;
    if (n == 0 && bytes.empty()) return true;
    const auto size = static_cast<std::size_t>(n);
    if (n == 0 || bytes.substr(0, size) != std::string_view(buffer, size)) {
      errno = EIO;
      return false;
    }
    bytes.remove_prefix(size);
  }
}

/// `last` is asked at the last moment before the name is taken.
template <class Last>
bool write_with(const std::filesystem::path& path, std::string_view bytes, Diagnostics& out,
                unsigned mode, Publish publish, Last last) {
  const SignalsLater later;
  const auto folder = folder_of(path);
  Temporary temporary(unique_pattern(folder, ".ohmleaf-"));
  const auto fail = [&](const char* what) {
    temporary.remove();
    const int e = errno;
    out.system_error("cannot-write", path.string() + ": " + what + ": " + errno_text(e),
                     {"Nothing was written. Free some space or choose another folder, then try again."});
    return false;
  };
  const Descriptor fd(temporary.make());
  if (!fd.ok()) return fail("cannot make a file here");
  if (::fchmod(fd.get(), static_cast<mode_t>(mode)) != 0) return fail("cannot set its mode");
  if (!write_all(fd.get(), bytes)) return fail("cannot write");
  if (::fsync(fd.get()) != 0) return fail("cannot reach the disk");
  if (!same_on_disk(temporary.name(), bytes))
    return fail(errno == EIO ? "what was read back differs from what was written"
                             : "cannot read it back");
  if (!last()) return false;
  if (publish == Publish::over) {
    if (!temporary.take_place(path)) return fail("cannot put it in place");
  } else if (::link(temporary.name(), path.c_str()) != 0) {
    if (errno != EEXIST) return fail("cannot put it in place");
    temporary.remove();
    out.error("already-there", {}, path.string() + " is there already, and is left as it is",
              {"Choose another folder, or change that file by hand."});
    return false;
  }
  temporary.remove();
  const Descriptor dir(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  if (!dir.ok() || ::fsync(dir.get()) != 0) {
    out.system_error("cannot-write", folder.string() + ": cannot reach the disk: " + errno_text(errno));
    return false;
  }
  return true;
}

}  // namespace

bool write_file(const std::filesystem::path& path, std::string_view bytes, Diagnostics& out,
                unsigned mode) {
  return write_with(path, bytes, out, mode, Publish::over, [] { return true; });
}

bool write_new_file(const std::filesystem::path& path, std::string_view bytes, Diagnostics& out,
                    unsigned mode) {
  return write_with(path, bytes, out, mode, Publish::fresh, [] { return true; });
}

Replaced replace_file(const std::filesystem::path& given, std::string_view expected,
                      std::string_view bytes, Diagnostics& out) {
  std::error_code ec;
  std::filesystem::path path = std::filesystem::canonical(given, ec);
  if (ec) path = given;
  const Descriptor folder(::open(folder_of(path).c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
  while (folder.ok() && ::flock(folder.get(), LOCK_EX) != 0 && errno == EINTR) continue;
  struct stat st {};
  const unsigned mode = ::stat(path.c_str(), &st) == 0 ? st.st_mode & 0777u : 0600u;
  bool changed = false;
  const bool written = write_with(path, bytes, out, mode, Publish::over, [&] {
    Diagnostics quiet;
    const auto there = read_file(path, expected.size(), quiet);
    changed = !there || *there != expected;
    return !changed;
  });
  if (!changed) return written ? Replaced::yes : Replaced::failed;
  out.error("changed-meanwhile", {},
            given.string() + " was changed by something else meanwhile, and nothing was written",
            {"Save it in the editor, then answer again."});
  return Replaced::changed;
}

std::optional<std::filesystem::path> find_upwards(const std::filesystem::path& start,
                                                  std::string_view name) {
  std::error_code ec;
  std::filesystem::path at = std::filesystem::absolute(start, ec);
  while (!ec) {
    if (std::filesystem::is_regular_file(at / name, ec)) return at / name;
    ec.clear();
    if (!at.has_parent_path() || at.parent_path() == at) break;
    at = at.parent_path();
  }
  return std::nullopt;
}

std::filesystem::path program_folder() {
  std::error_code ec;
  const auto self = std::filesystem::read_symlink("/proc/self/exe", ec);
  return ec ? std::filesystem::path() : self.parent_path();
}

bool write_quick(const std::filesystem::path& path, std::string_view bytes, Diagnostics& out) {
  const SignalsLater later;
  Temporary temporary(unique_pattern(folder_of(path), ".ohmleaf-"));
  const auto fail = [&](const char* what) {
    temporary.remove();
    const int e = errno;
    out.system_error(
        "cannot-write", path.string() + ": " + what + ": " + errno_text(e),
        {"Nothing was written. Free some space or choose another folder, then try again."});
    return false;
  };
  const int fd = temporary.make();
  if (fd < 0) return fail("cannot make a file here");
  const bool written = ::fchmod(fd, 0644) == 0 && write_all(fd, bytes);
  const int e = errno;
  const bool closed = ::close(fd) == 0;
  if (!written) errno = e;
  if (!written || !closed) return fail("cannot write");
  if (!temporary.take_place(path)) return fail("cannot put it in place");
  return true;
}

}  // namespace ohmleaf
