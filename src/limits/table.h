#pragma once
#include <initializer_list>
#include <string>
#include <string_view>
#include <vector>

#include "limits/limit.h"

// What every table of this layer is written with.

namespace ohmleaf::limits {

/// A figure of a table exactly as it is printed there. A slip of the pen does not compile.
consteval Decimal d(std::string_view printed) {
  return Decimal::parse(printed).value();
}

/// No source gives a figure here.
inline constexpr Decimal kNone = Decimal::void_value();

/// Where one value comes from.
struct Origin {
  Provenance provenance = Provenance::memory;
  std::string_view source;
};

/// The provenance of arithmetic on these values: memory outweighs everything, then what the
/// installer entered, then common practice; the rest is computed.
Provenance computed_from(std::initializer_list<Provenance> inputs);

/// For a text: rounded down to at most four places, trailing zeros removed ("1.3656", "4.37").
std::string exact4(const Decimal& value);
/// a ÷ b for a text, the same way.
std::string exact4(const Decimal& a, const Decimal& b);
/// "0.4, 1 and 5"
std::string list_words(const std::vector<std::string>& items);

}  // namespace ohmleaf::limits
