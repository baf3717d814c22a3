#include "archive/writer.h"
#include "base/digest.h"
#include "base/text.h"

namespace ohmleaf::archive {
namespace {

/// What stays: number, revision, dates, the place of each record in the chain. The job's id, the
/// facts, the files and the salt that their digests are keyed with go.
IssueRecord tombstone(const WithdrawRequest& request, const std::vector<Latest>& versions,
                      const Latest& newest, std::string salt) {
  const IssueRecord& last = versions.back().record;
  IssueRecord record;
  record.kind = RecordKind::expiry;
  record.number = last.number;
  record.revision = last.revision;
  record.sequence = newest.record.sequence + 1;
  record.previous = newest.digest;
  record.job_id = "removed-" + ascii_lower(last.number);
  record.issued = request.now;
  record.program = request.program;
  record.person = request.person;
  record.reason = request.reason;
  record.salt = std::move(salt);
  for (const Latest& v : versions) {
    record.removed.push_back({v.record.kind, v.version, v.record.revision, v.record.sequence,
                              v.record.previous, v.digest, v.record.issued});
    if (v.record.sequence == 1) record.root_files = v.record.root_files;
  }
  return record;
}

/// What an earlier recovery moved aside of this certificate goes too.
void clear_aside(const Session& session, const std::string& id, std::vector<std::string>& notes) {
  FsError error;
  const Fd aside = open_folder_beneath(session.store.work_fd.get(), kAside, error);
  const auto entries = aside.valid() ? list_folder(aside.get(), error) : std::nullopt;
  if (!entries) return;
  for (const Entry& e : *entries) {
    if (!e.name.starts_with(id + "-v")) continue;
    if (!remove_all_beneath(aside.get(), e.name, error)) notes.push_back(error.what);
  }
}

}  // namespace

IssueResult Archive::expire(const WithdrawRequest& request, const std::string& number,
                            Diagnostics& out) {
  if (!out.ok() || !check_request(request, "removal",
                                  "why it is removed, without a name: the reason stays", out))
    return {};
  std::optional<Opened> opened = open_number(root_, number, out);
  if (!opened) return {};
  Session& session = opened->session;
  const std::string id = opened->object.id;
  Problem problem;
  const auto versions = read_history(session.store, id, problem);
  const std::optional<std::string> salt = random_hex(16);
  if (!versions || !salt) {
    out.system_error("archive-damaged",
                     versions ? "the system gives no random numbers"
                              : "\"" + visible(problem.file.string()) + "\": " + problem.what,
                     {std::string(kRunVerify)});
    return {};
  }
  const Latest& last = versions->back();
  if (last.record.kind == RecordKind::expiry) {
    session.notes.push_back("it was removed on " + last.record.issued.date().words() + ": " +
                            last.record.reason);
    return already(session, last, out);
  }
  NewVersion version{
      id, 1, tombstone(request, *versions, *session.contents.newest, *salt), {}, true};
  Latest filed{id, 1, version.record, {}};
  FsError error;
  if (file_version(session, std::move(version), error) != Filed::yes) {
    out.system_error("archive-write", error.what,
                     {"Run the same command again: if it was removed after all, it says so."});
    return result_for(session, last, IssueState::refused);
  }
  clear_aside(session, id, session.notes);
  return result_for(session, filed, IssueState::issued);
}

}  // namespace ohmleaf::archive
