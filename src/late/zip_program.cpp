#include "late/door.h"
#include "late/zip.h"

namespace ohmleaf::archive {
namespace {

const late::Zip& door() {
  static const auto& opened = late::open<late::Zip>("zip");
  return opened;
}

}  // namespace

std::unique_ptr<Package> open_zip_package(const std::filesystem::path& path, FsError& error) {
  return door().open_package(path, error);
}
bool write_zip(const std::filesystem::path& to, const std::filesystem::path& folder,
               const std::string& top, const std::vector<std::string>& names, FsError& error) {
  return door().write(to, folder, top, names, error);
}

}  // namespace ohmleaf::archive
