#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "archive/archive.h"
#include "archive/fs.h"
#include "archive/issue_record.h"
#include "archive/ocfl.h"

/// What the commands share: the two folders, what is in them, the recovery rule.
namespace ohmleaf::archive {

inline constexpr std::string_view kRootDeclaration = "0=ocfl_1.1";
inline constexpr std::string_view kLayoutFile = "ocfl_layout.json";
inline constexpr std::string_view kReadme = "README.txt";
inline constexpr std::string_view kStaging = "staging";
inline constexpr std::string_view kAside = "aside";
inline constexpr std::string_view kLockFile = "lock";
inline constexpr std::string_view kMarkFile = "latest.json";
inline constexpr std::string_view kRunVerify =
    "Run ohmleaf verify: it names each damaged file and the way back.";

/// The archive's folder and its working folder beside it ("archive" and "archive.work"): OCFL
/// allows no lock and no half-made object inside a storage root.
struct Store {
  std::filesystem::path root;
  std::filesystem::path work;
  Fd root_fd;     ///< invalid until the first issue makes the archive
  Fd work_fd;     ///< invalid where no command has written yet
  Fd staging_fd;  ///< writers only
};

/// Opens for reading; makes nothing. A root that does not exist, or is empty, is an archive with
/// nothing in it. Anything else that is not an OCFL 1.1 storage root is refused.
std::optional<Store> open_store(const std::filesystem::path& root, Diagnostics& out);
/// Makes and opens the working folder, on the same file system as the root.
bool open_work(Store& store, Diagnostics& out);
/// Makes the storage root by one rename, where it is not there yet.
bool make_root(Store& store, FsError& error);
/// The root's own files as a new archive gets them: name and bytes.
std::vector<File> root_files();

/// The newest version of an object.
struct Latest {
  std::string id;
  int version = 1;
  IssueRecord record;
  std::string digest;  ///< SHA-512 of its issue.json
};

/// Every object's newest record, and what could not be read.
struct Scan {
  std::vector<Latest> objects;
  std::vector<Problem> problems;
};
Scan scan(const Store& store);
/// As `find` shows it.
Record as_record(const Store& store, const Latest& latest);

/// The numbers that are filed under one prefix. Without a gap there are as many as the highest.
struct Series {
  std::int64_t highest = 0;
  std::int64_t filed = 0;
};

/// Whether there is a folder for that number, upper or lower case; where not, the error is in
/// `out`. A folder that is there and cannot be read is for the caller to find out.
bool has_number(const Store& store, std::string_view number, Diagnostics& out);

/// "v3"
std::string version_name(int version);
/// "sp-0007/v3/content/issue.json"
std::string content_path(std::string_view id, int version, std::string_view name);
/// The highest version folder of an object, 0 for none.
int highest_version(const std::vector<Entry>& entries);
/// One version's record. On failure `problem` says why.
std::optional<Latest> read_version_record(const Store& store, const std::string& id, int version,
                                          Problem& problem);

/// The newest version's record of one object. On failure `problem` says why.
std::optional<Latest> read_latest(const Store& store, const std::string& id, Problem& problem);

/// Every version's record of one object, oldest first. On failure `problem` says why.
std::optional<std::vector<Latest>> read_history(const Store& store, const std::string& id,
                                                Problem& problem);

/// All that `verify` looks at, of any store.
VerifyReport verify_store(const Store& store, const VerifyOptions& options);

/// Finishes or sets aside what a killed command left. Call under the lock. Adds a sentence to
/// `notes` for all that it did. False only where the system failed on the way.
bool recover(const Store& store, std::vector<std::string>& notes, FsError& error);
/// Copies an inventory to the object's root, then its sidecar: the last steps of a new version.
bool publish_inventory(const Store& store, int object, const std::string& inventory,
                       FsError& error);

/// What the last command knew as the newest record. A help against lost files, never needed.
struct Mark {
  std::int64_t sequence = 0;
  std::string number;
  std::string digest;
};
std::optional<Mark> read_mark(const Store& store);
bool write_mark(const Store& store, const Mark& mark, FsError& error);

}  // namespace ohmleaf::archive
