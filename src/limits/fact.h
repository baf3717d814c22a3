#pragma once
#include <string>

#include "limits/limit.h"

namespace ohmleaf::limits {

/// A number that has no unit type of its own (a factor, an area) with the same evidence as a limit.
struct Factor {
  Decimal value;
  std::string unit;  ///< empty for a pure factor
  std::string exact;
  std::string derivation;
  std::string source;
  Provenance provenance = Provenance::memory;
};

/// One row of a printed table as it stands there, to show whole tables and to count provenance.
struct Row {
  std::string table;  ///< "resistance", as `limits --table` takes it
  std::string item;   ///< "2.5 mm², class 1 and 2"
  std::string value;  ///< as printed
  std::string unit;   ///< may be empty
  std::string note;   ///< may be empty
  std::string source;
  Provenance provenance = Provenance::memory;
};

}  // namespace ohmleaf::limits
