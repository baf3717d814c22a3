#include <algorithm>
#include <cerrno>

#include "archive/store.h"
#include "base/text.h"

namespace ohmleaf::archive {
namespace {

/// The version whose record carries the printed revision; a withdrawal is never meant by it.
std::optional<Latest> version_of_revision(const Store& store, const std::string& id, int highest,
                                          int revision, Problem& problem) {
  for (int version = highest; version >= 1; --version) {
    std::optional<Latest> record = read_version_record(store, id, version, problem);
    if (!record) return std::nullopt;
    const bool withdrawal = record->record.kind == RecordKind::withdrawal;
    if (revision == 0 || (record->record.revision == revision && !withdrawal)) return record;
  }
  problem = {Damage::missing, id, id, "there is no revision " + std::to_string(revision), ""};
  return std::nullopt;
}

/// How many versions the certificate has; 0, with an error in `out`, where it is not there.
int versions_of(const Store& store, const std::string& number, Diagnostics& out) {
  if (!has_number(store, number, out)) return 0;
  FsError error;
  const Fd object = open_folder_beneath(store.root_fd.get(), ascii_lower(number), error);
  const auto entries = object.valid() ? list_folder(object.get(), error) : std::nullopt;
  const int highest = entries ? highest_version(*entries) : 0;
  if (highest == 0) {
    out.system_error("archive-unreadable",
                     entries ? visible(number) + " has no version in its folder" : error.what,
                     {std::string(kRunVerify)});
  }
  return highest;
}

}  // namespace

std::optional<Archive> Archive::open(const std::filesystem::path& root, Diagnostics& out) {
  std::optional<Store> store = open_store(root, out);
  if (!store) return std::nullopt;
  // Something unfinished, and nobody at work: the recovery rule. A reader who may not write, or
  // who would have to wait, goes on without; what is committed can be read either way.
  FsError error;
  if (store->work_fd.valid()) {
    store->staging_fd = open_folder_beneath(store->work_fd.get(), kStaging, error);
    const auto left =
        store->staging_fd.valid() ? list_folder(store->staging_fd.get(), error) : std::nullopt;
    if (left && !left->empty()) {
      const auto lock = Lock::take(store->work_fd.get(), kLockFile, 0, error);
      std::vector<std::string> notes;
      if (lock) recover(*store, notes, error);
      for (std::string& note : notes) {
        out.add({Severity::note, "archive-recovered", std::move(note), {}, {}, {}});
      }
    }
  }
  return Archive(store->root);
}

std::vector<Record> Archive::history(const std::string& number, Diagnostics& out) const {
  const std::optional<Store> store = open_store(root_, out);
  if (!store) return {};
  const std::string id = ascii_lower(number);
  const int highest = versions_of(*store, number, out);
  std::vector<Record> records;
  for (int version = 1; version <= highest; ++version) {
    Problem problem;
    const std::optional<Latest> record = read_version_record(*store, id, version, problem);
    if (record) {
      records.push_back(as_record(*store, *record));
    } else {
      out.system_error("archive-damaged", visible(number) + ": " + visible(problem.what),
                       {problem.remedy});
    }
  }
  return records;
}

std::optional<std::string> Archive::read(const std::string& number, int revision,
                                         const std::string& name, Diagnostics& out) const {
  const std::optional<Store> store = open_store(root_, out);
  if (!store) return std::nullopt;
  const std::string id = ascii_lower(number);
  const int highest = versions_of(*store, number, out);
  if (highest == 0) return std::nullopt;
  FsError error;
  Problem problem;
  const std::optional<Latest> version = version_of_revision(*store, id, highest, revision, problem);
  if (!version) {
    if (problem.remedy.empty()) {
      out.error("unknown-revision", {},
                visible(number) + " has no revision " + std::to_string(revision),
                {"ohmleaf find shows the newest revision."});
      return std::nullopt;
    }
    out.system_error("archive-damaged", visible(number) + ": " + visible(problem.what),
                     {problem.remedy});
    return std::nullopt;
  }
  if (version->record.kind == RecordKind::expiry) {
    out.error("expired", {},
              version->record.number + " was removed on purpose on " +
                  version->record.issued.date().words() + ": " + visible(version->record.reason));
    return std::nullopt;
  }
  if (!is_content_name(name)) {
    out.error("archive-file-name", {}, "\"" + visible(name) + "\" is no name of a filed file");
    return std::nullopt;
  }
  auto bytes = read_beneath(store->root_fd.get(), content_path(id, version->version, name),
                            kMaxContent, error);
  if (!bytes) {
    out.system_error("archive-unreadable", error.what);
    return std::nullopt;
  }
  const KeyedDigest* known = find_file(version->record, name);
  if (name != kRecordFile && (!known || known->hmac != keyed_digest(version->record, *bytes))) {
    out.system_error(
        "archive-damaged",
        "\"" + visible(name) + "\" of " + visible(number) + " is not the file that was filed",
        {std::string(kRunVerify)});
    return std::nullopt;
  }
  return bytes;
}

}  // namespace ohmleaf::archive
