#include "archive/index.h"

#include <fcntl.h>
#include <sys/stat.h>

#include <chrono>
#include <map>
#include <utility>

#include "archive/index_rows.h"
#include "base/text.h"

namespace ohmleaf::archive {
namespace {

using namespace rows;

std::string root_stamp(const Store& store) {
  struct stat st {};
  return ::fstat(store.root_fd.get(), &st) == 0 ? stamp_of(st) : std::string();
}

/// Microseconds since 1970.
std::int64_t now_us() {
  using namespace std::chrono;
  return duration_cast<microseconds>(system_clock::now().time_since_epoch()).count();
}

bool is_ours(sqlite3* db) {
  Statement version(db, "PRAGMA user_version");
  return version.step() && version.get_number(0) == kSchemaNumber;
}

/// The index as SQLite keeps it.
class SqliteIndex final : public Index {
 public:
  explicit SqliteIndex(sqlite3* db) : db_(db) {}
  ~SqliteIndex() override { sqlite3_close(db_); }

  static std::unique_ptr<SqliteIndex> open(const Store& store, bool create);
  bool in_step(const Store& store) override;
  bool same_root(const Store& store) override;
  bool looked_lately() override;
  bool sync(const Store& store, std::vector<Problem>& problems, const Progress& progress,
            Looks who) override;
  bool add(const Store& store, const std::string& id, bool fresh) override;
  Picked newest() override { return pick("(SELECT id FROM chain ORDER BY sequence DESC LIMIT 1)"); }
  Picked of_job(std::string_view job_id) override {
    return pick("(SELECT min(id) FROM job WHERE job_id = ?)", job_id);
  }
  std::optional<Series> series(std::string_view prefix) override;
  std::optional<std::vector<Latest>> search(const std::vector<std::string>& words,
                                            const std::optional<Date>& from,
                                            const std::optional<Date>& to) override;

 private:
  struct Kept {
    std::vector<std::pair<std::string, std::string>> written;  ///< id and digest
    std::string root;                                          ///< the stamp
    bool whole = false;                                        ///< built from nothing
  };
  Picked pick(const char* id, std::optional<std::string_view> value = {});
  bool write_stamp(const std::string& root);
  /// Reads the objects whose folders have changed; forgets those that are gone.
  bool renew_rows(const Store& store, const std::vector<Entry>& listing,
                  std::vector<Problem>& problems, const Progress& progress, Kept& kept);
  /// Whether another connection, which has to ask the disk, finds what was written.
  static bool reads_back(const Store& store, const Kept& kept);
  bool drop_stamp() override { return execute(db_, "DELETE FROM stamp"); }

  sqlite3* db_ = nullptr;
};

std::unique_ptr<SqliteIndex> SqliteIndex::open(const Store& store, bool create) {
  sqlite3* db = nullptr;
  const std::string path = (store.work / kIndexFile).string();
  const int opened =
      sqlite3_open_v2(path.c_str(), &db,
                      SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOFOLLOW | SQLITE_OPEN_NOMUTEX, nullptr);
  auto index = std::make_unique<SqliteIndex>(db);
  if (opened != SQLITE_OK) return nullptr;
  // What the file says of itself is not to be trusted: no functions or triggers by its choice.
  sqlite3_db_config(db, SQLITE_DBCONFIG_DEFENSIVE, 1, nullptr);
  sqlite3_db_config(db, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, nullptr);
  sqlite3_busy_timeout(db, 2000);
  if (is_ours(db)) return index;
  if (!create) return nullptr;
  return make_tables(db) ? std::move(index) : nullptr;
}

bool SqliteIndex::in_step(const Store& store) {
  FsError error;
  const Fd staging = open_folder_beneath(store.work_fd.get(), kStaging, error);
  const auto left = staging.valid() ? list_folder(staging.get(), error) : std::nullopt;
  // A revision in the making changes no stamp of the root, but it works in the staging folder.
  if (!left || !left->empty()) return false;
  return same_root(store);
}

bool SqliteIndex::same_root(const Store& store) {
  Statement stamp(db_, "SELECT root FROM stamp");
  const std::string now = root_stamp(store);
  return !now.empty() && stamp.step() && stamp.get_text(0) == now;
}

bool SqliteIndex::looked_lately() {
  Statement look(db_, "SELECT at, took FROM look");
  if (!look.step()) return false;
  const std::int64_t since = now_us() - look.get_number(0), took = look.get_number(1);
  // A clock that was put back says nothing.
  return since >= 0 && since < kLookAtMostUs && since / kLookGoodFor < took && lists_agree(db_);
}

bool SqliteIndex::write_stamp(const std::string& root) {
  return execute(db_, "DELETE FROM stamp") &&
         Statement(db_, "INSERT INTO stamp(one, root) VALUES (1, ?)").text(root).run();
}

bool SqliteIndex::sync(const Store& store, std::vector<Problem>& problems, const Progress& progress,
                       Looks who) {
  const std::int64_t began = now_us();
  // Before the listing: what comes later is not in it.
  const std::string root = settled_stamp(store.root_fd.get(), "");
  FsError error;
  const auto listing = list_folder(store.root_fd.get(), error);
  if (!listing || !execute(db_, "BEGIN IMMEDIATE")) return false;
  Kept kept;
  bool good = renew_rows(store, *listing, problems, progress, kept);
  kept.root = problems.empty() ? root : "damaged: look again each time";
  good = good && write_stamp(kept.root) && execute(db_, "DELETE FROM look");
  if (who == Looks::writer) {
    good = good && Statement(db_, "INSERT INTO look(one, at, took) VALUES (1, ?, ?)")
                       .number(began)
                       .number(now_us() - began)
                       .run();
  }
  if (good && execute(db_, "COMMIT")) return reads_back(store, kept);
  execute(db_, "ROLLBACK");
  return false;
}

bool SqliteIndex::renew_rows(const Store& store, const std::vector<Entry>& listing,
                             std::vector<Problem>& problems, const Progress& progress, Kept& kept) {
  std::map<std::string, std::string> known;
  Statement all(db_, "SELECT id, changed FROM object");
  while (all.step()) known[all.get_text(0)] = all.get_text(1);
  if (!all.ok()) return false;
  kept.whole = known.empty();
  bool good = true;
  AllSeries series;
  std::size_t done = 0;
  for (const Entry& e : listing) {
    if (progress) progress(++done, listing.size());
    if (!good || !parse_number(e.name) || e.kind != EntryKind::folder) continue;
    struct stat st {};
    const bool seen = ::fstatat(store.root_fd.get(), e.name.c_str(), &st, AT_SYMLINK_NOFOLLOW) == 0;
    const auto entry = known.find(e.name);
    const bool had = entry != known.end();
    const std::string changed = seen ? stamp_of(st) : std::string();
    const bool as_it_was = had && !changed.empty() && entry->second == changed;
    if (had) known.erase(entry);
    if (!as_it_was) {
      if (had) good = forget(db_, e.name);
      Problem problem;
      const std::optional<Latest> latest = read_latest(store, e.name, problem);
      if (!latest) {
        problems.push_back(std::move(problem));
        continue;
      }
      good = good && insert(db_, *latest, changed);
      kept.written.emplace_back(latest->id, latest->digest);
    }
    count_in(series, e.name);
  }
  for (const auto& [id, changed] : known) good = good && forget(db_, id);
  return good && write_series(db_, series);
}

bool SqliteIndex::add(const Store& store, const std::string& id, bool fresh) {
  Kept kept;
  // Both before the record is read.
  const std::string changed = settled_stamp(store.root_fd.get(), id);
  if (fresh) kept.root = settled_stamp(store.root_fd.get(), "");
  Problem problem;
  const std::optional<Latest> latest = read_latest(store, id, problem);
  if (!latest || !execute(db_, "BEGIN IMMEDIATE")) return false;
  bool good = forget(db_, id) && insert(db_, *latest, changed);
  if (fresh) good = good && add_to_series(db_, id) && write_stamp(kept.root);
  kept.written.emplace_back(latest->id, latest->digest);
  if (good && execute(db_, "COMMIT")) return reads_back(store, kept);
  execute(db_, "ROLLBACK");
  return false;
}

// A disk that takes a page and keeps nothing would make certificates that cannot be found, or that
// are issued a second time.
bool SqliteIndex::reads_back(const Store& store, const Kept& kept) {
  const auto again = open(store, false);
  if (!again || !lists_agree(again->db_)) return false;
  for (const auto& [id, digest] : kept.written) {
    const Picked row = again->pick("?", id);
    if (!row.one || row.one->digest != digest) return false;
    const Picked of_job = again->of_job(row.one->record.job_id);
    if (!of_job.one || of_job.one->record.job_id != row.one->record.job_id) return false;
  }
  Statement stamp(again->db_, "SELECT root FROM stamp");
  if (!stamp.step() || (!kept.root.empty() && stamp.get_text(0) != kept.root)) return false;
  if (!kept.whole) return true;
  Statement check(again->db_, "PRAGMA quick_check(1)");
  return check.step() && check.get_text(0) == "ok" &&
         execute(again->db_, "INSERT INTO word(word, rank) VALUES ('integrity-check', 1)");
}

Picked SqliteIndex::pick(const char* id, std::optional<std::string_view> value) {
  // With its id again: a list that names an object which has no row is broken.
  Statement row(db_, std::string("SELECT ") + kColumns + ", wanted FROM (SELECT " + id +
                         " AS wanted) LEFT JOIN object ON id = wanted");
  if (value) row.text(*value);
  Picked picked;
  if (!row.step()) return picked;
  picked.one = latest_from(row);
  const std::string wanted = row.get_text(12);
  picked.good = picked.one->id == wanted;
  if (wanted.empty()) picked.one.reset();
  return picked;
}

std::optional<Series> SqliteIndex::series(std::string_view prefix) {
  Statement row(db_, "SELECT highest, filed FROM series WHERE prefix = ?");
  row.text(prefix);
  Series series;
  if (row.step()) series = {row.get_number(0), row.get_number(1)};
  return row.ok() ? std::optional(series) : std::nullopt;
}

std::optional<std::vector<Latest>> SqliteIndex::search(const std::vector<std::string>& words,
                                                       const std::optional<Date>& from,
                                                       const std::optional<Date>& to) {
  // The trigram index narrows; instr decides. A word under three characters has no trigram.
  std::string match, exact;
  for (const std::string& word : words) {
    exact += " AND instr(hay, ?) > 0";
    if (code_point_count(word) < 3) continue;
    std::string quoted = "\"";
    for (const char c : word) quoted += c == '"' ? "\"\"" : std::string(1, c);
    match += (match.empty() ? "" : " AND ") + quoted + "\"";
  }
  std::string sql = std::string("SELECT ") + kColumns + ", facts FROM object WHERE ";
  sql += match.empty() ? "1" : "row IN (SELECT rowid FROM word WHERE word MATCH ?)";
  if (from) exact += " AND day >= ?";
  if (to) exact += " AND day <= ?";
  Statement rows(db_, sql + exact + " ORDER BY sequence DESC");
  if (!match.empty()) rows.text(match);
  for (const std::string& word : words) rows.text(word);
  if (from) rows.text(from->iso());
  if (to) rows.text(to->iso());
  std::vector<Latest> found;
  while (rows.step()) {
    found.push_back(latest_from(rows));
    found.back().record.facts = facts_from(rows.get_text(12));
  }
  if (!rows.ok()) return std::nullopt;
  return found;
}

}  // namespace

std::unique_ptr<Index> Index::open_file(const Store& store, bool create) {
  return SqliteIndex::open(store, create);
}

}  // namespace ohmleaf::archive
