#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "archive/archive.h"

namespace ohmleaf::archive {

/// issue.json: what the archive itself says of one version. Its SHA-512 is the link that the next
/// record of the chain names.
inline constexpr std::string_view kRecordFile = "issue.json";
inline constexpr std::string_view kJobFile = "job.toml";

/// An expiry stands alone in the place of a whole object that was removed on purpose.
/// A time-stamp is filed beside the certificate, which stays as it was.
enum class RecordKind { issue, revision, withdrawal, expiry, timestamp };

/// A content file as the record knows it: HMAC-SHA-512 keyed with the record's salt. A plain
/// digest would let anyone who guesses a client's name prove the guess after the content is gone.
struct KeyedDigest {
  std::string name;
  std::uint64_t bytes = 0;
  std::string hmac;
};

/// What stays of a record that was removed on purpose: its place in the chain, nothing of anybody.
struct Passed {
  RecordKind kind = RecordKind::issue;
  int version = 1;
  int revision = 1;
  std::int64_t sequence = 1;
  std::string previous, digest;  ///< SHA-512 of the record before it, and of itself
  Instant issued;
};

struct IssueRecord {
  RecordKind kind = RecordKind::issue;
  std::string number;
  int revision = 1;           ///< as printed; a withdrawal keeps that of the one withdrawn
  std::int64_t sequence = 1;  ///< place in the archive's one chain, from 1, no gaps
  std::string previous;       ///< SHA-512 of the record with sequence - 1; zeros for the first
  std::string job_id;
  Instant issued;
  std::string program;
  std::string person;
  std::string reason;    ///< revision, withdrawal
  std::string replaces;  ///< "SP-0007 revision 1"
  std::string salt;      ///< 128 bits, hex
  std::vector<KeyedDigest> files;
  Facts facts;
  std::vector<Passed> removed;  ///< an expiry only: the versions that were there
  /// The first record only, or the expiry that stands for it: plain SHA-512 of the root's own
  /// files, which OCFL does not cover.
  std::vector<std::pair<std::string, std::string>> root_files;
};

std::string encode(const IssueRecord& record);
/// Nothing where any part is not as `encode` writes it; `why` says which.
std::optional<IssueRecord> parse_record(std::string_view bytes, std::string& why);

/// HMAC of a content file under the record's salt.
std::string keyed_digest(const IssueRecord& record, std::string_view bytes);
/// The entry for a content file, or null.
const KeyedDigest* find_file(const IssueRecord& record, std::string_view name);

/// 128 zeros: what the first record names as its predecessor.
std::string no_previous();

// Names. All are safe on any file system: lower-case folders, no reserved words.

/// `[A-Za-z0-9][A-Za-z0-9-]{0,15}`
bool is_prefix(std::string_view text);
/// `[a-z0-9][a-z0-9._-]{0,63}`, not ending in a dot
bool is_object_id(std::string_view text);
/// A content name: letters, digits, `._-`, at most one folder, no name that some system reserves.
bool is_content_name(std::string_view text);
bool is_hex(std::string_view text, std::size_t length);

/// "SP" and 7 give "SP-0007"; from 10,000 on the number is as long as it needs.
std::string make_number(std::string_view prefix, std::int64_t sequence);
struct NumberParts {
  std::string prefix;
  std::int64_t sequence = 0;
};
/// Takes a number apart; nothing for a text that `make_number` never gives.
std::optional<NumberParts> parse_number(std::string_view number);

}  // namespace ohmleaf::archive
