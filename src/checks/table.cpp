#include <vector>

#include "checks/scene.h"

namespace ohmleaf::checks {

std::vector<Row> rows() {
  std::vector<Row> out;
  for (const std::span<const Row> theme : {paper_rows(),
                                           signing_rows(),
                                           agreement_rows(),
                                           isolation_rows(),
                                           instrument_rows(),
                                           supply_rows(),
                                           bonding_rows(),
                                           device_rows(), asked_rows(),
                                           accessory_rows(),
                                           point_rows(),
                                           trap_rows(),
                                           continuity_rows(),
                                           ring_rows(),
                                           ring_point_rows(),
                                           insulation_rows(),
                                           zs_rows(),
                                           protective_conductor_rows(),
                                           fault_current_rows(),
                                           rcd_rows(),
                                           consistency_rows(),
                                           believable_rows(),
                                           phase_rows(),
                                           network_rows()})
    out.insert(out.end(), theme.begin(), theme.end());
  return out;
}

std::span<const CheckInfo> all_checks() {
  static const std::vector<CheckInfo> infos = [] {
    std::vector<CheckInfo> out;
    for (const Row& row : rows()) out.push_back(row.info);
    return out;
  }();
  return infos;
}

}  // namespace ohmleaf::checks
