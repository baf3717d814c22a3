#include "limits/installation.h"

// What each edition asks for; what no page was read for is from memory and says so.

namespace ohmleaf::limits {

std::vector<ProtectionNeed> additional_protection(const CircuitPlace& place, Edition edition) {
  const bool seventeenth = edition == Edition::y2008 || edition == Edition::y2015;
  std::vector<ProtectionNeed> out;
  const auto need = [&](std::string reason, std::string source) {
    const bool memory = source.find("from memory") != std::string::npos;
    out.push_back({std::move(reason), std::move(source),
                   memory ? Provenance::memory : Provenance::published});
  };
  const std::string dwellings = " (the-regs.co.uk/blog/?p=495, RCDs in dwellings, 2018)";
  if (place.socket_outlets)
    need(seventeenth ? "socket-outlets rated up to 20 A for general use"
                     : "socket-outlets rated up to 32 A",
         "BS 7671 411.3.3 (rule and number from memory)");
  if (place.luminaires_in_dwelling && !seventeenth)
    need("luminaires in a dwelling", "BS 7671 411.3.4" + dwellings);
  if (place.bathroom)
    need("a circuit of a room with a bath or shower",
         seventeenth ? "BS 7671 701.411.3.3 (ks-electrical.com, 17th edition)"
                     : "BS 7671 701.411.3.3" + dwellings);
  if (place.outdoors)
    need("mobile equipment for use outdoors, rated up to 32 A",
         "BS 7671 411.3.3 (electricalengineertraining.co.uk, RCD protection)");
  if (place.concealed_cable)
    need("cables concealed less than 50 mm deep without mechanical protection",
         seventeenth ? "BS 7671 522.6.101 to 522.6.103 (rule and numbers from memory)"
                     : "BS 7671 522.6.202" + dwellings);
  return out;
}

}  // namespace ohmleaf::limits
