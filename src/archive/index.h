#pragma once
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "archive/store.h"

namespace ohmleaf::archive {

/// From this many certificates on an index is kept: below it, reading the records is as quick.
inline constexpr std::size_t kIndexFrom = 200;
inline constexpr std::string_view kIndexFile = "index.sqlite";
inline constexpr std::int64_t kLookGoodFor = 50;
inline constexpr std::int64_t kLookAtMostUs = 60'000'000;

/// What an index says to one question. Where it is not `good` the index failed, and is of no use
/// any more.
struct Picked {
  bool good = false;
  std::optional<Latest> one;
};

/// Who looks at every object: only a command that has also recovered may spare the next one that.
enum class Looks { reader, writer };

/// The search index in the folder beside the archive: a cache of the newest record of each object,
/// made from the files and thrown away at the least doubt. `verify` never looks at it.
///
/// An entry is good while its object's folder has the change time that it had when it was read;
/// `sync` reads anew what has changed. `in_step` is the quick question before a search: the root's
/// own change time, and no unfinished work beside the archive.
///
/// A writing command looks at every object, because a folder that another computer wrote into (a
/// sync folder, a copy put back) does not show in the root. The time of an archive that is filled
/// would grow with the square of its size by that, so a look is good for `kLookGoodFor` times as
/// long as it took, and never for longer than `kLookAtMostUs`.
class Index {
 public:
  /// Nothing where it is absent (and not to be created), broken, or of another program's making.
  static std::unique_ptr<Index> open(const Store& store, bool create);
  /// Throws the index away, for the next sync to make it anew. False where it is still there.
  static bool remove(const Store& store);
  /// Opens it, brings it up to the files, and throws away what fails at that. False where there is
  /// none afterwards, and then no harm is done. Call under the lock.
  static bool renew(const Store& store, bool create, const Progress& progress,
                    std::vector<Problem>& problems);
  /// Makes the next search look at every object again.
  static void doubt(const Store& store);

  /// The same of a file that is there. It alone needs SQLite (src/late/index.h).
  static std::unique_ptr<Index> open_file(const Store& store, bool create);
  virtual ~Index() = default;
  Index() = default;
  Index(const Index&) = delete;
  Index& operator=(const Index&) = delete;

  virtual bool in_step(const Store& store) = 0;
  /// Whether nothing came into the root or went since the index was brought up to it.
  virtual bool same_root(const Store& store) = 0;
  /// Whether a writing command has looked at every object just now, and the index has lost nothing
  /// since: a page that the disk never took would say of a job that it was not issued.
  virtual bool looked_lately() = 0;
  /// Brings the index up to the files; call under the lock. What cannot be read is left out and
  /// reported. False where the index failed; then it is of no use any more.
  virtual bool sync(const Store& store, std::vector<Problem>& problems,
                    const Progress& progress = {}, Looks who = Looks::reader) = 0;
  /// The same for the one object that the caller filed, where nothing else can have changed: the
  /// index had the `same_root` just before. `fresh` says that the object is new.
  virtual bool add(const Store& store, const std::string& id, bool fresh) = 0;
  /// The record last in the chain. It and the next come without salt, files and facts.
  virtual Picked newest() = 0;
  /// The first object (by its id) of that job.
  virtual Picked of_job(std::string_view job_id) = 0;
  /// The numbers filed under a prefix in small letters; nothing where the index failed.
  virtual std::optional<Series> series(std::string_view prefix) = 0;
  /// Entries that hold every (folded) word, newest first, with facts.
  /// Dates are those of the fact "date", both included.
  virtual std::optional<std::vector<Latest>> search(const std::vector<std::string>& words,
                                                    const std::optional<Date>& from = {},
                                                    const std::optional<Date>& to = {}) = 0;

 private:
  virtual bool drop_stamp() = 0;
};

/// The first fact of that name, or "".
std::string fact_of(const IssueRecord& record, std::string_view name);

/// Number, job and every fact, folded, one a line: a word never matches across two of them.
std::string haystack(const IssueRecord& record);

}  // namespace ohmleaf::archive
