#include "limits/rows.h"

#include <algorithm>
#include <set>

#include "support.h"

// What `limits --table` and `limits --provenance` print.

using namespace ohmleaf;
using namespace ohmleaf::test;

TEST_CASE("rows: every table has rows, each with value and source, in every edition") {
  for (const TableInfo& table : tables()) {
    CAPTURE(table.name);
    CHECK_FALSE(table.title.empty());
    for (Edition edition : kAllEditions) {
      const auto rows = table_rows(table.name, edition);
      CHECK_FALSE(rows.empty());
      for (const Row& row : rows) {
        CAPTURE(row.item);
        CHECK(row.table == table.name);
        CHECK_FALSE(row.item.empty());
        CHECK_FALSE(row.value.empty());
        CHECK_FALSE(row.source.empty());
        CHECK(row.value.find("void") == std::string::npos);
        if (row.provenance == Provenance::memory)
          CHECK(row.source.find("memory") != std::string::npos);
      }
    }
  }
  CHECK(table_rows("no-such-table", Edition::y2026).empty());
}

TEST_CASE("rows: names are unique, and so are the items of a table but where sources disagree") {
  std::set<std::string> names;
  for (const TableInfo& table : tables()) CHECK(names.insert(std::string(table.name)).second);
  for (const TableInfo& table : tables()) {
    std::set<std::string> seen;
    for (const Row& row : table_rows(table.name, Edition::y2026)) {
      CAPTURE(row.item);
      CHECK(seen.insert(row.item + "|" + row.value + "|" + row.source).second);
    }
  }
}

TEST_CASE("rows: the count of figures in each table is that of the published one") {
  const std::pair<const char*, const char*> same[] = {
      {"zs-bs88-2", "limits/bs88_2_zs.tsv"},
      {"zs-bs88-3", "limits/bs88_3_zs.tsv"},
      {"zs-bs1361", "limits/bs1361_zs.tsv"},
      {"zs-bs3036", "limits/bs3036_zs.tsv"},
      {"zs-bs1362", "limits/bs1362_zs.tsv"},
      {"temperature", "limits/temp_factors.tsv"},
      {"resistance", "limits/conductor_resistance_iec60228.tsv"},
      {"instruments", "limits/instruments_61557.tsv"},
      {"isolation", "limits/gs38_isolation.tsv"}};
  for (const auto& [table, file] : same) {
    CAPTURE(table);
    CHECK(table_rows(table, Edition::y2026).size() == read_tsv(file).size());
  }
  const std::size_t breakers = table_rows("zs-b", Edition::y2026).size() +
                               table_rows("zs-c", Edition::y2026).size() +
                               table_rows("zs-d", Edition::y2026).size();
  CHECK(breakers == read_tsv("limits/mcb_zs.tsv").size());
  // r1r2.tsv begins with ten single conductors, which are in "resistance".
  CHECK(table_rows("r1r2", Edition::y2026).size() == read_tsv("limits/r1r2.tsv").size() - 10);
}

TEST_CASE("rows: every figure of r1r2.tsv with the provenance of its row") {
  for (const TsvRow& row : read_tsv("limits/r1r2.tsv")) {
    if (!row.has("cpc_mm2")) continue;
    CAPTURE(row.where());
    const std::string item =
        row.number("line_mm2").short_str() + "/" + row.number("cpc_mm2").short_str() + " mm²";
    bool found = false;
    for (const Row& ours : table_rows("r1r2", Edition::y2026))
      found =
          found || (ours.item == item && dec(ours.value) == row.number("R1+R2_mohm_per_m_20C") &&
                    ours.provenance == provenance_of(row["source"]));
    CHECK(found);
  }
}

TEST_CASE("rows: shares add up, and memory is counted") {
  const auto rows = all_rows(Edition::y2026);
  std::size_t sum = 0, memory = 0;
  for (const Share& share : shares(rows)) {
    sum += share.count;
    if (share.provenance == Provenance::memory) memory = share.count;
  }
  CHECK(sum == rows.size());
  CHECK(memory > 0);
  CHECK(memory ==
        static_cast<std::size_t>(std::count_if(rows.begin(), rows.end(), [](const Row& r) {
          return r.provenance == Provenance::memory;
        })));
  CHECK(shares({}).size() == 5);
}

TEST_CASE("rows: a table shows the figure that a question gets") {
  bool found = false;
  for (const Row& row : table_rows("zs-b", Edition::y2026))
    if (row.item == "B32 at 0.4 s") {
      found = true;
      CHECK(row.value == "≤ 1.37");
      CHECK(row.unit == "Ω");
      CHECK(row.value + " " + row.unit ==
            max_zs(device("B32"), 0.4_sec, Edition::y2026)->printed());
    }
  CHECK(found);
}
