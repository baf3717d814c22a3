#pragma once
#include <vector>

#include "limits/fact.h"
#include "limits/table.h"

// Between the files rows*.cpp only: what makes the rows of each table.

namespace ohmleaf::limits::rows {

template <class Q>
Row from_limit(std::string table, std::string item, const Limit<Q>& limit, std::string note = {}) {
  const std::string printed = limit.printed();
  Row row{std::move(table), std::move(item), printed,         {},
          std::move(note),  limit.source,    limit.provenance};
  const std::string unit(Q::unit::symbol);
  if (!limit.value.is_void()) {
    row.unit = unit;
    row.value = printed.substr(0, printed.size() - unit.size() - 1);
  }
  return row;
}

template <class Q>
Row from_derived(std::string table, std::string item, const Derived<Q>& derived,
                 std::string note = {}) {
  return {std::move(table), std::move(item), derived.value.str(), std::string(Q::unit::symbol),
          std::move(note),  derived.source,  derived.provenance};
}

inline Row from_text(std::string_view table, std::string_view item, std::string_view value,
                     const Origin& origin, std::string_view note = {}) {
  return {std::string(table), std::string(item),          std::string(value), {},
          std::string(note),  std::string(origin.source), origin.provenance};
}

std::vector<Row> editions(Edition);
std::vector<Row> disconnection(Edition);
std::vector<Row> zs_b(Edition);
std::vector<Row> zs_c(Edition);
std::vector<Row> zs_d(Edition);
std::vector<Row> zs_bs88_2(Edition);
std::vector<Row> zs_bs88_3(Edition);
std::vector<Row> zs_bs1361(Edition);
std::vector<Row> zs_bs3036(Edition);
std::vector<Row> zs_bs1362(Edition);
std::vector<Row> rcd_zs(Edition);
std::vector<Row> rcd_times(Edition);
std::vector<Row> rcd_types(Edition);

std::vector<Row> resistance(Edition);
std::vector<Row> r1r2(Edition);
std::vector<Row> temperature(Edition);
std::vector<Row> insulation_resistance(Edition);
std::vector<Row> k_factors(Edition);
std::vector<Row> capacities(Edition);
std::vector<Row> corrections(Edition);
std::vector<Row> grouping_factors(Edition);
std::vector<Row> volt_drops(Edition);

std::vector<Row> bonding(Edition);
std::vector<Row> supply(Edition);
std::vector<Row> circuits(Edition);
std::vector<Row> additional(Edition);
std::vector<Row> considerations(Edition);
std::vector<Row> notifications(Edition);

std::vector<Row> instruments(Edition);
std::vector<Row> isolation(Edition);
std::vector<Row> inspection(Edition);
std::vector<Row> minor_works(Edition);
std::vector<Row> test_sequence(Edition);

}  // namespace ohmleaf::limits::rows
