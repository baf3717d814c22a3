#include <fcntl.h>
#include <linux/magic.h>
#include <sys/file.h>
#include <sys/vfs.h>

#include <cerrno>
#include <chrono>
#include <thread>

#include "archive/fs.h"
#include "base/files.h"

namespace ohmleaf::archive {

std::optional<Lock> Lock::take(int folder, std::string_view name, int wait_ms, FsError& error) {
  constexpr int kStepMs = 20;
  const int raw =
      ::openat(folder, std::string(name).c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, 0600);
  if (raw < 0) {
    error = {errno, "cannot open the archive's lock: " + errno_text(errno)};
    return std::nullopt;
  }
  Fd fd(raw);
  for (int waited = 0;; waited += kStepMs) {
    if (::flock(fd.get(), LOCK_EX | LOCK_NB) == 0) return Lock(std::move(fd));
    if (errno != EWOULDBLOCK) {
      error = {errno, "cannot lock the archive: " + errno_text(errno)};
      return std::nullopt;
    }
    if (waited >= wait_ms) break;
    std::this_thread::sleep_for(std::chrono::milliseconds(kStepMs));
  }
  error = {EWOULDBLOCK, "another program is writing to this archive"};
  return std::nullopt;
}

bool on_network_file_system(int folder) {
  struct statfs st {};
  if (::fstatfs(folder, &st) != 0) return false;
  // Values from linux/magic.h; the two without a name there are CIFS and SMB2 (Linux sources,
  // fs/smb/client), FUSE carries most sync folders.
  constexpr unsigned long kCifs = 0xFF534D42;
  constexpr unsigned long kSmb2 = 0xFE534D42;
  constexpr unsigned long kFuse = 0x65735546;
  const auto type = static_cast<unsigned long>(static_cast<unsigned>(st.f_type));
  return type == NFS_SUPER_MAGIC || type == SMB_SUPER_MAGIC || type == kCifs || type == kSmb2 ||
         type == kFuse || type == AFS_SUPER_MAGIC || type == V9FS_MAGIC;
}

}  // namespace ohmleaf::archive
