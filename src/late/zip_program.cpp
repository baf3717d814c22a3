#include "late/door.h"
#include "late/zip.h"

namespace ohmleaf::archive {

std::unique_ptr<Package> open_zip_package(const std::filesystem::path& path, FsError& error) {
  return late::door<late::Zip>().open_package(path, error);
}
bool write_zip(const std::filesystem::path& to, const std::filesystem::path& folder,
               const std::string& top, const std::vector<std::string>& names, FsError& error) {
  return late::door<late::Zip>().write(to, folder, top, names, error);
}

}  // namespace ohmleaf::archive
