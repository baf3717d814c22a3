#include "base/file_watch.h"

#include <poll.h>
#include <sys/inotify.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>

namespace ohmleaf {
namespace {

constexpr int kQuiet = 80;      ///< ms without a change: it is saved
constexpr int kMostQuiet = 12;  ///< times that; then whatever is there is looked at
constexpr std::uint32_t kEvents =
    IN_CLOSE_WRITE | IN_MODIFY | IN_MOVED_TO | IN_MOVED_FROM | IN_CREATE | IN_DELETE | IN_ATTRIB;

}  // namespace

FileWatch::FileWatch(const std::vector<std::filesystem::path>& files, bool told) : files_(files) {
  for (const auto& file : files_) prints_.push_back(print_of(file));
  if (!told) return;
  fd_ = ::inotify_init1(IN_CLOEXEC | IN_NONBLOCK);
  if (fd_ < 0) return;
  // The folder, not the file: a file that is renamed into place is another file.
  for (const auto& file : files_) {
    const auto folder =
        file.parent_path().empty() ? std::filesystem::path(".") : file.parent_path();
    ::inotify_add_watch(fd_, folder.c_str(), kEvents);
  }
}

FileWatch::~FileWatch() {
  if (fd_ >= 0) ::close(fd_);
}

FileWatch::Print FileWatch::print_of(const std::filesystem::path& file) {
  Print out;
  struct stat st {};
  if (::stat(file.c_str(), &st) != 0) return out;
  out.there = true;
  out.device = st.st_dev;
  out.inode = st.st_ino;
  out.size = static_cast<std::uint64_t>(st.st_size);
  out.seconds = st.st_mtim.tv_sec;
  out.nanoseconds = st.st_mtim.tv_nsec;
  return out;
}

bool FileWatch::changed() {
  bool any = false;
  for (std::size_t i = 0; i < files_.size(); ++i) {
    const Print now = print_of(files_[i]);
    any = any || !(now == prints_[i]);
    prints_[i] = now;
  }
  return any;
}

/// Until something is told, or that long.
void FileWatch::sleep(int milliseconds) {
  pollfd p{fd_, POLLIN, 0};
  ::poll(&p, fd_ >= 0 ? 1 : 0, milliseconds);
  std::array<char, 4096> told{};
  while (fd_ >= 0 && ::read(fd_, told.data(), told.size()) > 0) continue;
}

bool FileWatch::wait(int milliseconds) {
  if (!changed()) {
    sleep(milliseconds);
    if (!changed()) return false;
  }
  for (int i = 0; i < kMostQuiet; ++i) {
    ::poll(nullptr, 0, kQuiet);
    if (!changed()) break;
  }
  return true;
}

}  // namespace ohmleaf
