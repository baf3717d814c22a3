#pragma once
#include <sys/stat.h>

#include <map>
#include <string>

#include "archive/index.h"
#include "archive/sqlite.h"

/// The tables of the search index and their rows.
namespace ohmleaf::archive::rows {

inline constexpr int kSchemaNumber = 5;
bool make_tables(sqlite3* db);

/// What `latest_from` reads, in its order.
inline constexpr const char* kColumns =
    "id, version, sequence, number, revision, kind, job_id, issued, person, reason, replaces, "
    "digest";
Latest latest_from(const Statement& row);
Facts facts_from(const std::string& text);

bool insert(sqlite3* db, const Latest& object, const std::string& changed);
bool forget(sqlite3* db, const std::string& id);

using AllSeries = std::map<std::string, Series>;
/// Adds an object's number to its prefix.
void count_in(AllSeries& all, std::string_view id);
bool write_series(sqlite3* db, const AllSeries& all);
/// The same for one more object.
bool add_to_series(sqlite3* db, std::string_view id);

/// Whether every list of the tables holds as many objects as were counted: a list that lost a page
/// would say of a job that it was never issued.
bool lists_agree(sqlite3* db);

/// A folder's change time. Empty where it changed in this very tick of the clock: it can change
/// again in the same tick, and its stamp would not show it. To be taken before the folder is read.
std::string stamp_of(const struct stat& st);
/// The same of a folder below another, "" for that itself; a tick (some milliseconds) is waited
/// for. With a clock that is behind that of the disk it stays empty, and each search looks at the
/// folders.
std::string settled_stamp(int folder, const std::string& below);

}  // namespace ohmleaf::archive::rows
