#pragma once
#include <string_view>
#include <vector>

#include "limits/fact.h"

// Every value of this layer as rows, to show whole tables and to say how much of it was read in
// print and how much rests on memory. The rows are made by the functions that answer questions, so
// a table can show nothing that a check would not use.

namespace ohmleaf::limits {

struct TableInfo {
  std::string_view name;   ///< "zs-b"
  std::string_view title;  ///< "Maximum Zs of type B circuit-breakers and RCBOs"
};
/// All tables, in the order of the subject.
std::vector<TableInfo> tables();

/// The rows of one table as they stand in that edition; empty where there is no such table.
std::vector<Row> table_rows(std::string_view table, Edition edition);

/// The rows of all tables.
std::vector<Row> all_rows(Edition edition);

struct Share {
  Provenance provenance;
  std::size_t count;
};
/// How many rows have which provenance; every provenance is named, also with none.
std::vector<Share> shares(const std::vector<Row>& rows);

}  // namespace ohmleaf::limits
