#include <array>

#include "record/job_tables.h"

namespace ohmleaf::record {
namespace {

constexpr auto no = Required::no;

constexpr std::array<std::int64_t, 2> kPhaseCounts{1, 3};
constexpr std::array<std::string_view, 6> kSources{
    "PV", "battery", "generator", "vehicle charging", "wind", "other"};

}  // namespace

template <>
std::span<const Key<Supply>> keys<Supply>() {
  using S = Supply;
  static constexpr std::array table{
      key<&S::earthing>("earthing", no, "earthing arrangement of the supply"),
      key<&S::ze>("ze", no,
                  "external earth fault loop impedance at the origin, taken with the earthing "
                  "conductor disconnected"),
      key<&S::ze_by>("ze_by", no,
                     "how Ze is known: measured, calculated, or by enquiry to the distributor"),
      key<&S::reconnected>("reconnected", no,
                           "the earthing conductor was put back after Ze or RA, and confirmed"),
      key<&S::ra>("ra", no, "resistance of the earth electrode (TT)"),
      key<&S::electrode>("electrode", no, "kind and place of the earth electrode"),
      key<&S::pfc>("pfc", no,
                   "prospective fault current at the origin, the larger of line-neutral and "
                   "line-earth, with its unit: \"1.1 kA\"; on three phases the largest, or one for "
                   "each line and for three-phase"),
      key<&S::pfc_by>("pfc_by", no, "how it is known"),
      key<&S::main_fuse>("main_fuse", no, "the distributor's fuse", {.overcurrent = true}),
      key<&S::main_switch>("main_switch", no, "standard, rating and poles of the main switch"),
      key<&S::rcd>("rcd", no, "an RCD at the origin, upstream of all circuits", {.residual = true}),
      key<&S::voltage>("voltage", no, "nominal voltage to earth in V; 230 where left out",
                       {.least = 1, .most = 1000}),
      key<&S::phases>("phases", no, "1 or 3; 1 where left out", {.numbers = kPhaseCounts}),
      key<&S::polarity>("polarity", no, "polarity of the supply confirmed"),
      key<&S::phase_sequence>("phase_sequence", no,
                              "the phases of a three-phase supply follow in the right turn"),
      key<&S::neutral>("neutral", no,
                       "size of the supply's neutral, which sets the bonding size under TN-C-S"),
      key<&S::other_sources>("other_sources", no, "sources besides the mains", {.words = kSources}),
  };
  return table;
}

template <>
std::span<const Key<Bonding>> keys<Bonding>() {
  using B = Bonding;
  static constexpr std::array table{
      key<&B::earthing_conductor>("earthing_conductor", no, "size of the earthing conductor"),
      key<&B::water>("water", no, "size of the main bonding conductor to the water service"),
      key<&B::gas>("gas", no, "size of the main bonding conductor to the gas service"),
      key<&B::oil>("oil", no, "size of the main bonding conductor to the oil service"),
      key<&B::structure>("structure", no, "size of the main bonding conductor to structural metal"),
      key<&B::other>("other", no, "size of the main bonding conductor to anything else"),
      key<&B::water_ohms>("water_ohms", no, "continuity of the water bond, read end to end"),
      key<&B::gas_ohms>("gas_ohms", no, "continuity of the gas bond, read end to end"),
      key<&B::oil_ohms>("oil_ohms", no, "continuity of the oil bond, read end to end"),
      key<&B::structure_ohms>("structure_ohms", no, "continuity of that bond, read end to end"),
      key<&B::other_ohms>("other_ohms", no, "continuity of that bond, read end to end"),
      key<&B::water_length>("water_length", no,
                            "length of the water bond, for the value to expect"),
      key<&B::gas_length>("gas_length", no, "length of the gas bond, for the value to expect"),
      key<&B::oil_length>("oil_length", no, "length of the oil bond, for the value to expect"),
      key<&B::structure_length>("structure_length", no,
                                "length of that bond, for the value to expect"),
      key<&B::other_length>("other_length", no, "length of that bond, for the value to expect"),
  };
  return table;
}

template <>
std::span<const Key<Isolation>> keys<Isolation>() {
  using I = Isolation;
  static constexpr std::array table{
      key<&I::point>("point", no, "where it was isolated"),
      key<&I::locked>("locked", no, "locked off, the key kept"),
      key<&I::notice>("notice", no, "warning notice posted"),
      key<&I::proved_dead>("proved_dead", no, "when it was proved dead, the time on the wall"),
      key<&I::proving_unit>("proving_unit", no, "key of the proving unit used"),
      key<&I::indicator>("indicator", no,
                         "key of the voltage indicator used, proved before and after"),
      key<&I::by>("by", no, "key of the person who isolated; the job's own person where left out"),
  };
  return table;
}

}  // namespace ohmleaf::record
