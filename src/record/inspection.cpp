#include "record/read.h"

namespace ohmleaf::record {

// What an inspection covers (642.3), in our own words. "Linsley": Linsley, Basic Electrical
// Installation Work, p. 361, where the subject was read; the others are from memory.
const std::vector<InspectionText>& inspection_items() {
  constexpr std::string_view read = "642.3; Linsley, Basic Electrical Installation Work, p. 361";
  constexpr std::string_view memory = "642.3, from memory";
  static const std::vector<InspectionText> items{
      {"connections", "Conductors are properly connected", read},
      {"identification", "Conductors can be told apart and are marked", read},
      {"routing", "Cables run where nothing is likely to damage them, or are protected", read},
      {"conductor_size", "Conductors suit the load and the voltage drop", memory},
      {"accessories",
       "Accessories are connected correctly; switches and fuses of one pole are in the line only",
       memory},
      {"fire_barriers", "Openings made in fire barriers are closed again", memory},
      {"protection", "Earthing, bonding and automatic disconnection are in place", memory},
      {"mutual_influence", "Other services and circuits neither disturb nor endanger it", memory},
      {"isolation_switching", "Means of isolation and switching are there and rightly placed",
       memory},
      {"undervoltage", "Nothing can do harm when the supply fails and comes back", memory},
      {"protective_devices", "Protective and monitoring devices are chosen and set rightly", read},
      {"labels", "Circuits, devices and warnings are labelled", read},
      {"diagrams", "Circuit list, diagrams and instructions are there", read},
      {"access", "Switchgear and equipment can be reached", read},
      {"external_influences", "Equipment and the way it is put up suit the place", read},
  };
  return items;
}

}  // namespace ohmleaf::record
