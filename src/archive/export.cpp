#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <set>

#include "archive/bag.h"
#include "base/digest.h"
#include "base/files.h"
#include "base/text.h"

// A bag (RFC 8493) whose payload is a storage root of its own: the chosen certificates with every
// byte as it is filed, and the root's own files. It is always made as a folder beside its target
// and then renamed, or packed.

namespace ohmleaf::archive {
namespace {

/// Names of an object's files relative to the root, sorted.
bool list_files(int folder, const std::string& below, std::vector<std::string>& names,
                FsError& error) {
  const auto entries = list_folder(folder, error);
  if (!entries) return false;
  for (const Entry& e : *entries) {
    const std::string name = below + "/" + e.name;
    if (e.kind == EntryKind::file) {
      names.push_back(name);
      continue;
    }
    const Fd inner = open_folder_beneath(folder, e.name, error);
    if (!inner.valid() || !list_files(inner.get(), name, names, error)) return false;
  }
  return true;
}

class Exporter {
 public:
  Exporter(const Store& store, const ExportRequest& request) : store_(store), request_(request) {}

  /// Writes the bag into `bag`, an empty folder.
  bool write(const std::vector<std::string>& ids, int bag, FsError& error);
  const std::vector<std::string>& names() const { return names_; }

 private:
  bool copy(const std::string& name, int data, FsError& error);
  bool tag(int bag, const std::string& name, const std::string& bytes, FsError& error);

  const Store& store_;
  const ExportRequest& request_;
  std::vector<std::string> names_;  ///< of all files of the bag
  std::vector<ManifestLine> manifest_, tags_;
  std::uint64_t bytes_ = 0;
};

bool Exporter::copy(const std::string& name, int data, FsError& error) {
  const auto bytes = read_beneath(store_.root_fd.get(), name, kMaxContent, error);
  if (!bytes || !write_deep(data, name, *bytes, error)) return false;
  manifest_.push_back({sha512_hex(*bytes), "data/" + name});
  names_.push_back("data/" + name);
  bytes_ += bytes->size();
  return true;
}

bool Exporter::tag(int bag, const std::string& name, const std::string& bytes, FsError& error) {
  if (!write_new(bag, name, bytes, error)) return false;
  tags_.push_back({sha512_hex(bytes), name});
  names_.push_back(name);
  return true;
}

bool Exporter::write(const std::vector<std::string>& ids, int bag, FsError& error) {
  const Fd data = make_folder(bag, "data", error);
  if (!data.valid()) return false;
  for (const File& file : root_files())
    if (!copy(file.name, data.get(), error)) return false;
  std::size_t done = 0;
  for (const std::string& id : ids) {
    std::vector<std::string> files;
    const Fd object = open_folder_beneath(store_.root_fd.get(), id, error);
    if (!object.valid() || !list_files(object.get(), id, files, error)) return false;
    for (const std::string& name : files)
      if (!copy(name, data.get(), error)) return false;
    if (request_.progress) request_.progress(++done, ids.size());
  }
  const std::string info =
      "Bag-Software-Agent: " + request_.program + "\nBagging-Date: " + request_.now.date().iso() +
      "\nPayload-Oxum: " + std::to_string(bytes_) + "." + std::to_string(manifest_.size()) + "\n";
  return tag(bag, "bagit.txt", std::string(kBagDeclaration), error) &&
         tag(bag, "bag-info.txt", info, error) &&
         tag(bag, std::string(kManifest), manifest_text(manifest_), error) &&
         write_new(bag, kTagManifest, manifest_text(tags_), error) &&
         (names_.push_back(std::string(kTagManifest)), sync_folder(data.get(), error)) &&
         sync_folder(bag, error);
}

/// Reads the package that was written and compares every digest.
bool read_back(const std::filesystem::path& path, FsError& error) {
  const std::unique_ptr<Package> package = open_package(path, error);
  return package && check_bag(*package, {}, error);
}

/// A certificate that is damaged must not leave with fresh digests.
bool are_sound(const Store& store, const std::vector<std::string>& ids, Diagnostics& out) {
  VerifyOptions options;
  if (ids.size() == 1) options.only_number = ids.front();
  for (const Problem& p : verify_store(store, options).problems) {
    const std::string folder = p.file.empty() ? "" : p.file.begin()->string();
    if (!std::binary_search(ids.begin(), ids.end(), ascii_lower(p.number)) &&
        !std::binary_search(ids.begin(), ids.end(), folder)) {
      continue;
    }
    out.system_error("archive-damaged",
                     "\"" + visible(p.file.string()) + "\" is damaged: " + visible(p.what),
                     {p.remedy, "nothing was exported"});
    return false;
  }
  return true;
}

bool all_there(const Store& store, const ExportRequest& r, std::vector<std::string>& ids,
               Diagnostics& out) {
  for (const std::string& number : r.numbers) {
    if (!has_number(store, number, out)) return false;
    ids.push_back(ascii_lower(number));
  }
  std::sort(ids.begin(), ids.end());
  ids.erase(std::unique(ids.begin(), ids.end()), ids.end());
  if (ids.empty()) out.error("nothing-to-export", {}, "there is no certificate to export");
  return out.ok();
}

/// Made beside the target, so that the last step is one rename.
bool make_bag(const Store& store, const ExportRequest& r, const std::vector<std::string>& ids,
              FsError& error) {
  const std::filesystem::path absolute = std::filesystem::absolute(r.to).lexically_normal();
  const std::string target = absolute.filename().string();
  const bool zipped = target.ends_with(".zip");
  const Fd parent = open_folder(absolute.parent_path(), error);
  const std::optional<std::string> random = random_hex(6);
  if (!parent.valid() || !random) return false;
  const std::string name = ".ohmleaf-export-" + *random;
  const Fd bag = make_folder(parent.get(), name, error);
  Exporter exporter(store, r);
  const std::filesystem::path made = absolute.parent_path() / name;
  bool good = bag.valid() && exporter.write(ids, bag.get(), error);
  std::string result = name;
  if (good && zipped) {
    result = name + ".zip";
    good = write_zip(absolute.parent_path() / result, made, target.substr(0, target.size() - 4),
                     exporter.names(), error);
    if (good) {
      const Fd file(::openat(parent.get(), result.c_str(), O_RDONLY | O_CLOEXEC));
      good = ::fchmod(file.get(), 0600) == 0 && ::fsync(file.get()) == 0;
      if (!good) error = {errno, "cannot bring the zip file to the disk: " + errno_text(errno)};
    }
  }
  good = good && read_back(absolute.parent_path() / result, error) &&
         rename_new(parent.get(), result, parent.get(), target, error) &&
         sync_folder(parent.get(), error);
  FsError ignored;
  if (exists_in(parent.get(), name)) remove_all_beneath(parent.get(), name, ignored);
  if (zipped && exists_in(parent.get(), name + ".zip"))
    remove_all_beneath(parent.get(), name + ".zip", ignored);
  return good;
}

}  // namespace

bool Archive::export_bag(const ExportRequest& request, Diagnostics& out) const {
  const std::optional<Store> store = open_store(root_, out);
  if (!store) return false;
  std::error_code ec;
  if (std::filesystem::exists(std::filesystem::symlink_status(request.to, ec))) {
    out.error("export-target", {}, "\"" + visible(request.to.string()) + "\" is there already",
              {"Name a folder or a zip file that is not there yet."});
    return false;
  }
  const std::string name = request.to.filename().string();
  if (!is_package_name(name) || name == ".zip") {
    out.error("export-target", {}, "a package cannot be called \"" + visible(name) + "\"",
              {"Use letters, digits, dots, hyphens and underscores."});
    return false;
  }
  std::vector<std::string> ids;
  if (!store->root_fd.valid()) {
    out.error("no-archive", {}, "there is no archive at \"" + visible(root_.string()) + "\"",
              {"The first issue makes it; check the path."});
    return false;
  }
  if (!all_there(*store, request, ids, out)) return false;
  if (!are_sound(*store, ids, out)) return false;
  FsError error;
  if (make_bag(*store, request, ids, error)) return true;
  out.system_error("cannot-write",
                   error.what.empty() ? "the package cannot be written" : error.what,
                   {"Nothing was exported."});
  return false;
}

}  // namespace ohmleaf::archive
