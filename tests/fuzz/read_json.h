#pragma once
#include <sqlite3.h>

#include <optional>
#include <string>

#include "fuzz/target.h"

// What we write, read by a parser that knows nothing of us: JSON by SQLite.

namespace fuzz {

class JsonReader {
 public:
  JsonReader() {
    promise(sqlite3_open(":memory:", &db_) == SQLITE_OK, "SQLite opens");
    valid_ = prepared("select json_valid(?)");
    member_ = prepared("select json_extract(?, ?)");
  }

  bool takes(const std::string& json) {
    bind(valid_, json);
    return sqlite3_step(valid_) == SQLITE_ROW && sqlite3_column_int(valid_, 0) == 1;
  }
  /// The text at a path such as "$.job.premises".
  std::string text(const std::string& json, const char* path) {
    bind(member_, json);
    sqlite3_bind_text(member_, 2, path, -1, SQLITE_STATIC);
    if (sqlite3_step(member_) != SQLITE_ROW) return {};
    const auto* bytes = reinterpret_cast<const char*>(sqlite3_column_text(member_, 0));
    return {bytes, bytes != nullptr ? static_cast<std::size_t>(sqlite3_column_bytes(member_, 0))
                                    : std::size_t{0}};
  }

 private:
  sqlite3_stmt* prepared(const char* sql) {
    sqlite3_stmt* made = nullptr;
    promise(sqlite3_prepare_v2(db_, sql, -1, &made, nullptr) == SQLITE_OK, "SQLite reads JSON");
    return made;
  }
  static void bind(sqlite3_stmt* statement, const std::string& json) {
    sqlite3_reset(statement);
    sqlite3_bind_text(statement, 1, json.data(), static_cast<int>(json.size()), SQLITE_TRANSIENT);
  }
  sqlite3* db_ = nullptr;
  sqlite3_stmt *valid_ = nullptr, *member_ = nullptr;
};

/// One for the whole run.
inline JsonReader& json_reader() {
  static JsonReader reader;
  return reader;
}

}  // namespace fuzz
