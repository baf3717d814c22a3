#pragma once
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "archive/fs.h"

namespace ohmleaf::archive {

/// The files of a package that came from anywhere: a folder, or a zip file. Opening it refuses what
/// no package of ours holds: links, names that lead elsewhere, two names for one file, encryption,
/// more than `kMaxPackageFiles`, a zip that unpacks to far more than its own size.
class Package {
 public:
  struct Item {
    std::string name;  ///< "data/sp-0001/inventory.json", below the bag's own folder
    std::uint64_t bytes = 0;
  };
  virtual ~Package() = default;
  Package() = default;
  Package(const Package&) = delete;
  Package& operator=(const Package&) = delete;

  /// Sorted by name.
  const std::vector<Item>& items() const { return items_; }
  /// The bytes of one of `items()`, never more than it said.
  virtual std::optional<std::string> read(const Item& item, FsError& error) = 0;

 protected:
  std::vector<Item> items_;
};

inline constexpr std::size_t kMaxPackageFiles = 5'000'000;

std::unique_ptr<Package> open_package(const std::filesystem::path& path, FsError& error);
std::unique_ptr<Package> open_folder_package(const std::filesystem::path& path, FsError& error);
std::unique_ptr<Package> open_zip_package(const std::filesystem::path& path, FsError& error);

/// Letters, digits and `._=-` between slashes, no part that begins with a dot, at most 8 deep.
bool is_package_name(std::string_view name);
/// Sorts, and refuses two names that some file system takes for one.
bool settle_items(std::vector<Package::Item>& items, FsError& error);

/// Writes a zip file that must not exist: each entry is the file of that name below `folder`, under
/// `top`. Complete on the disk, or not there.
bool write_zip(const std::filesystem::path& to, const std::filesystem::path& folder,
               const std::string& top, const std::vector<std::string>& names, FsError& error);

}  // namespace ohmleaf::archive
