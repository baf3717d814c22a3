#include "archive/writer.h"

#include <algorithm>
#include <cerrno>

#include "base/digest.h"
#include "base/text.h"

namespace ohmleaf::archive {
namespace {

bool write_content(int folder, const File& file, FsError& error) {
  const std::size_t slash = file.name.find('/');
  if (slash == std::string::npos) return write_new(folder, file.name, file.bytes, error);
  const std::string_view inner = std::string_view(file.name).substr(0, slash);
  Fd sub = exists_in(folder, inner) ? open_folder_beneath(folder, inner, error)
                                    : make_folder(folder, inner, error);
  return sub.valid() &&
         write_new(sub.get(), std::string_view(file.name).substr(slash + 1), file.bytes, error) &&
         sync_folder(sub.get(), error);
}

bool write_version_folder(int stage, const std::string& name, const std::vector<File>& files,
                          const std::string& inventory, FsError& error) {
  const Fd version = make_folder(stage, name, error);
  if (!version.valid()) return false;
  const Fd content = make_folder(version.get(), "content", error);
  if (!content.valid()) return false;
  for (const File& file : files) {
    if (!write_content(content.get(), file, error)) return false;
  }
  return write_new(version.get(), ocfl::kInventory, inventory, error) &&
         write_new(version.get(), ocfl::kSidecar, ocfl::sidecar(inventory), error) &&
         sync_folder(content.get(), error) && sync_folder(version.get(), error);
}

void add_path(ocfl::PathsByDigest& entries, const std::string& digest, std::string path) {
  const auto at = std::find_if(entries.begin(), entries.end(),
                               [&](const auto& entry) { return entry.first == digest; });
  if (at != entries.end()) {
    at->second.push_back(std::move(path));
  } else {
    entries.push_back({digest, {std::move(path)}});
  }
}

std::string message_of(const IssueRecord& record) {
  if (record.kind == RecordKind::issue) return "Issued as " + record.number;
  if (record.kind == RecordKind::withdrawal) return "Withdrawn: " + record.reason;
  if (record.kind == RecordKind::expiry) return "Removed on purpose: " + record.reason;
  if (record.kind == RecordKind::timestamp) return "Time-stamped: " + record.reason;
  return "Revision " + std::to_string(record.revision) + ": " + record.reason;
}

void extend(ocfl::Inventory& inventory, const NewVersion& v) {
  ocfl::Version block;
  block.name = version_name(v.version);
  block.created = v.record.issued.iso();
  block.message = message_of(v.record);
  block.user_name = v.record.person;
  for (const File& file : v.files) {
    const std::string digest = sha512_hex(file.bytes);
    add_path(inventory.manifest, digest, block.name + "/content/" + file.name);
    add_path(block.state, digest, file.name);
  }
  inventory.id = v.id;
  inventory.type = ocfl::kType;
  inventory.head = block.name;
  inventory.versions.push_back(std::move(block));
}

/// The object's inventory so far; for a first version an empty one.
std::optional<ocfl::Inventory> inventory_so_far(const Store& store, const NewVersion& v,
                                                FsError& error) {
  ocfl::Inventory inventory;
  if (v.version == 1) return inventory;
  const std::string path = v.id + "/" + std::string(ocfl::kInventory);
  const auto bytes = read_beneath(store.root_fd.get(), path, kMaxDescription, error);
  if (!bytes) return std::nullopt;
  ocfl::Findings findings;
  auto parsed = ocfl::parse(*bytes, path, findings);
  const bool bad = std::any_of(findings.begin(), findings.end(),
                               [](const ocfl::Finding& f) { return f.is_error(); });
  if (!parsed || bad || parsed->head != version_name(v.version - 1) || parsed->id != v.id ||
      parsed->algorithm != "sha512" || parsed->content() != "content") {
    error = {0, "the inventory of " + v.id + " is damaged; verify says how to mend it"};
    return std::nullopt;
  }
  return parsed;
}

bool complete_record(const Store& store, NewVersion& v, FsError& error) {
  if (v.record.sequence == 1) {
    for (const File& file : root_files()) {
      const auto bytes = read_beneath(store.root_fd.get(), file.name, kMaxDescription, error);
      if (!bytes) return false;
      v.record.root_files.emplace_back(file.name, sha512_hex(*bytes));
    }
  }
  for (const File& file : v.files) {
    v.record.files.push_back({file.name, file.bytes.size(), keyed_digest(v.record, file.bytes)});
  }
  v.files.push_back({std::string(kRecordFile), encode(v.record)});
  std::string why;
  if (!parse_record(v.files.back().bytes, why)) {
    error = {0, "a record was made that cannot be read again: " + why};
    return false;
  }
  return true;
}

/// The commit: one rename, of the whole object or of the whole new version.
Filed commit(const Session& session, int stage, const std::string& stage_name, const NewVersion& v,
             const std::string& inventory, FsError& error) {
  const Store& store = session.store;
  const std::string name = version_name(v.version);
  if (v.in_place_of_old) {
    // Afterwards the old object is in the staging folder, where even a kill leaves it to recovery.
    return exchange(store.staging_fd.get(), stage_name, store.root_fd.get(), v.id, error) &&
                   sync_folder(store.root_fd.get(), error) &&
                   sync_folder(store.staging_fd.get(), error)
               ? Filed::yes
               : Filed::failed;
  }
  if (v.version == 1) {
    if (!rename_new(store.staging_fd.get(), stage_name, store.root_fd.get(), v.id, error)) {
      const bool taken = error.code == EEXIST;
      FsError ignored;
      remove_all_beneath(store.staging_fd.get(), stage_name, ignored);
      return taken ? Filed::number_taken : Filed::failed;
    }
    return sync_folder(store.root_fd.get(), error) ? Filed::yes : Filed::failed;
  }
  const Fd object = open_folder_beneath(store.root_fd.get(), v.id, error);
  if (!object.valid() || !rename_new(stage, name, object.get(), name, error) ||
      !sync_folder(object.get(), error) ||
      !publish_inventory(store, object.get(), inventory, error)) {
    return Filed::failed;
  }
  return Filed::yes;
}

}  // namespace

Filed file_version(Session& session, NewVersion v, FsError& error) {
  Store& store = session.store;
  if (!make_root(store, error) || !complete_record(store, v, error)) return Filed::failed;
  std::optional<ocfl::Inventory> inventory = inventory_so_far(store, v, error);
  if (!inventory) return Filed::failed;
  extend(*inventory, v);
  const std::string bytes = ocfl::encode(*inventory);
  const std::optional<std::string> random = random_hex(8);
  if (!random) {
    error = {0, "the system gives no random numbers"};
    return Filed::failed;
  }
  const std::string name = v.id + "." + *random;
  const Fd stage = make_folder(store.staging_fd.get(), name, error);
  if (!stage.valid()) return Filed::failed;
  const std::string declaration(ocfl::kObjectDeclaration);
  const bool first = v.version == 1;
  if (!write_version_folder(stage.get(), version_name(v.version), v.files, bytes, error) ||
      (first && (!write_new(stage.get(), declaration, declaration.substr(2) + "\n", error) ||
                 !write_new(stage.get(), ocfl::kInventory, bytes, error) ||
                 !write_new(stage.get(), ocfl::kSidecar, ocfl::sidecar(bytes), error))) ||
      !sync_folder(stage.get(), error)) {
    FsError ignored;
    remove_all_beneath(store.staging_fd.get(), name, ignored);
    return Filed::failed;
  }
  // What says that a revision was begun must be on the disk before it is: with an empty staging
  // folder the next command asks no object.
  if (!first && !sync_folder(store.staging_fd.get(), error)) return Filed::failed;
  const bool was_alone = nobody_else_filed(session.contents, store);
  const Filed state = commit(session, stage.get(), name, v, bytes, error);
  if (state != Filed::yes) return state;
  FsError mark_error;
  // Of what is removed on purpose nothing may stay in the pages of the index.
  const bool index_holds = v.in_place_of_old
                               ? Index::remove(store)
                               : enter_in_index(session.contents, store, v.id, first, was_alone);
  if (!index_holds) {
    session.notes.push_back(
        "filed, but the search index could be neither renewed nor removed: the next command does");
  }
  // Only now: as long as it is there, nobody believes the index.
  if (index_holds && (!first || v.in_place_of_old) &&
      !remove_all_beneath(store.staging_fd.get(), name, mark_error)) {
    session.notes.push_back("what was replaced could not be removed yet, the next command does: " +
                            mark_error.what);
  }
  const Mark mark{v.record.sequence, v.record.number, sha512_hex(v.files.back().bytes)};
  if (!write_mark(store, mark, mark_error)) {
    session.notes.push_back("filed, but the note beside the archive could not be renewed: " +
                            mark_error.what);
  }
  return Filed::yes;
}

}  // namespace ohmleaf::archive
