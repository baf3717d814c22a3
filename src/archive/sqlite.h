#pragma once
#include <sqlite3.h>

#include <cstdint>
#include <string>
#include <string_view>

namespace ohmleaf::archive {

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

inline bool execute(sqlite3* db, const char* sql) {
  return sqlite3_exec(db, sql, nullptr, nullptr, nullptr) == SQLITE_OK;
}

}  // namespace ohmleaf::archive
