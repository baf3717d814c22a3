#include "archive/writer.h"

#include <algorithm>
#include <cerrno>

#include "archive/index.h"
#include "base/digest.h"
#include "base/text.h"

namespace ohmleaf::archive {
namespace {

constexpr int kLockWaitMs = 60'000;

std::string path_text(const std::filesystem::path& path) {
  return visible(path.string());
}

/// The newest record must be as its inventory says, or the next one would vouch for damage. Read
/// from the file itself: an index may have known it before the damage.
bool newest_is_sound(const Session& session, Latest& latest, std::string& why) {
  Problem problem;
  const int store = session.store.root_fd.get();
  std::optional<Latest> real =
      read_version_record(session.store, latest.id, latest.version, problem);
  if (!real) {
    why = "\"" + problem.file.string() + "\": " + problem.what;
    return false;
  }
  latest = std::move(*real);
  FsError error;
  const std::string path =
      latest.id + "/" + version_name(latest.version) + "/" + std::string(ocfl::kInventory);
  const auto bytes = read_beneath(store, path, kMaxDescription, error);
  if (!bytes) {
    why = error.what;
    return false;
  }
  ocfl::Findings ignored;
  const auto inventory = ocfl::parse(*bytes, path, ignored);
  const std::string wanted = version_name(latest.version) + "/content/" + std::string(kRecordFile);
  for (const auto& [digest, paths] : inventory ? inventory->manifest : ocfl::PathsByDigest{}) {
    if (ascii_lower(digest) == latest.digest &&
        std::find(paths.begin(), paths.end(), wanted) != paths.end()) {
      return true;
    }
  }
  why = "the newest record, of " + latest.record.number +
        ", is not the one that its inventory describes";
  return false;
}

bool chain_can_continue(Session& session, Diagnostics& out) {
  const std::vector<std::string> remedy = {
      "run verify: it names each damaged file and the way back",
      "nothing was issued and no number was used"};
  if (!session.scan.problems.empty()) {
    const Problem& p = session.scan.problems.front();
    out.system_error("archive-damaged",
                     "the archive is damaged at \"" + path_text(p.file) + "\": " + visible(p.what),
                     remedy);
    return false;
  }
  Latest* latest = newest(session.scan);
  std::string why;
  if (latest && !newest_is_sound(session, *latest, why)) {
    out.system_error("archive-damaged", "the archive is damaged: " + visible(why), remedy);
    return false;
  }
  const std::optional<Mark> mark = read_mark(session.store);
  const std::int64_t sequence = latest ? latest->record.sequence : 0;
  const bool behind = mark && (sequence < mark->sequence ||
                               (sequence == mark->sequence && latest->digest != mark->digest));
  if (behind) {
    out.system_error(
        "archive-behind",
        "the archive does not hold " + visible(mark->number) +
            " as it was last filed here: files were lost, changed, or an older copy put back",
        {"put the newest copy of the archive back, or its number would be used twice",
         "if the older copy is the right one, delete \"" +
             path_text(session.store.work / kMarkFile) + "\""});
    return false;
  }
  return true;
}

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

void renew_index(const Store& store) {
  std::unique_ptr<Index> index = Index::open(store, false);
  std::vector<Problem> ignored;
  if (index && !index->sync(store, ignored)) {
    index.reset();
    Index::remove(store);
  }
}

bool load(const Session& session, Latest& object, Diagnostics& out) {
  Problem problem;
  std::optional<Latest> real =
      read_version_record(session.store, object.id, object.version, problem);
  if (!real) {
    out.system_error("archive-damaged",
                     "\"" + path_text(problem.file) + "\": " + visible(problem.what),
                     {"run verify: it names each damaged file and the way back"});
    return false;
  }
  object = std::move(*real);
  return true;
}

std::optional<Session> begin_mending(const std::filesystem::path& root, Diagnostics& out) {
  std::optional<Store> store = open_store(root, out);
  if (!store || !open_work(*store, out)) return std::nullopt;
  FsError error;
  std::optional<Lock> lock = Lock::take(store->work_fd.get(), kLockFile, kLockWaitMs, error);
  if (!lock) {
    out.system_error("archive-locked", error.what,
                     {"wait until it is done, then run the same command again"});
    return std::nullopt;
  }
  // Another issuer may have made the archive while we waited.
  if (!store->root_fd.valid()) {
    std::optional<Store> again = open_store(root, out);
    if (!again) return std::nullopt;
    store->root_fd = std::move(again->root_fd);
  }
  Session session{std::move(*store), std::move(*lock), {}, {}};
  if (on_network_file_system(session.store.work_fd.get())) {
    session.notes.push_back(
        "the archive is on a network or sync folder, whose locks cannot be relied on: let one "
        "computer issue at a time");
  }
  if (!recover(session.store, session.notes, error)) {
    out.system_error("archive-write", error.what);
    return std::nullopt;
  }
  return session;
}

std::optional<Session> begin_session(const std::filesystem::path& root, Diagnostics& out) {
  std::optional<Session> session = begin_mending(root, out);
  if (!session) return std::nullopt;
  session->scan = scan_for_writing(session->store);
  if (!chain_can_continue(*session, out)) return std::nullopt;
  return session;
}

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
  const Filed filed = commit(session, stage.get(), name, v, bytes, error);
  if (filed != Filed::yes) return filed;
  renew_index(store);
  FsError mark_error;
  // Only now: as long as it is there, a search does not believe the index.
  if ((!first || v.in_place_of_old) &&
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

IssueResult result_for(const Session& session, const Latest& latest, IssueState state) {
  IssueResult result;
  result.state = state;
  result.number = latest.record.number;
  result.revision = latest.record.revision;
  result.issued = latest.record.issued;
  result.folder = session.store.root / latest.id / version_name(latest.version) / "content";
  result.notes = session.notes;
  return result;
}

IssueResult already(const Session& session, const Latest& latest, Diagnostics& out) {
  FsError error;
  if (settle(session, latest, error)) {
    return result_for(session, latest, IssueState::already_issued);
  }
  out.system_error("archive-write", error.what, {"run the same command again"});
  return result_for(session, latest, IssueState::refused);
}

bool settle(const Session& session, const Latest& latest, FsError& error) {
  const Fd object = open_folder_beneath(session.store.root_fd.get(), latest.id, error);
  return object.valid() && sync_folder(object.get(), error) &&
         sync_folder(session.store.root_fd.get(), error);
}

bool check_request(const WithdrawRequest& r, std::string_view what, std::string_view reason,
                   Diagnostics& out) {
  const std::string act(what);
  if (trim(r.reason).empty())
    out.error(act + "-reason", {}, "a " + act + " needs a reason", {"say " + std::string(reason)});
  for (const std::string* text : {&r.program, &r.person, &r.reason})
    if (text->size() > (64u << 10) || first_invalid_utf8(*text))
      out.error("archive-text", {}, "a text to be filed is not UTF-8 or longer than 64 KiB");
  if (r.person.empty()) out.error("archive-person", {}, "it is not said whose " + act + " it is");
  if (r.program.empty())
    out.error("archive-program", {}, "it is not said which program makes the " + act);
  return out.ok();
}

const Latest* require_number(const Session& session, const std::string& number, Diagnostics& out) {
  const Latest* found = find_number(session.scan, number);
  if (!found)
    out.error("unknown-number", {}, "the archive has no certificate " + visible(number),
              {"find lists what it has"});
  return found;
}

}  // namespace ohmleaf::archive
