#include "archive/index.h"

#include <fcntl.h>
#include <sqlite3.h>
#include <sys/stat.h>
#include <time.h>

#include <map>
#include <utility>

#include "base/json.h"
#include "base/text.h"

namespace ohmleaf::archive {
namespace {

constexpr const char* kSchema = R"(
  PRAGMA user_version = 4;
  CREATE TABLE stamp(one INTEGER PRIMARY KEY CHECK (one = 1), root TEXT NOT NULL);
  CREATE TABLE object(
    row INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, changed TEXT NOT NULL,
    version INTEGER NOT NULL, sequence INTEGER NOT NULL, number TEXT NOT NULL,
    revision INTEGER NOT NULL, kind INTEGER NOT NULL, job_id TEXT NOT NULL,
    issued INTEGER NOT NULL, person TEXT NOT NULL, reason TEXT NOT NULL,
    replaces TEXT NOT NULL, digest TEXT NOT NULL, day TEXT NOT NULL, facts TEXT NOT NULL,
    hay TEXT NOT NULL);
  CREATE INDEX object_day ON object(day);
  CREATE VIRTUAL TABLE word USING fts5(hay, content='object', content_rowid='row',
    tokenize="trigram case_sensitive 1");
)";
constexpr const char* kColumns =
    "id, version, sequence, number, revision, kind, job_id, issued, person, reason, replaces, "
    "digest";

/// A prepared statement; any failure shows as `ok() == false`.
class Statement {
 public:
  Statement(sqlite3* db, const std::string& sql) {
    state_ =
        sqlite3_prepare_v2(db, sql.c_str(), static_cast<int>(sql.size()), &statement_, nullptr);
  }
  Statement(const Statement&) = delete;
  Statement& operator=(const Statement&) = delete;
  ~Statement() { sqlite3_finalize(statement_); }

  Statement& text(std::string_view value) {
    note(sqlite3_bind_text(statement_, ++bound_, value.data(), static_cast<int>(value.size()),
                           SQLITE_TRANSIENT));
    return *this;
  }
  Statement& number(std::int64_t value) {
    note(sqlite3_bind_int64(statement_, ++bound_, value));
    return *this;
  }
  /// The next row; false at the end and on a failure.
  bool step() {
    if (state_ != SQLITE_OK && state_ != SQLITE_ROW) return false;
    state_ = sqlite3_step(statement_);
    return state_ == SQLITE_ROW;
  }
  bool ok() const { return state_ == SQLITE_OK || state_ == SQLITE_ROW || state_ == SQLITE_DONE; }
  bool run() {
    while (step()) {
    }
    return ok();
  }
  std::string get_text(int column) const {
    const unsigned char* text = sqlite3_column_text(statement_, column);
    if (!text) return {};
    return {reinterpret_cast<const char*>(text),
            static_cast<std::size_t>(sqlite3_column_bytes(statement_, column))};
  }
  std::int64_t get_number(int column) const { return sqlite3_column_int64(statement_, column); }

 private:
  void note(int state) {
    if (state_ == SQLITE_OK && state != SQLITE_OK) state_ = state;
  }
  sqlite3_stmt* statement_ = nullptr;
  int state_ = SQLITE_OK;
  int bound_ = 0;
};

bool execute(sqlite3* db, const char* sql) {
  return sqlite3_exec(db, sql, nullptr, nullptr, nullptr) == SQLITE_OK;
}

/// Empty where the folder changed in this very tick of the clock: it can change again in the same
/// tick, and its stamp would not show it. To be taken before the folder is read.
std::string stamp_of(const struct stat& st) {
  timespec now{};
  if (::clock_gettime(CLOCK_REALTIME_COARSE, &now) != 0) return {};
  const auto& then = st.st_ctim;
  if (std::pair(then.tv_sec, then.tv_nsec) >= std::pair(now.tv_sec, now.tv_nsec)) return {};
  return std::to_string(st.st_ino) + "." + std::to_string(st.st_ctim.tv_sec) + "." +
         std::to_string(st.st_ctim.tv_nsec);
}

std::string root_stamp(const Store& store) {
  struct stat st {};
  return ::fstat(store.root_fd.get(), &st) == 0 ? stamp_of(st) : std::string();
}

/// The same after a certificate was filed: a tick (some milliseconds) is waited for. With a clock
/// that is behind that of the disk it stays empty, and each search looks at the folders.
std::string settled_root_stamp(const Store& store) {
  constexpr int kTries = 25;
  constexpr timespec kMillisecond{0, 1'000'000};
  std::string stamp = root_stamp(store);
  for (int i = 0; stamp.empty() && i < kTries; ++i) {
    ::nanosleep(&kMillisecond, nullptr);
    stamp = root_stamp(store);
  }
  return stamp;
}

std::string facts_text(const Facts& facts) {
  Json list = Json::array();
  for (const auto& [key, value] : facts) list.push(key).push(value);
  return list.dump(-1);
}

Facts facts_from(const std::string& text) {
  std::string why;
  const std::optional<Json> json = parse_json(text, why);
  const Json::Array* list = json ? json->as_array() : nullptr;
  Facts facts;
  for (std::size_t i = 0; list && i + 1 < list->size(); i += 2) {
    const std::string* key = (*list)[i].as_string();
    const std::string* value = (*list)[i + 1].as_string();
    if (key && value) facts.emplace_back(*key, *value);
  }
  return facts;
}

Latest latest_from(const Statement& row) {
  Latest o;
  o.id = row.get_text(0);
  o.version = static_cast<int>(row.get_number(1));
  o.record.sequence = row.get_number(2);
  o.record.number = row.get_text(3);
  o.record.revision = static_cast<int>(row.get_number(4));
  o.record.kind = static_cast<RecordKind>(row.get_number(5));
  o.record.job_id = row.get_text(6);
  o.record.issued = Instant{row.get_number(7)};
  o.record.person = row.get_text(8);
  o.record.reason = row.get_text(9);
  o.record.replaces = row.get_text(10);
  o.digest = row.get_text(11);
  return o;
}

// The words are kept in step here and not by triggers: in a schema that is not trusted, SQLite 3.40
// takes an FTS5 table in a trigger for unsafe, and refuses every insert.

bool forget(sqlite3* db, const std::string& id) {
  return Statement(db,
                   "INSERT INTO word(word, rowid, hay) SELECT 'delete', row, hay FROM object "
                   "WHERE id = ?")
             .text(id)
             .run() &&
         Statement(db, "DELETE FROM object WHERE id = ?").text(id).run();
}

bool insert(sqlite3* db, const Latest& o, const std::string& changed) {
  const std::string hay = haystack(o.record);
  Statement row(db, std::string("INSERT INTO object(") + kColumns +
                        ", changed, day, facts, hay) VALUES (?,?,?,?,?,?,?,?,?,?,?,?,?,?,?,?)");
  row.text(o.id).number(o.version).number(o.record.sequence).text(o.record.number);
  row.number(o.record.revision).number(static_cast<int>(o.record.kind)).text(o.record.job_id);
  row.number(o.record.issued.unix_seconds).text(o.record.person).text(o.record.reason);
  row.text(o.record.replaces).text(o.digest).text(changed).text(fact_of(o.record, "date"));
  row.text(facts_text(o.record.facts)).text(hay);
  return row.run() && Statement(db, "INSERT INTO word(rowid, hay) VALUES (last_insert_rowid(), ?)")
                          .text(hay)
                          .run();
}

bool is_ours(sqlite3* db) {
  Statement version(db, "PRAGMA user_version");
  return version.step() && version.get_number(0) == 4;
}

/// The index as SQLite keeps it.
class SqliteIndex final : public Index {
 public:
  explicit SqliteIndex(sqlite3* db) : db_(db) {}
  ~SqliteIndex() override { sqlite3_close(db_); }

  static std::unique_ptr<SqliteIndex> open(const Store& store, bool create);
  bool in_step(const Store& store) override;
  bool sync(const Store& store, std::vector<Problem>& problems, const Progress& progress) override;
  std::optional<std::vector<Latest>> entries() override;
  std::optional<std::vector<Latest>> search(const std::vector<std::string>& words,
                                            const std::optional<Date>& from,
                                            const std::optional<Date>& to) override;

 private:
  struct Kept {
    std::size_t entries = 0;  ///< in all
    std::vector<std::pair<std::string, std::string>> written;  ///< id and digest
    bool whole = false;       ///< built from nothing
  };
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
  if (!execute(db, "BEGIN IMMEDIATE") || !execute(db, kSchema) || !execute(db, "COMMIT")) {
    return nullptr;
  }
  return index;
}

bool SqliteIndex::in_step(const Store& store) {
  FsError error;
  const Fd staging = open_folder_beneath(store.work_fd.get(), kStaging, error);
  const auto left = staging.valid() ? list_folder(staging.get(), error) : std::nullopt;
  // A revision in the making changes no stamp of the root, but it works in the staging folder.
  if (!left || !left->empty()) return false;
  Statement stamp(db_, "SELECT root FROM stamp");
  const std::string now = root_stamp(store);
  return !now.empty() && stamp.step() && stamp.get_text(0) == now;
}

bool SqliteIndex::sync(const Store& store, std::vector<Problem>& problems, const Progress& progress) {
  // Before the listing: what comes later is not in it.
  const std::string root = settled_root_stamp(store);
  FsError error;
  const auto listing = list_folder(store.root_fd.get(), error);
  if (!listing || !execute(db_, "BEGIN IMMEDIATE")) return false;
  std::map<std::string, std::string> known;
  Statement rows(db_, "SELECT id, changed FROM object");
  while (rows.step()) known[rows.get_text(0)] = rows.get_text(1);
  bool good = rows.ok();
  Kept kept;
  kept.whole = known.empty();
  std::size_t done = 0;
  for (const Entry& e : *listing) {
    if (progress) progress(++done, listing->size());
    if (!good || !parse_number(e.name) || e.kind != EntryKind::folder) continue;
    struct stat st {};
    const bool seen = ::fstatat(store.root_fd.get(), e.name.c_str(), &st, AT_SYMLINK_NOFOLLOW) == 0;
    const auto entry = known.find(e.name);
    const std::string changed = seen ? stamp_of(st) : std::string();
    const bool fresh = entry != known.end() && !changed.empty() && entry->second == changed;
    if (!fresh) {
      if (entry != known.end()) good = forget(db_, e.name);
      Problem problem;
      const std::optional<Latest> latest = read_latest(store, e.name, problem);
      if (latest) {
        good = good && insert(db_, *latest, changed);
        kept.written.emplace_back(latest->id, latest->digest);
      } else {
        problems.push_back(std::move(problem));
      }
      kept.entries += latest ? 1 : 0;
    } else {
      ++kept.entries;
    }
    if (entry != known.end()) known.erase(entry);
  }
  for (const auto& [id, changed] : known) good = good && forget(db_, id);
  good = good && execute(db_, "DELETE FROM stamp") &&
         Statement(db_, "INSERT INTO stamp(one, root) VALUES (1, ?)")
             .text(problems.empty() ? root : "damaged: look again each time")
             .run();
  if (good && execute(db_, "COMMIT")) return reads_back(store, kept);
  execute(db_, "ROLLBACK");
  return false;
}

// A disk that takes a page and keeps nothing would make certificates that cannot be found.
bool SqliteIndex::reads_back(const Store& store, const Kept& kept) {
  const auto again = open(store, false);
  if (!again) return false;
  Statement count(again->db_, "SELECT count(*) FROM object");
  if (!count.step() || count.get_number(0) != static_cast<std::int64_t>(kept.entries)) return false;
  for (const auto& [id, digest] : kept.written) {
    Statement row(again->db_, "SELECT digest FROM object WHERE id = ?");
    if (!row.text(id).step() || row.get_text(0) != digest) return false;
  }
  if (!kept.whole) return true;
  Statement check(again->db_, "PRAGMA quick_check(1)");
  return check.step() && check.get_text(0) == "ok" &&
         execute(again->db_, "INSERT INTO word(word, rank) VALUES ('integrity-check', 1)");
}

std::optional<std::vector<Latest>> SqliteIndex::entries() {
  Statement rows(db_, std::string("SELECT ") + kColumns + " FROM object");
  std::vector<Latest> all;
  while (rows.step()) all.push_back(latest_from(rows));
  if (!rows.ok()) return std::nullopt;
  return all;
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
