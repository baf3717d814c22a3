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

/// All that vN's own inventory says of vN is there with the right digest.
bool is_whole(int object, int version, const std::string& inventory) {
  FsError error;
  const std::string name = version_name(version);
  const auto side = read_beneath(object, name + "/" + std::string(ocfl::kSidecar), 4096, error);
  if (!side || *side != ocfl::sidecar(inventory)) return false;
  ocfl::Findings findings;
  const auto parsed = ocfl::parse(inventory, name, findings);
  if (!parsed || parsed->head != name) return false;
  if (std::any_of(findings.begin(), findings.end(),
                  [](const ocfl::Finding& f) { return f.is_error(); })) {
    return false;
  }
  for (const auto& [digest, paths] : parsed->manifest) {
    for (const std::string& path : paths) {
      if (!path.starts_with(name + "/")) continue;
      const auto bytes = read_beneath(object, path, kMaxContent, error);
      if (!bytes || sha512_hex(*bytes) != ascii_lower(digest)) return false;
    }
  }
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
  const Fd object = open_folder_beneath(store.root_fd.get(), id, error);
  const auto entries = object.valid() ? list_folder(object.get(), error) : std::nullopt;
  const int version = entries ? highest_version(*entries) : 0;
  if (version < 2) return true;  // an object of one version came by one rename; else: damage
  FsError unreadable;
  const auto read = [&](const std::string& path) {
    return read_beneath(object.get(), path, kMaxDescription, unreadable).value_or("");
  };
  const std::string file(ocfl::kInventory);
  const std::string root = read(file);
  const std::string side = read(std::string(ocfl::kSidecar));
  const std::string latest = read(version_name(version) + "/" + file);
  const std::string before = read(version_name(version - 1) + "/" + file);
  if (root == latest && side == ocfl::sidecar(latest)) return true;
  const bool killed = side == ocfl::sidecar(before) && (root == before || root == latest);
  if (!killed || before.empty()) return true;
  if (is_whole(object.get(), version, latest)) {
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
