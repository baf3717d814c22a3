#include <map>
#include <set>

#include "limits/rows.h"
#include "support.h"

// read_in_print.tsv: figures found in print after the first tables were made, each with the page
// that it was read on. Several pages may print one figure; `named` is a word of the source that the
// figure itself cites, "-" where the page only confirms it.

using namespace ohmleaf;
using namespace ohmleaf::test;

namespace {

const std::vector<Row>& shown(const std::string& table) {
  static std::map<std::string, std::vector<Row>> kRows;
  auto found = kRows.find(table);
  if (found == kRows.end()) found = kRows.emplace(table, table_rows(table, Edition::y2026)).first;
  return found->second;
}

/// Some tables print two figures for one item, each from its own source.
std::vector<Row> ours(const TsvRow& row) {
  std::vector<Row> out;
  for (const Row& one : shown(row["table"]))
    if (one.item == row["item"]) out.push_back(one);
  return out;
}

/// "≤ 1.04" and "1.04" are one figure; words are compared as they stand.
bool same(const std::string& shown_value, const std::string& printed) {
  if (printed == "-" || shown_value == printed) return true;
  const auto space = shown_value.rfind(' ');
  const std::string bare = space == std::string::npos ? shown_value : shown_value.substr(space + 1);
  const auto a = Decimal::parse(bare), b = Decimal::parse(printed);
  return a && b && *a == *b;
}

}  // namespace

TEST_CASE("in print: every row of read_in_print.tsv, by the page that prints it") {
  std::size_t compared = 0;
  for (const TsvRow& row : read_tsv("limits/read_in_print.tsv")) {
    CAPTURE(row.where());
    CAPTURE(row["item"]);
    CAPTURE(row["source"]);
    CHECK(row["source"].starts_with("published: "));
    bool found = false;
    for (const Row& one : ours(row)) {
      const bool named = row["named"] == "-" || one.source.find(row["named"]) != std::string::npos;
      found = found ||
              (same(one.value, row["value"]) && named && one.provenance == Provenance::published);
    }
    CHECK(found);
    ++compared;
  }
  CHECK(compared > 500);
}

TEST_CASE("in print: no figure of the load side counts as published without its page") {
  std::set<std::string> printed;
  for (const TsvRow& row : read_tsv("limits/read_in_print.tsv"))
    printed.insert(row["table"] + "|" + row["item"]);
  for (const char* table : {"capacity", "corrections", "grouping"})
    for (const Row& row : shown(table)) {
      CAPTURE(row.item);
      CHECK(row.provenance == Provenance::published);
      CHECK(printed.contains(std::string(table) + "|" + row.item));
    }
}

TEST_CASE("in print: what stays from memory is known by name") {
  // A figure that loses its source, or gains one, changes this list.
  const std::set<std::string> tables{
      "bonding",     "editions",  "disconnection",         "rcd-times",
      "drop",        "supply",    "additional-protection", "considerations",
      "instruments", "inspection"};
  std::size_t memory = 0;
  for (const Row& row : all_rows(Edition::y2026)) {
    if (row.provenance != Provenance::memory) continue;
    CAPTURE(row.table);
    CAPTURE(row.item);
    CHECK(tables.contains(row.table));
    ++memory;
  }
  CHECK(memory == 24);
}
