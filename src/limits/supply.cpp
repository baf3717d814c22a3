#include "limits/installation.h"
#include "limits/sources.h"
#include "limits/table.h"

namespace ohmleaf::limits {

std::optional<Limit<Ohms>> declared_max_ze(Earthing earthing, Edition edition) {
  if (earthing != Earthing::tn_s && earthing != Earthing::tn_c_s) return std::nullopt;
  Limit<Ohms> out;
  out.value = Ohms(earthing == Earthing::tn_s ? d("0.8") : d("0.35"));
  out.exact = out.value.str();
  out.derivation = std::string(name(earthing)) +
                   ": the distributor's usual declared maximum of Ze, " + out.value.with_unit();
  out.source = cite::kSupplyZe;
  out.provenance = Provenance::published;
  out.edition = edition;
  return out;
}

}  // namespace ohmleaf::limits
