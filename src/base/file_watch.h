#pragma once
#include <cstdint>
#include <filesystem>
#include <optional>
#include <vector>

namespace ohmleaf {

/// Waits for files to be saved, by whatever means: an editor that writes over a file, one that
/// renames a new one into its place, one that removes it first. Where the system tells of changes
/// (inotify), it is told at once; where it does not (some network folders), each wait looks.
class FileWatch {
 public:
  /// `told` false: by looking alone, for tests.
  explicit FileWatch(const std::vector<std::filesystem::path>& files, bool told = true);
  ~FileWatch();
  FileWatch(const FileWatch&) = delete;
  FileWatch& operator=(const FileWatch&) = delete;

  /// True once a file differs from what it was at the last call, and has been quiet for a moment;
  /// false where nothing happened within `milliseconds`, or a signal came.
  bool wait(int milliseconds);

 private:
  struct Print {
    std::uint64_t device = 0, inode = 0, size = 0;
    std::int64_t seconds = 0, nanoseconds = 0;
    bool there = false;
    friend bool operator==(const Print&, const Print&) = default;
  };
  static Print print_of(const std::filesystem::path& file);
  bool changed();
  void sleep(int milliseconds);

  std::vector<std::filesystem::path> files_;
  std::vector<Print> prints_;
  int fd_ = -1;
};

}  // namespace ohmleaf
