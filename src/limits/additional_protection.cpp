#include "limits/installation.h"

// No table of the reference gives these rules: all of them are from memory and say so.

namespace ohmleaf::limits {

std::vector<ProtectionNeed> additional_protection(const CircuitPlace& place, Edition edition) {
  const bool seventeenth = edition == Edition::y2008 || edition == Edition::y2015;
  std::vector<ProtectionNeed> out;
  const auto need = [&](std::string reason, std::string source) {
    out.push_back({std::move(reason), std::move(source), Provenance::memory});
  };
  if (place.socket_outlets)
    need(seventeenth ? "socket-outlets rated up to 20 A for general use"
                     : "socket-outlets rated up to 32 A",
         "BS 7671 411.3.3 (rule and number from memory)");
  if (place.luminaires_in_dwelling && !seventeenth)
    need("luminaires in a dwelling", "BS 7671 411.3.4 (rule and number from memory)");
  if (place.bathroom)
    need("a circuit of a room with a bath or shower",
         "BS 7671 701.411.3.3 (rule and number from memory)");
  if (place.outdoors)
    need("mobile equipment for use outdoors, rated up to 32 A",
         "BS 7671 411.3.3 (rule and number from memory)");
  if (place.concealed_cable)
    need("cables concealed less than 50 mm deep without mechanical protection",
         seventeenth ? "BS 7671 522.6.101 to 522.6.103 (rule and numbers from memory)"
                     : "BS 7671 522.6.202 (rule and number from memory)");
  return out;
}

}  // namespace ohmleaf::limits
