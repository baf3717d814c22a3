#include <algorithm>

#include "archive/writer.h"
#include "base/digest.h"
#include "base/text.h"

namespace ohmleaf::archive {
namespace {

constexpr std::string_view kStem = "timestamp-", kEnding = ".tsr";
constexpr std::string_view kCertificate = "certificate.pdf";

bool is_token(const File& file) {
  return file.name.starts_with(kStem) && file.name.ends_with(kEnding);
}

bool may_be_stamped(const Latest& object, Diagnostics& out) {
  const bool withdrawn = object.record.kind == RecordKind::withdrawal;
  if (!withdrawn && object.record.kind != RecordKind::expiry) return true;
  out.error(withdrawn ? "withdrawn" : "expired", {},
            object.record.number + (withdrawn ? " is withdrawn: " : " was removed on purpose: ") +
                visible(object.record.reason),
            {"A time-stamp is filed beside a certificate that is in force."});
  return false;
}

bool is_the_one(const std::vector<File>& files, const TimestampRequest& request,
                const std::string& number, Diagnostics& out) {
  const auto pdf = std::find_if(files.begin(), files.end(),
                                [](const File& f) { return f.name == kCertificate; });
  if (pdf != files.end() && pdf->bytes == request.certificate) return true;
  out.error("stamp-other-file", {}, number + " was revised in the meantime",
            {"Ask for a time-stamp of the revision: ohmleaf timestamp " + number +
             " --request FILE.tsq."});
  return false;
}

IssueRecord record_of(const TimestampRequest& request, const IssueRecord& stamped,
                      const Latest& newest, std::string salt) {
  IssueRecord record = stamped;
  record.kind = RecordKind::timestamp;
  record.sequence = newest.record.sequence + 1;
  record.previous = newest.digest;
  record.issued = request.now;
  record.program = request.program;
  record.person = request.person;
  record.reason = request.what;
  record.salt = std::move(salt);
  record.files.clear();
  record.root_files.clear();
  return record;
}

}  // namespace

IssueResult Archive::timestamp(const TimestampRequest& request, const std::string& number,
                               Diagnostics& out) {
  const WithdrawRequest who{request.program, request.person, request.what, request.now};
  if (!out.ok() || !check_request(who, "time-stamp", "whose time-stamp it is", out)) return {};
  std::optional<Opened> opened = open_number(root_, number, out);
  if (!opened) return {};
  auto& [session, object] = *opened;
  if (!may_be_stamped(object, out)) return result_for(session, object, IssueState::refused);
  FsError error;
  std::optional<std::vector<File>> files = copy_content(session.store, object, error);
  std::optional<std::string> salt = random_hex(16);
  if (!files || !salt) {
    out.system_error("archive-damaged", files ? "the system gives no random numbers" : error.what,
                     {std::string(kRunVerify)});
    return result_for(session, object, IssueState::refused);
  }
  if (!is_the_one(*files, request, object.record.number, out))
    return result_for(session, object, IssueState::refused);
  std::size_t tokens = 0;
  for (const File& f : *files) {
    if (!is_token(f)) continue;
    ++tokens;
    if (f.bytes != request.token) continue;
    session.notes.push_back("it is filed already as " + f.name);
    return already(session, object, out);
  }
  files->push_back(
      {std::string(kStem) + std::to_string(tokens + 1) + std::string(kEnding), request.token});
  IssueRecord record =
      record_of(request, object.record, *session.contents.newest, std::move(*salt));
  Latest filed{object.id, object.version + 1, record, {}};
  if (file_version(session, {object.id, object.version + 1, std::move(record), std::move(*files)},
                   error) != Filed::yes) {
    out.system_error("archive-write", error.what,
                     {"Run the same command again: if the time-stamp was filed after all, it says "
                      "so."});
    return result_for(session, object, IssueState::refused);
  }
  return result_for(session, filed, IssueState::issued);
}

std::optional<std::vector<File>> copy_content(const Store& store, const Latest& latest,
                                              FsError& error) {
  std::vector<File> files;
  for (const KeyedDigest& known : latest.record.files) {
    const std::string path = content_path(latest.id, latest.version, known.name);
    auto bytes = read_beneath(store.root_fd.get(), path, kMaxContent, error);
    if (!bytes) return std::nullopt;
    if (keyed_digest(latest.record, *bytes) != known.hmac) {
      error = {0, "\"" + path + "\" is not the file that was filed"};
      return std::nullopt;
    }
    files.push_back({known.name, std::move(*bytes)});
  }
  return files;
}

}  // namespace ohmleaf::archive
