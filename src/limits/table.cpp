#include "limits/table.h"

#include <algorithm>

namespace ohmleaf::limits {

Provenance computed_from(std::initializer_list<Provenance> inputs) {
  for (Provenance p : {Provenance::memory, Provenance::maker, Provenance::common_practice})
    if (std::find(inputs.begin(), inputs.end(), p) != inputs.end()) return p;
  return Provenance::computed;
}

std::string exact4(const Decimal& value) {
  return value.rounded(4, Round::down).short_str();
}

std::string exact4(const Decimal& a, const Decimal& b) {
  return Decimal::divide(a, b, 4, Round::down).short_str();
}

std::string list_words(const std::vector<std::string>& items) {
  std::string out;
  for (std::size_t i = 0; i < items.size(); ++i) {
    if (i > 0) out += i + 1 == items.size() ? " and " : ", ";
    out += items[i];
  }
  return out;
}

}  // namespace ohmleaf::limits
