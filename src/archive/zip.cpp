#include <sys/stat.h>
#include <zip.h>

#include <cerrno>

#include "archive/package.h"
#include "base/text.h"

namespace ohmleaf::archive {
namespace {

/// A certificate shrinks to a half or a third; what grows a hundredfold is meant to fill the disk.
constexpr std::uint64_t kMaxGrowth = 100;
constexpr std::uint64_t kAlwaysAllowed = std::uint64_t{16} << 20;
// ZIP_EXTERNAL attributes of a Unix zip hold the file's mode in their upper half.
constexpr std::uint32_t kTypeMask = 0170000, kRegular = 0100000, kFolder = 0040000;

struct Closer {
  void operator()(zip_t* zip) const { zip_discard(zip); }
};
using Zip = std::unique_ptr<zip_t, Closer>;

std::string zip_error_text(int code) {
  zip_error_t error;
  zip_error_init_with_code(&error, code);
  std::string text = zip_error_strerror(&error);
  zip_error_fini(&error);
  return text;
}

bool refuse(FsError& error, std::string what) {
  error = {0, std::move(what)};
  return false;
}

class ZipPackage : public Package {
 public:
  explicit ZipPackage(Zip zip) : zip_(std::move(zip)) {}
  bool gather(std::uint64_t size, FsError& error);
  std::optional<std::string> read(const Item& item, FsError& error) override;

 private:
  bool take(zip_uint64_t index, FsError& error);

  Zip zip_;
  std::string top_;  ///< "export/": the bag's own folder, the same for all entries
  std::uint64_t total_ = 0;
};

bool ZipPackage::take(zip_uint64_t index, FsError& error) {
  zip_stat_t st;
  if (zip_stat_index(zip_.get(), index, ZIP_FL_ENC_RAW, &st) != 0 ||
      (st.valid & ZIP_STAT_NAME) == 0 || (st.valid & ZIP_STAT_SIZE) == 0) {
    return refuse(error, "the zip file is damaged");
  }
  std::string name = st.name;
  zip_uint8_t system = 0;
  zip_uint32_t attributes = 0;
  zip_file_get_external_attributes(zip_.get(), index, 0, &system, &attributes);
  const std::uint32_t type =
      system == ZIP_OPSYS_UNIX ? (attributes >> 16) & kTypeMask : std::uint32_t{0};
  const bool folder = name.ends_with('/');
  if (folder) name.pop_back();
  const bool plain = type == 0 || type == (folder ? kFolder : kRegular);
  if (!plain || !is_package_name(name)) {
    return refuse(error, "\"" + visible(name.substr(0, 200)) + "\" does not belong in a package");
  }
  if ((st.valid & ZIP_STAT_ENCRYPTION_METHOD) != 0 && st.encryption_method != ZIP_EM_NONE) {
    return refuse(error, "the zip file is encrypted");
  }
  if (folder) return true;
  const std::size_t slash = name.find('/');
  const std::string top = name.substr(0, slash == std::string::npos ? 0 : slash + 1);
  if (items_.empty()) top_ = top;
  if (top.empty() || top != top_) {
    return refuse(error, "the zip file does not hold one bag in a folder of its own");
  }
  total_ += st.size;
  items_.push_back({name.substr(top.size()), st.size});
  return true;
}

bool ZipPackage::gather(std::uint64_t size, FsError& error) {
  const zip_int64_t count = zip_get_num_entries(zip_.get(), 0);
  if (count < 0 || static_cast<std::uint64_t>(count) > kMaxPackageFiles) {
    return refuse(error, "the zip file has too many entries");
  }
  for (zip_int64_t i = 0; i < count; ++i) {
    if (!take(static_cast<zip_uint64_t>(i), error)) return false;
    if (total_ > kAlwaysAllowed && total_ / kMaxGrowth > size) {
      return refuse(error, "the zip file would unpack to more than a hundred times its size");
    }
  }
  return settle_items(items_, error);
}

std::optional<std::string> ZipPackage::read(const Item& item, FsError& error) {
  const std::string name = top_ + item.name;
  const auto damaged = [&](const std::string& why) -> std::optional<std::string> {
    error = {0, "\"" + visible(item.name) + "\" in the zip file " + why};
    return std::nullopt;
  };
  zip_file_t* file = zip_fopen(zip_.get(), name.c_str(), ZIP_FL_ENC_RAW);
  if (file == nullptr) return damaged("cannot be read");
  std::string bytes;
  char buffer[65536];
  zip_int64_t n = 0;
  // Never more than it said, whatever its stream would give.
  while (bytes.size() <= item.bytes && (n = zip_fread(file, buffer, sizeof buffer)) > 0) {
    bytes.append(buffer, static_cast<std::size_t>(n));
  }
  const int closed = zip_fclose(file);
  if (n < 0 || closed != 0) return damaged("cannot be unpacked");
  if (bytes.size() != item.bytes) return damaged("is not as long as it says");
  return bytes;
}

}  // namespace

std::unique_ptr<Package> open_zip_package(const std::filesystem::path& path, FsError& error) {
  struct stat st {};
  if (::stat(path.c_str(), &st) != 0) {
    error = {errno, "cannot examine \"" + visible(path.string()) + "\""};
    return nullptr;
  }
  int code = 0;
  Zip zip(zip_open(path.c_str(), ZIP_RDONLY | ZIP_CHECKCONS, &code));
  if (!zip) {
    error = {0, "\"" + visible(path.string()) + "\" is no sound zip file: " + zip_error_text(code)};
    return nullptr;
  }
  auto package = std::make_unique<ZipPackage>(std::move(zip));
  if (!package->gather(static_cast<std::uint64_t>(st.st_size), error)) return nullptr;
  return package;
}

bool write_zip(const std::filesystem::path& to, const std::filesystem::path& folder,
               const std::string& top, const std::vector<std::string>& names, FsError& error) {
  int code = 0;
  Zip zip(zip_open(to.c_str(), ZIP_CREATE | ZIP_EXCL, &code));
  if (!zip)
    return refuse(error, "cannot make \"" + visible(to.string()) + "\": " + zip_error_text(code));
  for (const std::string& name : names) {
    zip_error_t why;
    zip_error_init(&why);
    zip_source_t* source = zip_source_file_create((folder / name).c_str(), 0, -1, &why);
    zip_error_fini(&why);
    const zip_int64_t index =
        source == nullptr
            ? -1
            : zip_file_add(zip.get(), (top + "/" + name).c_str(), source, ZIP_FL_ENC_UTF_8);
    if (index < 0) {
      if (source != nullptr) zip_source_free(source);
      return refuse(error, "\"" + name + "\" cannot be put into the zip file");
    }
    zip_file_set_external_attributes(zip.get(), static_cast<zip_uint64_t>(index), 0, ZIP_OPSYS_UNIX,
                                     (kRegular | 0600u) << 16);
  }
  zip_t* raw = zip.release();
  if (zip_close(raw) == 0) return true;
  const std::string why = zip_strerror(raw);
  zip_discard(raw);
  return refuse(error, "the zip file cannot be written: " + why);
}

}  // namespace ohmleaf::archive
