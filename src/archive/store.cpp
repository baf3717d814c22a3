#include "archive/store.h"

#include <fcntl.h>
#include <sys/stat.h>

#include <algorithm>
#include <cerrno>

#include "base/digest.h"
#include "base/json.h"
#include "base/text.h"

namespace ohmleaf::archive {
namespace {

namespace stdfs = std::filesystem;

/// Follows links in the user's own path to the archive, so that the folder beside it is on the
/// same disk as the archive itself.
stdfs::path real_place(const stdfs::path& root) {
  std::error_code ignored;
  stdfs::path absolute = stdfs::absolute(root, ignored).lexically_normal();
  if (!absolute.has_filename()) absolute = absolute.parent_path();
  const stdfs::path real = stdfs::weakly_canonical(absolute, ignored);
  return ignored ? absolute : real;
}

bool check_root(Store& store, Diagnostics& out) {
  FsError error;
  const auto declaration = read_beneath(store.root_fd.get(), kRootDeclaration, 64, error);
  // The usual case without a listing: that of 100,000 folders takes longer than a whole search.
  if (declaration && *declaration == "ocfl_1.1\n") return true;
  const auto entries = list_folder(store.root_fd.get(), error);
  if (!entries) {
    out.system_error("archive-unreadable", error.what);
    return false;
  }
  if (entries->empty()) {  // made by hand, to be filled by the first issue
    store.root_fd.close();
    return true;
  }
  for (const Entry& e : *entries) {
    if (e.name.starts_with("0=ocfl_") && e.name != kRootDeclaration) {
      out.error("archive-format", {},
                "the archive is laid out by another version of OCFL (" + visible(e.name) + ")",
                {"Use the program that wrote it, or a newer ohmleaf."});
      return false;
    }
  }
  out.error("not-an-archive", {},
            "the folder \"" + visible(store.root.string()) + "\" is not an archive of ours",
            {"Name an empty folder or one that does not exist, and the first issue makes it.",
             "An archive has a file \"" + std::string(kRootDeclaration) +
                 "\"; if that was lost, put back a copy of it."});
  return false;
}

}  // namespace

std::optional<Store> open_store(const stdfs::path& root, Diagnostics& out) {
  if (root.native().find('\0') != std::string::npos) {
    out.error("archive-folder", {},
              "the archive's path \"" + visible(root.string()) + "\" holds a zero byte",
              {"Name a folder."});
    return std::nullopt;
  }
  Store store;
  store.root = real_place(root);
  store.work = store.root;
  store.work += ".work";
  FsError error;
  store.root_fd = open_folder(store.root, error);
  if (!store.root_fd.valid() && error.code != ENOENT) {
    if (error.code == ENOTDIR) {
      out.error("not-an-archive", {}, error.what, {"Name the folder of the archive."});
    } else {
      out.system_error("archive-unreadable", error.what);
    }
    return std::nullopt;
  }
  if (store.root_fd.valid() && !check_root(store, out)) return std::nullopt;
  // Not by its path: a link planted here would take lock, index and staging somewhere else.
  FsError no_work;
  const Fd parent = open_folder(store.root.parent_path(), no_work);
  if (parent.valid()) {
    store.work_fd = open_folder_beneath(parent.get(), store.work.filename().string(), no_work);
  }
  return store;
}

bool open_work(Store& store, Diagnostics& out) {
  FsError error;
  const Fd parent = open_folder(store.root.parent_path(), error);
  if (!parent.valid()) {
    out.system_error("archive-folder", error.what,
                     {"Make the folder that shall hold the archive first."});
    return false;
  }
  const std::string name = store.work.filename().string();
  if (!store.work_fd.valid()) {
    store.work_fd = make_folder(parent.get(), name, error);
    // Another issuer may have made it between our look and our step.
    if (!store.work_fd.valid() && error.code == EEXIST) {
      store.work_fd = open_folder_beneath(parent.get(), name, error);
    }
  }
  if (store.work_fd.valid()) {
    store.staging_fd = make_folder(store.work_fd.get(), kStaging, error);
    if (!store.staging_fd.valid() && error.code == EEXIST) {
      store.staging_fd = open_folder_beneath(store.work_fd.get(), kStaging, error);
    }
  }
  if (!store.staging_fd.valid()) {
    out.system_error("archive-write", error.what);
    return false;
  }
  struct stat a {
  }, b{};
  const int home = store.root_fd.valid() ? store.root_fd.get() : parent.get();
  if (::fstat(home, &a) != 0 || ::fstat(store.staging_fd.get(), &b) != 0 || a.st_dev != b.st_dev) {
    out.system_error("archive-two-disks",
                     "the archive and its working folder \"" + visible(store.work.string()) +
                         "\" are not on the same disk",
                     {"An issue is one rename, which cannot cross disks: keep both side by side."});
    return false;
  }
  return true;
}

bool has_number(const Store& store, std::string_view number, Diagnostics& out) {
  const std::string id = ascii_lower(number);
  struct stat st {};
  const bool known = parse_number(id) && store.root_fd.valid() &&
                     (::fstatat(store.root_fd.get(), id.c_str(), &st, AT_SYMLINK_NOFOLLOW) == 0 ||
                      errno != ENOENT);
  if (!known) {
    out.error("unknown-number", {}, "the archive has no certificate " + visible(number),
              {"ohmleaf find lists what it has."});
  }
  return known;
}

std::string version_name(int version) {
  return "v" + std::to_string(version);
}

std::string content_path(std::string_view id, int version, std::string_view name) {
  return std::string(id) + "/" + version_name(version) + "/content/" + std::string(name);
}

int highest_version(const std::vector<Entry>& entries) {
  int highest = 0;
  for (const Entry& e : entries) {
    const std::optional<int> n = ocfl::version_number(e.name);
    if (n && e.kind == EntryKind::folder && version_name(*n) == e.name) {
      highest = std::max(highest, *n);
    }
  }
  return highest;
}

std::optional<Latest> read_version_record(const Store& store, const std::string& id, int version,
                                          Problem& problem) {
  const std::string path = content_path(id, version, kRecordFile);
  problem = {Damage::unreadable, id, path, "", "put the file back from a copy of the archive"};
  FsError error;
  const auto bytes = read_beneath(store.root_fd.get(), path, kMaxDescription, error);
  if (!bytes) {
    if (error.code == ENOENT) problem.damage = Damage::missing;
    problem.what = error.what;
    return std::nullopt;
  }
  std::string why;
  std::optional<IssueRecord> record = parse_record(*bytes, why);
  if (record && ascii_lower(record->number) != id) {
    why = "names the number " + record->number + ", which is not that of its folder";
    record.reset();
  }
  if (!record) {
    problem.damage = Damage::malformed;
    problem.what = "the record " + why;
    return std::nullopt;
  }
  return Latest{id, version, std::move(*record), sha512_hex(*bytes)};
}

std::optional<Latest> read_latest(const Store& store, const std::string& id, Problem& problem) {
  problem = {Damage::unreadable, id, id, "", "put it back from a copy of the archive"};
  FsError error;
  const Fd folder = open_folder_beneath(store.root_fd.get(), id, error);
  const auto inside = folder.valid() ? list_folder(folder.get(), error) : std::nullopt;
  const int version = inside ? highest_version(*inside) : 0;
  if (!inside) {
    problem.what = error.what;
  } else if (version == 0) {
    problem.damage = Damage::missing;
    problem.what = "the folder has no version in it";
  } else {
    return read_version_record(store, id, version, problem);
  }
  return std::nullopt;
}

std::optional<std::vector<Latest>> read_history(const Store& store, const std::string& id,
                                                Problem& problem) {
  std::optional<Latest> last = read_latest(store, id, problem);
  if (!last) return std::nullopt;
  std::vector<Latest> all;
  for (int version = 1; version < last->version; ++version) {
    std::optional<Latest> one = read_version_record(store, id, version, problem);
    if (!one) return std::nullopt;
    all.push_back(std::move(*one));
  }
  all.push_back(std::move(*last));
  return all;
}

Scan scan(const Store& store) {
  Scan result;
  if (!store.root_fd.valid()) return result;
  FsError error;
  const auto entries = list_folder(store.root_fd.get(), error);
  if (!entries) {
    result.problems.push_back({Damage::unreadable, "", "", error.what, "mend access to the disk"});
    return result;
  }
  for (const Entry& e : *entries) {
    // What is no object of ours is for `verify` to name.
    if (!parse_number(e.name) || e.kind != EntryKind::folder) continue;
    Problem problem;
    std::optional<Latest> latest = read_latest(store, e.name, problem);
    if (latest) {
      result.objects.push_back(std::move(*latest));
    } else {
      result.problems.push_back(std::move(problem));
    }
  }
  return result;
}

std::optional<Mark> read_mark(const Store& store) {
  if (!store.work_fd.valid()) return std::nullopt;
  FsError error;
  const auto bytes = read_beneath(store.work_fd.get(), kMarkFile, 4096, error);
  if (!bytes) return std::nullopt;
  std::string why;
  const std::optional<Json> json = parse_json(*bytes, why);
  const Json* sequence = json ? json->find("sequence") : nullptr;
  if (!sequence || !sequence->as_int()) return std::nullopt;
  return Mark{*sequence->as_int(), json->text("number"), json->text("digest")};
}

bool write_mark(const Store& store, const Mark& mark, FsError& error) {
  Json json = Json::object();
  json.set("sequence", mark.sequence).set("number", mark.number).set("digest", mark.digest);
  static constexpr std::string_view kFresh = "latest.json.new";
  FsError ignored;
  remove_all_beneath(store.work_fd.get(), kFresh, ignored);
  return write_new(store.work_fd.get(), kFresh, json.dump(2) + "\n", error) &&
         rename_over(store.work_fd.get(), kFresh, store.work_fd.get(), kMarkFile, error);
}

}  // namespace ohmleaf::archive
