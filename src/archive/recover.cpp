#include <fcntl.h>
#include <sys/stat.h>

#include <algorithm>
#include <cerrno>

#include "archive/index.h"
#include "base/digest.h"
#include "base/text.h"

namespace ohmleaf::archive {
namespace {

// A new version of an object becomes true in one step: the rename of a whole vN into the object.
// Two steps follow to please the layout: the object's own inventory.json, then its sidecar. A
// program killed between them leaves one of these states, N being the highest version:
//
//   inventory.json   sidecar        what happened            what we do
//   of v(N-1)        of v(N-1)      killed after the rename  copy vN's up
//   of vN            of v(N-1)      killed before the last   copy vN's up
//   of v(N-1)        of v(N-1)      ... and vN is not whole: a disk that lied; vN aside
//
// Nothing else can be left by a kill. Any other difference is damage, or somebody's hand: it is
// left as it is for `verify` to name, because a silent repair would hide it.

// A file that cannot be read now (no permission, too many open files, a bad sector) says nothing
// of what was written. Only a file that is not there, or reads well and differs, makes a version
// "not whole"; at any other error the recovery stops and leaves everything for the next command.

/// Reads a file; an absent one is empty. False where it cannot be known.
bool read_if_there(int object, const std::string& path, std::size_t max, std::string& bytes,
                   FsError& error) {
  auto read = read_beneath(object, path, max, error);
  if (!read && error.code != ENOENT) return false;
  bytes = read.value_or("");
  return true;
}

/// Sets `whole` if all that vN's own inventory says of vN is there with the right digest.
bool find_whole(int object, int version, const std::string& inventory, bool& whole,
                FsError& error) {
  whole = false;
  const std::string name = version_name(version);
  std::string side;
  if (!read_if_there(object, name + "/" + std::string(ocfl::kSidecar), 4096, side, error)) {
    return false;
  }
  if (side != ocfl::sidecar(inventory)) return true;
  ocfl::Findings findings;
  const auto parsed = ocfl::parse(inventory, name, findings);
  if (!parsed || parsed->head != name) return true;
  if (std::any_of(findings.begin(), findings.end(),
                  [](const ocfl::Finding& f) { return f.is_error(); })) {
    return true;
  }
  for (const auto& [digest, paths] : parsed->manifest) {
    for (const std::string& path : paths) {
      if (!path.starts_with(name + "/")) continue;
      std::string bytes;
      if (!read_if_there(object, path, kMaxContent, bytes, error)) return false;
      if (sha512_hex(bytes) != ascii_lower(digest)) return true;
    }
  }
  whole = true;
  return true;
}

bool move_aside(const Store& store, int object, const std::string& id, const std::string& version,
                std::vector<std::string>& notes, FsError& error) {
  Fd aside = make_folder(store.work_fd.get(), kAside, error);
  if (!aside.valid() && error.code == EEXIST) {
    aside = open_folder_beneath(store.work_fd.get(), kAside, error);
  }
  const std::optional<std::string> random = random_hex(4);
  if (!aside.valid() || !random) return false;
  const std::string name = id + "-" + version + "-" + *random;
  if (!rename_new(object, version, aside.get(), name, error) || !sync_folder(object, error) ||
      !sync_folder(aside.get(), error)) {
    return false;
  }
  notes.push_back("moved the unfinished " + version + " of " + id + " to \"" +
                  (store.work / kAside / name).string() + "\"");
  return true;
}

bool recover_object(const Store& store, const std::string& id, std::vector<std::string>& notes,
                    FsError& error) {
  // Most have one version, which came by one rename, and none is opened for that: an issue asks
  // all.
  const std::string second = id + "/" + version_name(2);
  struct stat st {};
  if (::fstatat(store.root_fd.get(), second.c_str(), &st, AT_SYMLINK_NOFOLLOW) != 0 &&
      errno == ENOENT)
    return true;
  const Fd object = open_folder_beneath(store.root_fd.get(), id, error);
  const auto entries = object.valid() ? list_folder(object.get(), error) : std::nullopt;
  if (!entries) return false;
  const int version = highest_version(*entries);
  if (version < 2) return true;
  const std::string file(ocfl::kInventory);
  std::string root, side, latest, before;
  for (const auto& [path, bytes] :
       {std::pair{file, &root}, std::pair{std::string(ocfl::kSidecar), &side},
        std::pair{version_name(version) + "/" + file, &latest},
        std::pair{version_name(version - 1) + "/" + file, &before}}) {
    if (!read_if_there(object.get(), path, kMaxDescription, *bytes, error)) return false;
  }
  if (root == latest && side == ocfl::sidecar(latest)) return true;
  const bool killed = side == ocfl::sidecar(before) && (root == before || root == latest);
  if (!killed || before.empty()) return true;
  bool whole = false;
  if (!find_whole(object.get(), version, latest, whole, error)) return false;
  if (whole) {
    if (!publish_inventory(store, object.get(), latest, error)) return false;
    notes.push_back("finished " + version_name(version) + " of " + id +
                    ", which an interrupted command had filed");
    return true;
  }
  if (root != before) return true;
  return move_aside(store, object.get(), id, version_name(version), notes, error);
}

}  // namespace

bool publish_inventory(const Store& store, int object, const std::string& inventory,
                       FsError& error) {
  const std::optional<std::string> random = random_hex(8);
  if (!random) {
    error = {0, "the system gives no random numbers"};
    return false;
  }
  const std::string fresh = "inventory." + *random, side = "sidecar." + *random;
  const int staging = store.staging_fd.get();
  return write_new(staging, fresh, inventory, error) &&
         write_new(staging, side, ocfl::sidecar(inventory), error) &&
         rename_over(staging, fresh, object, ocfl::kInventory, error) &&
         sync_folder(object, error) && rename_over(staging, side, object, ocfl::kSidecar, error) &&
         sync_folder(object, error);
}

bool recover(const Store& store, std::vector<std::string>& notes, FsError& error) {
  const auto left = list_folder(store.staging_fd.get(), error);
  if (!left) return false;
  if (store.root_fd.valid()) {
    const auto entries = list_folder(store.root_fd.get(), error);
    if (!entries) return false;
    for (const Entry& e : *entries) {
      if (e.kind != EntryKind::folder || !parse_number(e.name)) continue;
      if (!recover_object(store, e.name, notes, error)) return false;
    }
  }
  if (!left->empty()) Index::doubt(store);
  // Never filed, so no number was drawn for it: the command that left it said nothing of success.
  for (const Entry& e : *left) {
    if (!remove_all_beneath(store.staging_fd.get(), e.name, error)) return false;
  }
  if (!left->empty()) notes.push_back("removed the unfinished work of an interrupted command");
  return true;
}

}  // namespace ohmleaf::archive
