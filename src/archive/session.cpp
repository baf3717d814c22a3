#include <algorithm>

#include "archive/writer.h"
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
  std::optional<Latest> real = read_latest(session.store, latest.id, problem);
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
  const std::vector<std::string> remedy = {std::string(kRunVerify),
                                           "Nothing was issued and no number was used."};
  if (!session.contents.problems.empty()) {
    const Problem& p = session.contents.problems.front();
    out.system_error("archive-damaged",
                     "the archive is damaged at \"" + path_text(p.file) + "\": " + visible(p.what),
                     remedy);
    return false;
  }
  std::optional<Latest>& latest = session.contents.newest;
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
        {"Put the newest copy of the archive back, or its number would be used twice.",
         "If the older copy is the right one, delete \"" +
             path_text(session.store.work / kMarkFile) + "\"."});
    return false;
  }
  return true;
}

}  // namespace

bool load(const Session& session, Latest& object, Diagnostics& out) {
  Problem problem;
  std::optional<Latest> real = read_latest(session.store, object.id, problem);
  if (!real) {
    out.system_error("archive-damaged",
                     "\"" + path_text(problem.file) + "\": " + visible(problem.what),
                     {std::string(kRunVerify)});
    return false;
  }
  object = std::move(*real);
  return true;
}

namespace {

std::optional<Session> take_lock(const std::filesystem::path& root, Diagnostics& out) {
  std::optional<Store> store = open_store(root, out);
  if (!store || !open_work(*store, out)) return std::nullopt;
  FsError error;
  std::optional<Lock> lock = Lock::take(store->work_fd.get(), kLockFile, kLockWaitMs, error);
  if (!lock) {
    out.system_error("archive-locked", error.what,
                     {"Wait until it is done, then run the same command again."});
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
  return session;
}

}  // namespace

std::optional<Session> begin_mending(const std::filesystem::path& root, Diagnostics& out) {
  std::optional<Session> session = take_lock(root, out);
  FsError error;
  if (!session || recover(session->store, session->notes, error)) return session;
  out.system_error("archive-write", error.what);
  return std::nullopt;
}

std::optional<Session> begin_session(const std::filesystem::path& root, const Question& question,
                                     Diagnostics& out) {
  std::optional<Session> session = take_lock(root, out);
  if (!session) return std::nullopt;
  FsError error;
  std::optional<Contents> known = known_contents(session->store, question);
  if (!known && !recover(session->store, session->notes, error)) {
    out.system_error("archive-write", error.what);
    return std::nullopt;
  }
  session->contents = known ? std::move(*known) : look_at_contents(session->store, question);
  Diagnostics first;
  if (chain_can_continue(*session, first)) return session;
  // What only the index says is not held against the files.
  if (session->contents.index && session->contents.problems.empty()) {
    if (!recover(session->store, session->notes, error)) {
      out.system_error("archive-write", error.what);
      return std::nullopt;
    }
    session->contents = read_contents(session->store, question);
  }
  if (!chain_can_continue(*session, out)) return std::nullopt;
  return session;
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
  out.system_error("archive-write", error.what, {"Run the same command again."});
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
    out.error(act + "-reason", {}, "a " + act + " needs a reason",
              {"Say " + std::string(reason) + "."});
  for (const std::string* text : {&r.program, &r.person, &r.reason})
    if (text->size() > (64u << 10) || first_invalid_utf8(*text))
      out.error("archive-text", {}, "a text to be filed is not UTF-8 or longer than 64 KiB");
  if (r.person.empty()) out.error("archive-person", {}, "it is not said whose " + act + " it is");
  if (r.program.empty())
    out.error("archive-program", {}, "it is not said which program makes the " + act);
  return out.ok();
}

std::optional<Opened> open_number(const std::filesystem::path& root, const std::string& number,
                                  Diagnostics& out) {
  std::optional<Session> session = begin_session(root, {}, out);
  if (!session || !has_number(session->store, number, out)) return std::nullopt;
  Latest object;
  object.id = ascii_lower(number);
  if (!load(*session, object, out)) return std::nullopt;
  return Opened{std::move(*session), std::move(object)};
}

}  // namespace ohmleaf::archive
