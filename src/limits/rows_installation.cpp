#include "limits/circuit_rules.h"
#include "limits/conductor.h"
#include "limits/consideration.h"
#include "limits/installation.h"
#include "limits/rows_tables.h"
#include "limits/sources.h"
#include "limits/supply.h"

namespace ohmleaf::limits::rows {
namespace {

constexpr Origin published(std::string_view source) {
  return {Provenance::published, source};
}

SquareMm mm2(int size) {
  return SquareMm(Decimal::integer(size));
}

}  // namespace

std::vector<Row> editions(Edition) {
  std::vector<Row> out;
  for (Edition e : {Edition::y2008, Edition::y2015, Edition::y2018, Edition::y2022, Edition::y2026})
    out.push_back({"editions",
                   std::string(name(e)),
                   "from " + first_design_date(e).iso(),
                   {},
                   "chosen by the date of the design",
                   "dates from memory",
                   Provenance::memory});
  return out;
}

std::vector<Row> bonding(Edition edition) {
  std::vector<Row> out;
  const auto pme = [&](int neutral, const char* item) {
    if (const auto limit = min_main_bonding(Earthing::tn_c_s, mm2(neutral), {}, edition))
      out.push_back(from_limit("bonding", item, *limit, "copper"));
  };
  pme(35, "main bonding, PME, supply neutral up to 35 mm²");
  pme(50, "main bonding, PME, supply neutral above 35 to 50 mm²");
  pme(95, "main bonding, PME, supply neutral above 50 to 95 mm²");
  pme(150, "main bonding, PME, supply neutral above 95 to 150 mm²");
  pme(185, "main bonding, PME, supply neutral above 150 mm²");
  out.push_back(from_text("bonding", "main bonding, other earthing",
                          "half the earthing conductor, at least 6 mm²", published(cite::kBonding),
                          "need not exceed 25 mm²"));
  out.push_back(from_text("bonding", "protective conductor, line up to 16 mm²", "the same size",
                          published(cite::kTable547), "same material"));
  out.push_back(from_limit("bonding", "protective conductor, line above 16 to 35 mm²",
                           min_protective_conductor(mm2(35), edition)));
  out.push_back(from_text("bonding", "protective conductor, line above 35 mm²", "half the line",
                          published(cite::kTable547)));
  out.push_back(from_limit("bonding", "supplementary bonding, mechanically protected",
                           supplementary_bonding_min(true, edition)));
  out.push_back(from_limit("bonding", "supplementary bonding, not protected",
                           supplementary_bonding_min(false, edition)));
  out.push_back(from_limit("bonding", "conductor to an earth electrode, protected",
                           electrode_conductor_min(edition)));
  out.push_back(from_limit("bonding", "continuity of main bonding, guide value",
                           bonding_guide(edition),
                           "guidance, not a limit: up to 0.1 Ω where expected"));
  out.push_back(from_text("bonding", "supplementary bonding, resistance",
                          "50 V ÷ Ia, 25 V ÷ Ia in special locations",
                          published("iaeimagazine.org (Scaddan 2016)")));
  out.push_back(from_text("bonding", "TT earth electrode",
                          "RA × IΔn ≤ 50 V; RA preferably up to 200 Ω",
                          published(cite::kElectrode)));
  return out;
}

std::vector<Row> supply(Edition edition) {
  std::vector<Row> out;
  const auto ze = [&](Earthing earthing) {
    if (const auto limit = declared_max_ze(earthing, edition))
      out.push_back(from_limit("supply", "Ze, " + std::string(name(earthing)), *limit,
                               "declared by the distributor, typical"));
  };
  ze(Earthing::tn_s);
  ze(Earthing::tn_c_s);
  const auto electrode = tt_distributor_electrode(edition);
  out.push_back({"supply", "Ze, TT", electrode.value.str(), "Ω",
                 "plus the local electrode; typical", electrode.source, electrode.provenance});
  out.push_back(from_limit("supply", "Zs behind a 100 A cut-out, TN-C-S",
                           cut_out_100a_max_zs(edition), "one distributor's notice"));
  out.push_back(from_limit("supply", "prospective fault current, single-phase",
                           declared_max_fault_current(false, edition)));
  out.push_back(from_limit("supply", "prospective fault current, three-phase",
                           declared_max_fault_current(true, edition)));
  out.push_back(from_limit("supply", "nominal 230 V, +10 % −6 %", supply_voltage(edition)));
  out.push_back(from_text("supply", "frequency", "50 Hz", published("SSEN ForContractors page")));
  out.push_back(
      from_text("supply", "frequency tolerance", "± 1 %", {Provenance::memory, cite::kMemory}));
  out.push_back(from_text("supply", "fault current to record",
                          "the larger of line–earth and line–neutral at the origin",
                          published("the-regs.co.uk/blog/?p=240"),
                          "three phases: line–line, single-phase × √3, rule of thumb × 2"));
  out.push_back(from_limit("supply", "consumer unit to BS EN 61439-3, conditional rating",
                           consumer_unit_conditional_rating(edition),
                           "no need to measure at the origin"));
  return out;
}

std::vector<Row> circuits(Edition edition) {
  std::vector<Row> out;
  out.push_back(from_limit("circuits", "ring final, protective device", ring_max_rating(edition),
                           "30 or 32 A"));
  out.push_back(from_limit("circuits", "ring final, line and neutral",
                           ring_min_size(false, edition), "copper"));
  out.push_back(
      from_limit("circuits", "ring final, mineral insulated", ring_min_size(true, edition)));
  out.push_back(from_limit("circuits", "ring final, capacity of the cable",
                           ring_min_capacity(edition),
                           "load in any part unlikely to exceed it for long periods"));
  out.push_back(
      from_text("circuits", "unfused spur", "one single or twin accessory, 2.5 mm²",
                published("BS 7671 433.1.5 / 433.1.204 (engx.theiet.org 30677; diynot.com "
                          "wiki)")));
  out.push_back(from_text("circuits", "number of unfused spurs", "at most the points on the ring",
                          published("Scaddan, Electrical Installation Work (fliphtml5 p289)"),
                          "guidance"));
  out.push_back(from_limit("circuits", "fused spur, fuse", fused_spur_max_rating(edition),
                           "any number of spurs; guidance"));
  out.push_back(from_limit("circuits", "ring final, r1 and rn apart",
                           ring_line_neutral_tolerance(edition), "guidance"));
  const Factor ring = ring_floor_area();
  out.push_back({"circuits", "ring final, floor area", ring.value.str(), ring.unit,
                 "guidance (dwelling)", ring.source, ring.provenance});
  for (const RadialAreaRow& row : radial_area_rows())
    out.push_back({"circuits",
                   "radial up to " + std::to_string(row.rating) + " A, " + row.size.str() + " mm²",
                   std::to_string(row.square_metres), "m²",
                   "guidance; sources disagree, the smaller is used",
                   std::string(row.origin.source), row.origin.provenance});
  return out;
}

std::vector<Row> additional(Edition edition) {
  std::vector<Row> out;
  for (const ProtectionNeed& need : additional_protection({true, true, true, true, true}, edition))
    out.push_back({"additional-protection",
                   need.reason,
                   "RCD up to 30 mA",
                   {},
                   {},
                   need.source,
                   need.provenance});
  return out;
}

std::vector<Row> considerations(Edition edition) {
  std::vector<Row> out;
  for (Premises p : {Premises::dwelling, Premises::high_rise, Premises::multiple_occupation,
                     Premises::student, Premises::care_home, Premises::other}) {
    const Consideration c = arc_fault_detection(p, true, Amps(d("32")), edition);
    out.push_back({"considerations",
                   "arc-fault detection, " + std::string(name(p)),
                   std::string(name(c.weight)),
                   {},
                   c.reason,
                   c.source,
                   c.provenance});
  }
  const auto surge = [&](const char* item, const SurgeRisk& risk) {
    const Consideration c = surge_protection(risk, edition);
    out.push_back({"considerations",
                   item,
                   std::string(name(c.weight)),
                   {},
                   c.reason,
                   c.source,
                   c.provenance});
  };
  SurgeRisk life, service, overhead, declined;
  life.danger_to_life = true;
  service.loss_of_service = true;
  overhead.overhead_line = true;
  declined.owner_declined = true;
  surge("surge protection, danger to life", life);
  surge("surge protection, public service or commerce", service);
  surge("surge protection, overhead supply line", overhead);
  surge("surge protection, owner has declared the loss tolerable", declined);
  surge("surge protection, otherwise", {});
  return out;
}

std::vector<Row> notifications(Edition) {
  return notification_rows();
}

}  // namespace ohmleaf::limits::rows
