#include "archive/writer.h"
#include "base/digest.h"
#include "base/text.h"

namespace ohmleaf::archive {

IssueResult Archive::withdraw(const WithdrawRequest& request, const std::string& number,
                              Diagnostics& out) {
  if (!out.ok() ||
      !check_request(request, "withdrawal", "why the certificate is no longer in force", out))
    return {};
  std::optional<Opened> opened = open_number(root_, number, out);
  if (!opened) return {};
  auto& [session, object] = *opened;
  if (object.record.kind == RecordKind::expiry) {
    out.error("expired", {},
              object.record.number + " was removed on purpose on " +
                  object.record.issued.date().words() + ": " + visible(object.record.reason));
    return result_for(session, object, IssueState::refused);
  }
  if (object.record.kind == RecordKind::withdrawal) {
    session.notes.push_back("it was withdrawn on " + object.record.issued.date().words() + ": " +
                            object.record.reason);
    return already(session, object, out);
  }
  FsError error;
  std::optional<std::vector<File>> files = copy_content(session.store, object, error);
  const std::optional<std::string> salt = random_hex(16);
  if (!files || !salt) {
    out.system_error("archive-damaged", files ? "the system gives no random numbers" : error.what,
                     {std::string(kRunVerify)});
    return result_for(session, object, IssueState::refused);
  }
  const Latest& latest = *session.contents.newest;
  IssueRecord record = object.record;
  record.kind = RecordKind::withdrawal;
  record.sequence = latest.record.sequence + 1;
  record.previous = latest.digest;
  record.issued = request.now;
  record.program = request.program;
  record.person = request.person;
  record.reason = request.reason;
  record.replaces = object.record.number + " revision " + std::to_string(object.record.revision);
  record.salt = *salt;
  record.files.clear();
  record.root_files.clear();
  NewVersion version{object.id, object.version + 1, record, std::move(*files)};
  if (file_version(session, std::move(version), error) != Filed::yes) {
    out.system_error("archive-write", error.what,
                     {"Run the same command again: if the withdrawal was filed after all, it says "
                      "so."});
    return result_for(session, object, IssueState::refused);
  }
  Latest filed{object.id, object.version + 1, std::move(record), {}};
  return result_for(session, filed, IssueState::issued);
}

}  // namespace ohmleaf::archive
