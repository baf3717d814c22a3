#include "archive/package.h"

#include <fcntl.h>
#include <sys/stat.h>

#include <algorithm>
#include <cerrno>
#include <set>

#include "base/files.h"
#include "base/text.h"

namespace ohmleaf::archive {
namespace {

constexpr std::size_t kMaxDepth = 8;

class FolderPackage : public Package {
 public:
  explicit FolderPackage(Fd folder) : folder_(std::move(folder)) {}
  bool gather(FsError& error) { return walk("", 0, error) && settle_items(items_, error); }
  std::optional<std::string> read(const Item& item, FsError& error) override {
    return read_beneath(folder_.get(), item.name, item.bytes, error);
  }

 private:
  bool walk(const std::string& below, std::size_t depth, FsError& error) {
    if (depth > kMaxDepth) {
      error = {0, "the package has folders in folders without end"};
      return false;
    }
    const Fd folder = open_folder_beneath(folder_.get(), below.empty() ? "." : below, error);
    const auto entries = folder.valid() ? list_folder(folder.get(), error) : std::nullopt;
    if (!entries) return false;
    for (const Entry& e : *entries) {
      const std::string name = below.empty() ? e.name : below + "/" + e.name;
      if (!is_package_name(name) || e.kind == EntryKind::other) {
        error = {0, "\"" + visible(name) + "\" does not belong in a package"};
        return false;
      }
      if (e.kind == EntryKind::folder) {
        if (!walk(name, depth + 1, error)) return false;
        continue;
      }
      struct stat st {};
      if (::fstatat(folder.get(), e.name.c_str(), &st, AT_SYMLINK_NOFOLLOW) != 0) {
        error = {errno, "cannot examine \"" + visible(name) + "\": " + errno_text(errno)};
        return false;
      }
      items_.push_back({name, static_cast<std::uint64_t>(st.st_size)});
      if (items_.size() > kMaxPackageFiles) {
        error = {0, "the package has too many files"};
        return false;
      }
    }
    return true;
  }

  Fd folder_;
};

}  // namespace

bool is_package_name(std::string_view name) {
  if (name.size() > 400) return false;
  const std::vector<std::string_view> parts = split(name, '/');
  return parts.size() <= kMaxDepth &&
         std::all_of(parts.begin(), parts.end(), [](std::string_view part) {
           return !part.empty() && part.front() != '.' &&
                  std::all_of(part.begin(), part.end(), [](char c) {
                    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
                           (c >= '0' && c <= '9') || c == '.' || c == '_' || c == '=' || c == '-';
                  });
         });
}

bool settle_items(std::vector<Package::Item>& items, FsError& error) {
  std::sort(items.begin(), items.end(),
            [](const Package::Item& a, const Package::Item& b) { return a.name < b.name; });
  std::set<std::string> seen;
  for (const Package::Item& item : items) {
    if (!seen.insert(ascii_lower(item.name)).second) {
      error = {0, "\"" + visible(item.name) + "\" is there twice"};
      return false;
    }
    if (item.bytes > kMaxContent) {
      error = {0, "\"" + visible(item.name) + "\" is larger than any file of an archive"};
      return false;
    }
  }
  return true;
}

std::unique_ptr<Package> open_folder_package(const std::filesystem::path& path, FsError& error) {
  Fd folder = open_folder(path, error);
  if (!folder.valid()) return nullptr;
  auto package = std::make_unique<FolderPackage>(std::move(folder));
  if (!package->gather(error)) return nullptr;
  return package;
}

std::unique_ptr<Package> open_package(const std::filesystem::path& path, FsError& error) {
  std::error_code ec;
  if (std::filesystem::is_directory(path, ec)) return open_folder_package(path, error);
  if (std::filesystem::is_regular_file(path, ec)) return open_zip_package(path, error);
  error = {ENOENT, "\"" + visible(path.string()) + "\" is neither a folder nor a zip file"};
  return nullptr;
}

}  // namespace ohmleaf::archive
