#include "limits/rows.h"

#include <array>

#include "limits/rows_tables.h"

namespace ohmleaf::limits {
namespace {

struct Table {
  TableInfo info;
  std::vector<Row> (*rows)(Edition);
};

constexpr std::array kTables{
    Table{{"editions", "Editions of the wiring rules and the first design date of each"},
          rows::editions},
    Table{{"disconnection", "Maximum disconnection times"}, rows::disconnection},
    Table{{"zs-b", "Maximum Zs, circuit-breakers and RCBOs type B"}, rows::zs_b},
    Table{{"zs-c", "Maximum Zs, circuit-breakers and RCBOs type C"}, rows::zs_c},
    Table{{"zs-d", "Maximum Zs, circuit-breakers and RCBOs type D"}, rows::zs_d},
    Table{{"zs-bs88-2", "Maximum Zs, fuses gG to BS 88-2"}, rows::zs_bs88_2},
    Table{{"zs-bs88-3", "Maximum Zs, fuses system C to BS 88-3"}, rows::zs_bs88_3},
    Table{{"zs-bs1361", "Maximum Zs, cartridge fuses to BS 1361"}, rows::zs_bs1361},
    Table{{"zs-bs3036", "Maximum Zs, rewirable fuses to BS 3036"}, rows::zs_bs3036},
    Table{{"zs-bs1362", "Maximum Zs, plug fuses to BS 1362"}, rows::zs_bs1362},
    Table{{"rcd-zs", "Maximum Zs or electrode resistance with an RCD"}, rows::rcd_zs},
    Table{{"rcd-times", "Operating times of RCDs"}, rows::rcd_times},
    Table{{"rcd-types", "Which RCD type for which load, and its operating currents"},
          rows::rcd_types},
    Table{{"resistance", "Resistance of conductors per metre at 20 °C"}, rows::resistance},
    Table{{"r1r2", "R1+R2 per metre at 20 °C"}, rows::r1r2},
    Table{{"temperature", "Temperature factors, with their direction"}, rows::temperature},
    Table{{"insulation", "Insulation resistance: test voltage and minimum"},
          rows::insulation_resistance},
    Table{{"k", "k of the adiabatic equation"}, rows::k_factors},
    Table{{"capacity", "Current-carrying capacity at 30 °C"}, rows::capacities},
    Table{{"corrections", "Factors on the current-carrying capacity"}, rows::corrections},
    Table{{"grouping", "Grouping factors, by arrangement and number of circuits"},
          rows::grouping_factors},
    Table{{"drop", "Volt drop"}, rows::volt_drops},
    Table{{"bonding", "Earthing, bonding and protective conductors"}, rows::bonding},
    Table{{"supply", "What a supply declares"}, rows::supply},
    Table{{"circuits", "Rules of ring and radial circuits and spurs"}, rows::circuits},
    Table{{"additional-protection", "Where a 30 mA RCD is called for"}, rows::additional},
    Table{{"considerations", "Arc-fault detection and surge protection"}, rows::considerations},
    Table{{"notification", "Work in a dwelling that may be notifiable"}, rows::notifications},
    Table{{"instruments", "What test instruments must do"}, rows::instruments},
    Table{{"isolation", "Safe isolation and test leads"}, rows::isolation},
    Table{{"inspection", "What an inspection looks at, in general words"}, rows::inspection},
    Table{{"minor-works", "What a record of minor works holds, in general words"},
          rows::minor_works},
    Table{{"test-sequence", "The order of the tests"}, rows::test_sequence},
};

}  // namespace

std::vector<TableInfo> tables() {
  std::vector<TableInfo> out;
  for (const Table& table : kTables) out.push_back(table.info);
  return out;
}

std::vector<Row> table_rows(std::string_view table, Edition edition) {
  for (const Table& known : kTables)
    if (known.info.name == table) return known.rows(edition);
  return {};
}

std::vector<Row> all_rows(Edition edition) {
  std::vector<Row> out;
  for (const Table& table : kTables)
    for (Row& row : table.rows(edition)) out.push_back(std::move(row));
  return out;
}

std::vector<Share> shares(const std::vector<Row>& rows) {
  std::vector<Share> out{{Provenance::published, 0},
                         {Provenance::computed, 0},
                         {Provenance::memory, 0},
                         {Provenance::common_practice, 0},
                         {Provenance::maker, 0}};
  for (const Row& row : rows)
    for (Share& share : out)
      if (share.provenance == row.provenance) ++share.count;
  return out;
}

}  // namespace ohmleaf::limits
