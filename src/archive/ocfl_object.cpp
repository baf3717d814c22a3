#include <algorithm>
#include <cerrno>
#include <set>

#include "archive/fs.h"
#include "archive/ocfl.h"
#include "base/text.h"

namespace ohmleaf::archive::ocfl {
namespace {

constexpr std::string_view kDeclarationStem = "0=ocfl_object_";

/// One inventory as found: the root's, or a version's.
struct Found {
  std::string place;  ///< "" or "v2/"
  std::string bytes;
  Inventory inventory;
};

class ObjectChecker {
 public:
  ObjectChecker(int folder, const OnContent& on_content)
      : folder_(folder), on_content_(on_content) {}

  ObjectCheck run();

 private:
  void add(const char* code, Damage damage, std::string file, std::string what) {
    result_.findings.push_back({code, damage, std::move(file), std::move(what)});
  }
  void check_declaration(const std::vector<Entry>& entries);
  std::optional<Found> read_inventory(const std::string& place, const std::vector<Entry>& entries);
  void check_root_entries(const std::vector<Entry>& entries, const Inventory& inventory);
  void check_extensions();
  void check_version_folders(const std::vector<Entry>& entries, const Inventory& inventory);
  void check_version_folder(const std::string& name, const Inventory& root);
  void walk_content(const std::string& path);
  void check_digests();
  void check_unlisted();
  void compare_with_root();

  int folder_;
  const OnContent& on_content_;
  ObjectCheck result_;
  std::vector<Found> found_;             ///< the root's first
  std::map<std::string, bool> on_disk_;  ///< content paths; true once its digest was checked
  std::vector<std::string> version_folders_;
};

void ObjectChecker::check_declaration(const std::vector<Entry>& entries) {
  std::size_t count = 0;
  for (const Entry& e : entries) {
    if (!e.name.starts_with("0=")) continue;
    ++count;
    FsError error;
    const auto text = read_beneath(folder_, e.name, 256, error);
    if (!text) {
      add("E003", Damage::unreadable, e.name, "the declaration cannot be read: " + error.what);
    } else if (*text != e.name.substr(2) + "\n") {
      add("E007", Damage::altered, e.name, "the declaration does not hold its own name");
    }
    if (!e.name.starts_with(kDeclarationStem)) {
      add("E006", Damage::extra, e.name, "the declaration is not one of an object");
    } else if (e.name != kObjectDeclaration && e.name != "0=ocfl_object_1.0") {
      add("E004", Damage::malformed, e.name, "the declaration is of an unknown version of OCFL");
    }
  }
  if (count == 0) {
    add("E003", Damage::missing, std::string(kObjectDeclaration), "the declaration is missing");
  } else if (count > 1) {
    add("E003", Damage::extra, "", "there is more than one declaration");
  }
}

std::optional<Found> ObjectChecker::read_inventory(const std::string& place,
                                                   const std::vector<Entry>& entries) {
  const auto has = [&](std::string_view name) {
    return std::any_of(entries.begin(), entries.end(),
                       [&](const Entry& e) { return e.name == name; });
  };
  const std::string file = place + std::string(kInventory);
  if (!has(kInventory)) {
    if (place.empty()) {
      add("E063", Damage::missing, file, "the inventory is missing");
    } else {
      add("W010", Damage::missing, file, "the version has no inventory of its own");
    }
    return std::nullopt;
  }
  FsError error;
  auto bytes = read_beneath(folder_, file, kMaxDescription, error);
  if (!bytes) {
    add("E063", Damage::unreadable, file, error.what);
    return std::nullopt;
  }
  std::optional<Inventory> inventory = parse(*bytes, file, result_.findings);
  // Damage may have hit the name of the algorithm itself: then the sidecar that is there decides.
  std::string algorithm = inventory ? inventory->algorithm : "sha512";
  if (digest(algorithm, "").empty()) algorithm = "sha512";
  const std::string side_name = file + "." + algorithm;
  if (!has(std::string(kInventory) + "." + algorithm)) {
    add("E058", Damage::missing, side_name, "the inventory's digest file is missing");
  } else if (const auto side = read_beneath(folder_, side_name, 4096, error); !side) {
    add("E058", Damage::unreadable, side_name, error.what);
  } else {
    const std::size_t gap = side->find_first_of(" \t");
    const std::size_t name = gap == std::string::npos ? gap : side->find_first_not_of(" \t", gap);
    if (name == std::string::npos || (side->substr(name) != std::string(kInventory) + "\n" &&
                                      side->substr(name) != kInventory)) {
      add("E061", Damage::malformed, side_name, "is not a digest followed by inventory.json");
    } else if (ascii_lower(side->substr(0, gap)) != digest(algorithm, *bytes)) {
      add("E060", Damage::altered, file, "the inventory is not the one its digest file names");
    }
  }
  if (!inventory) return std::nullopt;
  return Found{place, std::move(*bytes), std::move(*inventory)};
}

void ObjectChecker::check_root_entries(const std::vector<Entry>& entries,
                                       const Inventory& inventory) {
  const std::string side = std::string(kInventory) + "." + inventory.algorithm;
  for (const Entry& e : entries) {
    const bool folder = e.kind == EntryKind::folder;
    if (e.kind == EntryKind::other) {
      add("E090", Damage::extra, e.name, "is a link or no file at all");
    } else if (folder && version_number(e.name)) {
      version_folders_.push_back(e.name);
    } else if (folder && e.name == "extensions") {
      check_extensions();
    } else if (folder && e.name == "logs") {
      continue;
    } else if (folder || (e.name != kInventory && e.name != side && !e.name.starts_with("0="))) {
      add("E001", Damage::extra, e.name, "does not belong in the folder of a job");
    }
  }
}

void ObjectChecker::check_extensions() {
  FsError error;
  const Fd folder = open_folder_beneath(folder_, "extensions", error);
  const auto entries = folder.valid() ? list_folder(folder.get(), error) : std::nullopt;
  for (const Entry& e : entries ? *entries : std::vector<Entry>{}) {
    if (e.kind == EntryKind::folder) {
      add("W013", Damage::extra, "extensions/" + e.name, "is an extension that we do not know");
    } else {
      add("E067", Damage::extra, "extensions/" + e.name, "does not belong among extensions");
    }
  }
}

void ObjectChecker::walk_content(const std::string& path) {
  FsError error;
  const Fd folder = open_folder_beneath(folder_, path, error);
  const auto entries = folder.valid() ? list_folder(folder.get(), error) : std::nullopt;
  if (!entries) {
    add("E092", Damage::unreadable, path, error.what);
    return;
  }
  if (entries->empty()) add("E024", Damage::extra, path, "is an empty folder");
  for (const Entry& e : *entries) {
    const std::string name = path + "/" + e.name;
    if (e.kind == EntryKind::folder && name.size() < 4096) {
      walk_content(name);
    } else if (e.kind == EntryKind::file) {
      on_disk_.emplace(name, false);
    } else {
      add("E090", Damage::extra, name, "is a link or no file at all");
    }
  }
}

void ObjectChecker::check_version_folder(const std::string& name, const Inventory& root) {
  FsError error;
  const Fd folder = open_folder_beneath(folder_, name, error);
  const auto entries = folder.valid() ? list_folder(folder.get(), error) : std::nullopt;
  if (!entries) {
    add("E010", Damage::unreadable, name, error.what);
    return;
  }
  std::optional<Found> own = read_inventory(name + "/", *entries);
  const std::string side =
      std::string(kInventory) + "." + (own ? own->inventory.algorithm : root.algorithm);
  for (const Entry& e : *entries) {
    const std::string path = name + "/" + e.name;
    if (e.kind == EntryKind::folder && e.name == root.content()) {
      walk_content(path);
    } else if (e.kind == EntryKind::folder) {
      add("W002", Damage::extra, path, "does not belong in the folder of a version");
    } else if (e.kind == EntryKind::other) {
      add("E090", Damage::extra, path, "is a link or no file at all");
    } else if (e.name != kInventory && e.name != side) {
      add("E015", Damage::extra, path, "does not belong in the folder of a version");
    }
  }
  if (own) found_.push_back(std::move(*own));
}

void ObjectChecker::check_version_folders(const std::vector<Entry>& entries,
                                          const Inventory& inventory) {
  for (const Version& v : inventory.versions) {
    if (std::find(version_folders_.begin(), version_folders_.end(), v.name) ==
        version_folders_.end()) {
      const bool as_file = std::any_of(entries.begin(), entries.end(),
                                       [&](const Entry& e) { return e.name == v.name; });
      add("E010", as_file ? Damage::malformed : Damage::missing, v.name,
          as_file ? "is not a folder" : "the version is missing");
    }
  }
  for (const std::string& name : version_folders_) {
    const bool known = std::any_of(inventory.versions.begin(), inventory.versions.end(),
                                   [&](const Version& v) { return v.name == name; });
    if (!known) {
      add("E046", Damage::extra, name, "the version is not in the job's inventory");
      add("E001", Damage::extra, name, "the version is not in the job's inventory");
    }
    check_version_folder(name, inventory);
  }
}

/// Every digest that any inventory states, for each content path.
using Wanted = std::map<std::string, std::set<std::pair<std::string, std::string>>>;

void ObjectChecker::check_digests() {
  Wanted wanted;
  const auto collect = [&](Wanted& to, const std::string& algorithm, const PathsByDigest& list) {
    for (const auto& [digest, paths] : list) {
      for (const std::string& p : paths) to[p].insert({algorithm, ascii_lower(digest)});
    }
  };
  Wanted fixity;
  for (const Found& f : found_) {
    collect(wanted, f.inventory.algorithm, f.inventory.manifest);
    for (const auto& [algorithm, list] : f.inventory.fixity) collect(fixity, algorithm, list);
  }
  for (const auto& [path, digests] : fixity) {
    if (!on_disk_.contains(path)) {
      add("E093", Damage::missing, path, "the file is missing");
    } else {
      wanted[path];
    }
  }
  for (const auto& [path, digests] : wanted) {
    const auto disk = on_disk_.find(path);
    if (disk == on_disk_.end()) {
      add("E092", Damage::missing, path, "the file is missing");
      continue;
    }
    disk->second = true;
    FsError error;
    const auto bytes = read_beneath(folder_, path, kMaxContent, error);
    if (!bytes) {
      add("E092", Damage::unreadable, path, error.what);
      continue;
    }
    ++result_.files;
    result_.bytes += bytes->size();
    const auto differs = [&](const std::pair<std::string, std::string>& d) {
      const std::string actual = digest(d.first, *bytes);
      return !actual.empty() && actual != d.second;
    };
    if (std::any_of(digests.begin(), digests.end(), differs)) {
      add("E092", Damage::altered, path, "the file is not the one that was filed");
    }
    const auto extra = fixity.find(path);
    if (extra != fixity.end() && std::any_of(extra->second.begin(), extra->second.end(), differs)) {
      add("E093", Damage::altered, path, "the file does not have its fixity digest");
    }
    if (on_content_) on_content_(path, *bytes);
  }
}

std::set<std::string> listed_paths(const Inventory& inventory) {
  std::set<std::string> listed;
  for (const auto& [digest, paths] : inventory.manifest) listed.insert(paths.begin(), paths.end());
  return listed;
}

void ObjectChecker::check_unlisted() {
  for (const Found& f : found_) {
    const std::set<std::string> listed = listed_paths(f.inventory);
    const int head = version_number(f.inventory.head).value_or(0);
    for (const auto& [path, checked] : on_disk_) {
      const int version = version_number(path.substr(0, path.find('/'))).value_or(0);
      if (version <= head && !listed.contains(path)) {
        add("E023", Damage::extra, path,
            f.place.empty() ? "the file is not in the inventory"
                            : "the file is not in the inventory of " + f.inventory.head);
      }
    }
  }
}

void ObjectChecker::compare_with_root() {
  const Found& root = found_.front();
  std::string type;
  for (std::size_t i = 1; i < found_.size(); ++i) {
    const Found& f = found_[i];
    const std::string file = f.place + std::string(kInventory);
    const std::string name = f.place.substr(0, f.place.size() - 1);
    if (name == root.inventory.head && f.bytes != root.bytes) {
      add("E064", Damage::altered, std::string(kInventory),
          "the job's inventory is not that of its newest version");
    }
    if (f.inventory.head != name) {
      add("E040", Damage::malformed, file, "has the head \"" + f.inventory.head + "\"");
    }
    if (f.inventory.id != root.inventory.id) {
      add("E037", Damage::malformed, file, "has the id \"" + f.inventory.id + "\"");
      add("E110", Damage::malformed, file, "has the id \"" + f.inventory.id + "\"");
    }
    if (f.inventory.content() != root.inventory.content()) {
      add("E019", Damage::malformed, file, "has another content folder");
      add("E020", Damage::malformed, file, "has another content folder");
    }
    if (f.inventory.type < type) {
      add("E103", Damage::malformed, file, "is of an older OCFL than the version before it");
    }
    type = f.inventory.type;
    if (f.inventory.algorithm != root.inventory.algorithm) {
      add("W004", Damage::malformed, file, "uses another digest algorithm");
    }
    for (Finding& difference : differing_versions(file, f.inventory, root.inventory))
      result_.findings.push_back(std::move(difference));
  }
  if (!type.empty() && root.inventory.type < type) {
    add("E103", Damage::malformed, std::string(kInventory), "is of an older OCFL than a version");
  }
}

ObjectCheck ObjectChecker::run() {
  FsError error;
  const auto entries = list_folder(folder_, error);
  if (!entries) {
    add("E001", Damage::unreadable, "", error.what);
    return std::move(result_);
  }
  check_declaration(*entries);
  std::optional<Found> root = read_inventory("", *entries);
  const Inventory inventory = root ? root->inventory : Inventory{};
  if (root) result_.inventory = inventory;
  check_root_entries(*entries, inventory);
  std::sort(version_folders_.begin(), version_folders_.end(),
            [](const std::string& a, const std::string& b) {
              return *version_number(a) < *version_number(b);
            });
  if (root) {
    found_.push_back(std::move(*root));
    check_version_folders(*entries, inventory);
  } else {  // what each version lists of itself is still there to compare with
    for (const std::string& name : version_folders_) check_version_folder(name, inventory);
  }
  check_digests();
  check_unlisted();
  if (result_.inventory) compare_with_root();
  return std::move(result_);
}

}  // namespace

ObjectCheck check_object(int folder, const OnContent& on_content) {
  return ObjectChecker(folder, on_content).run();
}

}  // namespace ohmleaf::archive::ocfl
