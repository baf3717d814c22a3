#pragma once
#include <cstddef>
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace ohmleaf::archive {

/// The first thing that went wrong. `code` is an errno value, or 0 where the system was content
/// and we were not (a link, a file too large, a read-back that differs).
struct FsError {
  int code = 0;
  std::string what;
};

/// An open file or folder, closed with its owner.
class Fd {
 public:
  Fd() = default;
  explicit Fd(int fd) : fd_(fd) {}
  Fd(Fd&& other) noexcept : fd_(std::exchange(other.fd_, -1)) {}
  Fd& operator=(Fd&& other) noexcept;
  Fd(const Fd&) = delete;
  Fd& operator=(const Fd&) = delete;
  ~Fd() { close(); }

  int get() const { return fd_; }
  bool valid() const { return fd_ >= 0; }
  void close();

 private:
  int fd_ = -1;
};

enum class EntryKind { file, folder, other };

/// One name in a folder, never followed where it is a link (`other`).
struct Entry {
  std::string name;
  EntryKind kind = EntryKind::other;
};

/// Largest file that is read whole: content, and the small files that describe it.
inline constexpr std::size_t kMaxContent = std::size_t{512} << 20;
inline constexpr std::size_t kMaxDescription = std::size_t{16} << 20;

/// Opens a folder by its whole path, following links on the way (the user's own choice of place).
Fd open_folder(const std::filesystem::path& path, FsError& error);
/// Opens a folder below `folder` by a relative path. No link is followed, `..` never leaves.
Fd open_folder_beneath(int folder, std::string_view relative, FsError& error);
/// Opens a regular file below `folder` for reading: no links, exactly one name, at most `max`.
Fd open_file_beneath(int folder, std::string_view relative, std::size_t max, FsError& error);
/// Reads such a file whole.
std::optional<std::string> read_beneath(int folder, std::string_view relative, std::size_t max,
                                        FsError& error);
/// Names in a folder, sorted, without `.` and `..`.
std::optional<std::vector<Entry>> list_folder(int folder, FsError& error);
/// Whether anything of that name is in `folder`, a dangling link included.
bool exists_in(int folder, std::string_view name);

/// Creates a file of mode 0600 that must not exist; writes, fsyncs, and reads it back through a
/// new descriptor, so that a write that lied is found while the bytes are still in memory.
bool write_new(int folder, std::string_view name, std::string_view bytes, FsError& error);
/// Creates a folder of mode 0700 that must not exist and opens it.
Fd make_folder(int folder, std::string_view name, FsError& error);
/// fsync, once: what a failed fsync lost, a second one does not bring back.
bool sync_folder(int folder, FsError& error);
/// Renames and never overwrites: EEXIST where the target is there.
bool rename_new(int from, std::string_view name, int to, std::string_view new_name, FsError& error);
/// Renames over a file that may exist: readers see the old one or the new one.
bool rename_over(int from, std::string_view name, int to, std::string_view new_name,
                 FsError& error);
/// Lets two folders or files change places in one step.
bool exchange(int from, std::string_view name, int to, std::string_view new_name, FsError& error);
/// Removes a file, or a folder with all that is in it; links are removed, not followed.
bool remove_all_beneath(int folder, std::string_view name, FsError& error);

/// An exclusive lock on `name` in `folder` (made if need be), held until destroyed.
class Lock {
 public:
  /// Waits up to `wait_ms`; nothing if another process holds it for longer.
  static std::optional<Lock> take(int folder, std::string_view name, int wait_ms, FsError& error);

 private:
  explicit Lock(Fd fd) : fd_(std::move(fd)) {}
  Fd fd_;
};

/// True where the kernel says the folder is on a network or user-space file system, whose locks
/// are not to be relied on.
bool on_network_file_system(int folder);

}  // namespace ohmleaf::archive
