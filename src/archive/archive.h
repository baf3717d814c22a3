#pragma once
#include <cstdint>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "base/date.h"
#include "base/diagnostic.h"

namespace ohmleaf::archive {

/// One file of a version's content: a plain name ("certificate.pdf"), no folders above one level.
struct File {
  std::string name;
  std::string bytes;
};

/// A searchable fact as the caller gives it ("premises", "12 Example Row"); a key may repeat.
using Facts = std::vector<std::pair<std::string, std::string>>;

/// What the archive decides before the certificate can be printed.
struct Draw {
  std::string number;      ///< "SP-0007"
  int revision = 1;        ///< 1 for the first issue of the job
  std::string replaces;    ///< "SP-0007 revision 1", empty for the first issue
  std::string chain_head;  ///< SHA-512 (hex) of the issuer's previous issue.json; 128 zeros first
  Instant issued;
};

struct IssueRequest {
  std::string prefix;     ///< of the installer's choice, [A-Za-z0-9][A-Za-z0-9-]{0,15}
  std::string job_id;     ///< names the job for ever; lower case
  std::string job_bytes;  ///< job.toml exactly as it was checked
  std::string program;    ///< "ohmleaf 0.1.0"
  std::string person;     ///< who issues, recorded in the inventory
  Instant now;
  Facts facts;
  std::string reason;  ///< revise only: why
};

/// Takes an issued certificate out of force, without one to replace it; or removes it for good.
struct WithdrawRequest {
  std::string program;
  std::string person;
  std::string reason;  ///< required
  Instant now;
};

/// Files a time-stamp token (RFC 3161) beside a certificate that is in force.
struct TimestampRequest {
  std::string program;
  std::string person;
  std::string what;         ///< kept as the reason: whose it is and of which moment
  std::string certificate;  ///< the bytes that the token was checked against
  std::string token;
  Instant now;
};

/// Called under the archive's lock with the drawn number; gives the files to keep (the PDF among
/// them), or nothing, and then nothing is issued and the number stays free.
using Render = std::function<std::optional<std::vector<File>>(const Draw&)>;

enum class IssueState { issued, already_issued, changed_since, refused };

struct IssueResult {
  IssueState state = IssueState::refused;
  std::string number;
  int revision = 0;
  Instant issued;
  std::filesystem::path folder;    ///< of the version's content
  std::vector<std::string> notes;  ///< recovery that ran, lock on a network folder …
};

/// One record as `find` shows it.
struct Record {
  std::string number;
  int revision = 1;  ///< the latest
  bool withdrawn = false;
  bool timestamped = false;  ///< the newest version filed a time-stamp, and no new pages
  bool expired = false;      ///< removed on purpose: number, dates and reason are all that is left
  std::string job_id;
  Instant issued;
  std::string person;    ///< who issued, revised or withdrew it
  std::string reason;    ///< of the revision or withdrawal
  std::string replaces;  ///< "SP-0007 revision 1"
  Facts facts;
  std::filesystem::path folder;
  /// Name and size of each filed file; `history` alone fills it.
  std::vector<std::pair<std::string, std::uint64_t>> files;
};

/// What a certificate outside the archive says, read off the paper or out of the PDF.
struct Witness {
  std::string number;       ///< "SP-0007"
  std::string head;         ///< the printed head: at least the first 32 hex digits
  std::string file_sha512;  ///< of the PDF itself, where it is at hand: it vouches for its own
                            ///< file too, not only for the records before it
  /// Of the files embedded in it (the job): each must be filed with it.
  std::vector<std::string> embedded_sha512;
};

enum class Damage { altered, missing, extra, malformed, chain_broken, unreadable };
struct Problem {
  Damage damage = Damage::altered;
  std::string number;          ///< empty for the archive itself
  std::filesystem::path file;  ///< relative to the archive's root
  std::string what;            ///< one sentence
  std::string remedy;          ///< one sentence: the way back to a good state
};

/// A certificate that was removed on purpose, as its own record says.
struct Removal {
  std::string number;
  Instant when;
  std::string person, reason;
};

struct VerifyReport {
  std::size_t objects = 0, versions = 0, files = 0;
  std::uint64_t bytes = 0;
  bool digests_hold = false;
  bool chain_holds = false;
  std::optional<bool> witness_holds;  ///< only where a witness was given
  std::string head;                   ///< SHA-512 of the newest issue.json
  std::vector<Problem> problems;
  std::vector<Removal> removed;
};

/// Told of long work as it goes on: `done` of `total` steps.
using Progress = std::function<void(std::size_t done, std::size_t total)>;

struct VerifyOptions {
  std::optional<std::string> only_number;
  std::optional<Witness> witness;
  /// Digests of this slice of the certificates only, part 1 to `parts`; the chain is always read
  /// whole.
  std::size_t part = 1, parts = 1;
  Progress progress;
};

/// What to look for. Words and parts are compared with case and accents aside; all must be there.
struct Query {
  std::vector<std::string> words;  ///< in the number, the job's id or any fact
  /// Part of the value of a fact of that name; "number" and "job" mean the record's own.
  std::vector<std::pair<std::string, std::string>> parts;
  std::optional<Date> from, to;  ///< of the fact "date", both included
  Progress progress;             ///< where the index must first be made
};

/// What leaves the archive as one package, a BagIt bag (RFC 8493): a folder, or a zip file where
/// the name ends in ".zip". Neither may be there yet.
struct ExportRequest {
  std::vector<std::string> numbers;
  std::filesystem::path to;
  std::string program;
  Instant now;
  Progress progress;
};

struct ImportResult {
  std::size_t added = 0;    ///< certificates that were not there
  std::size_t renewed = 0;  ///< were there with fewer versions
  std::size_t already = 0;  ///< were there, the same
  std::vector<std::string> notes;
};

class Archive {
 public:
  /// Opens the archive at `root` (made by the first issue). Runs the recovery rule if a lock can
  /// be had. Nothing is written by a failed open.
  static std::optional<Archive> open(const std::filesystem::path& root, Diagnostics& out);

  IssueResult issue(const IssueRequest& request, const Render& render, Diagnostics& out);
  /// A new version of an issued job; `request.reason` is required.
  IssueResult revise(const IssueRequest& request, const std::string& number, const Render& render,
                     Diagnostics& out);

  /// A new version that says that the certificate is withdrawn; the files stay as they were. A
  /// certificate that is withdrawn already stays so: `already_issued`, with a note.
  IssueResult withdraw(const WithdrawRequest& request, const std::string& number, Diagnostics& out);

  /// A new version with the token beside the certificate ("timestamp-1.tsr", and so on); all else
  /// stays as it was. The same token again: `already_issued`, with a note. Refused where the
  /// certificate in force is not the one that the token was checked against.
  IssueResult timestamp(const TimestampRequest& request, const std::string& number,
                        Diagnostics& out);

  /// Removes a certificate for good: the folder with all its versions gives way to a record of
  /// number, dates and reason, which keeps the chain whole. What is removed cannot be brought back.
  /// One that is removed already: `already_issued`, with a note.
  IssueResult expire(const WithdrawRequest& request, const std::string& number, Diagnostics& out);

  /// Packs certificates, each with all its versions and every byte as it is filed. Checks what was
  /// written before it says so.
  bool export_bag(const ExportRequest& request, Diagnostics& out) const;
  /// Takes in what `export_bag` packed, on this or another machine. The package is not trusted:
  /// names, sizes, digests and chain are checked before anything is filed. Refused whole where a
  /// certificate differs from the one that is here, or where the chain would not be whole.
  std::optional<ImportResult> import_bag(const std::filesystem::path& from,
                                         const Progress& progress, Diagnostics& out);

  /// Records whose number or facts hold every word of `words` (case and accents aside), newest
  /// first. No words: all.
  std::vector<Record> find(const std::vector<std::string>& words, Diagnostics& out) const;
  /// The same by parts of single facts and by dates.
  std::vector<Record> search(const Query& query, Diagnostics& out) const;
  /// Makes the search index anew from the files. It is a cache: `find` makes and renews it by
  /// itself, and answers the same without it, only slower.
  bool rebuild_index(const Progress& progress, Diagnostics& out) const;
  /// Every record of one certificate, first issue first.
  std::vector<Record> history(const std::string& number, Diagnostics& out) const;
  /// The bytes of one content file of the latest (or the given) version.
  std::optional<std::string> read(const std::string& number, int revision, const std::string& name,
                                  Diagnostics& out) const;
  /// Proves what is there. `witness_head`: the head read off a certificate, with its number.
  VerifyReport verify(const std::optional<std::string>& only_number,
                      const std::optional<std::pair<std::string, std::string>>& witness,
                      Diagnostics& out) const;
  VerifyReport verify_with(const std::optional<std::string>& only_number,
                           const std::optional<Witness>& witness, Diagnostics& out) const;
  VerifyReport verify(const VerifyOptions& options, Diagnostics& out) const;

  const std::filesystem::path& root() const { return root_; }

 private:
  explicit Archive(std::filesystem::path root) : root_(std::move(root)) {}
  std::filesystem::path root_;
};

}  // namespace ohmleaf::archive
