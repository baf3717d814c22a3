#pragma once
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

/// The search index in the folder beside the archive: a cache of the newest record of each object,
/// made from the files and thrown away at the least doubt. `verify` never looks at it.
///
/// An entry is good while its object's folder has the change time that it had when it was read;
/// `sync` reads anew what has changed. `in_step` is the quick question before a search: the root's
/// own change time, and no unfinished work beside the archive.
class Index {
 public:
  /// Nothing where it is absent (and not to be created), broken, or of another program's making.
  static std::unique_ptr<Index> open(const Store& store, bool create);
  /// Throws the index away, for the next sync to make it anew.
  static void remove(const Store& store);
  /// Makes the next search look at every object again.
  static void doubt(const Store& store);

  /// The same of a file that is there. It alone needs SQLite (src/late/index.h).
  static std::unique_ptr<Index> open_file(const Store& store, bool create);
  virtual ~Index() = default;
  Index() = default;
  Index(const Index&) = delete;
  Index& operator=(const Index&) = delete;

  virtual bool in_step(const Store& store) = 0;
  /// Brings the index up to the files; call under the lock. What cannot be read is left out and
  /// reported. False where the index failed; then it is of no use any more.
  virtual bool sync(const Store& store, std::vector<Problem>& problems,
                    const Progress& progress = {}) = 0;
  /// All entries, without facts.
  virtual std::optional<std::vector<Latest>> entries() = 0;
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
