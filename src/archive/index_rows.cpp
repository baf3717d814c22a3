#include "archive/index_rows.h"

#include <fcntl.h>
#include <time.h>

#include <algorithm>
#include <iterator>
#include <utility>

#include "base/json.h"
#include "base/text.h"

namespace ohmleaf::archive::rows {
namespace {

constexpr const char* kSchema = R"(
  PRAGMA user_version = 5;
  CREATE TABLE stamp(one INTEGER PRIMARY KEY CHECK (one = 1), root TEXT NOT NULL);
  CREATE TABLE look(one INTEGER PRIMARY KEY CHECK (one = 1), at INTEGER NOT NULL,
    took INTEGER NOT NULL);
  CREATE TABLE series(prefix TEXT PRIMARY KEY, highest INTEGER NOT NULL, filed INTEGER NOT NULL);
  CREATE TABLE object(
    row INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE, changed TEXT NOT NULL,
    version INTEGER NOT NULL, sequence INTEGER NOT NULL, number TEXT NOT NULL,
    revision INTEGER NOT NULL, kind INTEGER NOT NULL, job_id TEXT NOT NULL,
    issued INTEGER NOT NULL, person TEXT NOT NULL, reason TEXT NOT NULL,
    replaces TEXT NOT NULL, digest TEXT NOT NULL, day TEXT NOT NULL, facts TEXT NOT NULL,
    hay TEXT NOT NULL);
  CREATE INDEX object_day ON object(day);
  CREATE TABLE job(job_id TEXT, id TEXT, PRIMARY KEY (job_id, id)) WITHOUT ROWID;
  CREATE TABLE chain(sequence INTEGER, id TEXT, PRIMARY KEY (sequence, id)) WITHOUT ROWID;
  CREATE VIRTUAL TABLE word USING fts5(hay, content='object', content_rowid='row',
    tokenize="trigram case_sensitive 1");
)";

}  // namespace

bool make_tables(sqlite3* db) {
  return execute(db, "BEGIN IMMEDIATE") && execute(db, kSchema) && execute(db, "COMMIT");
}

namespace {

std::string facts_text(const Facts& facts) {
  Json list = Json::array();
  for (const auto& [key, value] : facts) list.push(key).push(value);
  return list.dump(-1);
}

}  // namespace

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
  static constexpr const char* kSteps[] = {
      "INSERT INTO word(word, rowid, hay) SELECT 'delete', row, hay FROM object WHERE id = ?",
      "DELETE FROM job WHERE (job_id, id) IN (SELECT job_id, id FROM object WHERE id = ?)",
      "DELETE FROM chain WHERE (sequence, id) IN (SELECT sequence, id FROM object WHERE id = ?)",
      "DELETE FROM object WHERE id = ?"};
  return std::all_of(std::begin(kSteps), std::end(kSteps),
                     [&](const char* sql) { return Statement(db, sql).text(id).run(); });
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
  return row.run() &&
         Statement(db, "INSERT INTO word(rowid, hay) VALUES (last_insert_rowid(), ?)")
             .text(hay)
             .run() &&
         Statement(db, "INSERT INTO job(job_id, id) VALUES (?, ?)")
             .text(o.record.job_id)
             .text(o.id)
             .run() &&
         Statement(db, "INSERT INTO chain(sequence, id) VALUES (?, ?)")
             .number(o.record.sequence)
             .text(o.id)
             .run();
}

void count_in(AllSeries& all, std::string_view id) {
  const std::optional<NumberParts> parts = parse_number(id);
  if (!parts) return;
  Series& one = all[parts->prefix];
  one.highest = std::max(one.highest, parts->sequence);
  ++one.filed;
}

bool write_series(sqlite3* db, const AllSeries& all) {
  bool good = execute(db, "DELETE FROM series");
  for (const auto& [prefix, one] : all) {
    good = good && Statement(db, "INSERT INTO series(prefix, highest, filed) VALUES (?,?,?)")
                       .text(prefix)
                       .number(one.highest)
                       .number(one.filed)
                       .run();
  }
  return good;
}

bool add_to_series(sqlite3* db, std::string_view id) {
  const std::optional<NumberParts> parts = parse_number(id);
  return parts &&
         Statement(db,
                   "INSERT INTO series(prefix, highest, filed) VALUES (?,?,1) ON CONFLICT(prefix) "
                   "DO UPDATE SET highest = max(highest, excluded.highest), filed = filed + 1")
             .text(parts->prefix)
             .number(parts->sequence)
             .run();
}

bool lists_agree(sqlite3* db) {
  // Each counted by itself, page by page: an index of a table would be counted by any other one.
  Statement counts(db,
                   "SELECT (SELECT coalesce(sum(filed), 0) FROM series), (SELECT count(*) FROM "
                   "object), (SELECT count(*) FROM job), (SELECT count(*) FROM chain)");
  if (!counts.step()) return false;
  const std::int64_t all = counts.get_number(0);
  return counts.get_number(1) == all && counts.get_number(2) == all && counts.get_number(3) == all;
}

std::string stamp_of(const struct stat& st) {
  timespec now{};
  if (::clock_gettime(CLOCK_REALTIME_COARSE, &now) != 0) return {};
  const auto& then = st.st_ctim;
  if (std::pair(then.tv_sec, then.tv_nsec) >= std::pair(now.tv_sec, now.tv_nsec)) return {};
  return std::to_string(st.st_ino) + "." + std::to_string(st.st_ctim.tv_sec) + "." +
         std::to_string(st.st_ctim.tv_nsec);
}

std::string settled_stamp(int folder, const std::string& below) {
  constexpr int kTries = 25;
  constexpr timespec kMillisecond{0, 1'000'000};
  for (int i = 0;; ++i) {
    struct stat st {};
    const int got = below.empty() ? ::fstat(folder, &st)
                                  : ::fstatat(folder, below.c_str(), &st, AT_SYMLINK_NOFOLLOW);
    std::string stamp = got == 0 ? stamp_of(st) : std::string();
    if (got != 0 || !stamp.empty() || i == kTries) return stamp;
    ::nanosleep(&kMillisecond, nullptr);
  }
}

}  // namespace ohmleaf::archive::rows
