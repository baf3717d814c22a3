#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "base/date.h"
#include "quantity/units.h"

namespace ohmleaf::limits {

/// One edition of the wiring rules (BS 7671) is one value. The job's date, or its design date
/// where given, chooses it; it is recorded and printed.
enum class Edition {
  y2008,  ///< 17th, BS 7671:2008 to its second amendment (230 V, no minimum-voltage factor)
  y2015,  ///< 17th, third amendment (in force from July 2015): Cmin 0.95
  y2018,  ///< 18th, BS 7671:2018 before A2
  y2022,  ///< 18th, A2:2022 (and A3:2024)
  y2026,  ///< 18th, A4:2026 (published 15 April 2026)
};

/// "BS 7671:2018+A4:2026"
std::string_view name(Edition edition);
std::optional<Edition> edition_from_name(std::string_view text);
/// The edition in force for a design of that date.
Edition edition_for(Date design_date);
/// The first design date that an edition is chosen for.
Date first_design_date(Edition edition);

enum class Provenance {
  published,        ///< read on a published page that the source names
  computed,         ///< arithmetic from a published formula or value
  memory,           ///< from memory: marked wherever it is shown
  common_practice,  ///< a fact of the trade without a published source
  maker,            ///< the maker's figure as the installer entered it
};
/// "published", "computed", "memory", "common practice", "maker"
std::string_view name(Provenance provenance);

enum class Sense { at_most, at_least, between };

/// One limit as it is compared, shown and printed: message, JSON and page all read this value, so
/// they cannot disagree.
template <class Q>
struct Limit {
  Sense sense = Sense::at_most;
  Q value;                 ///< compared with the reading as it stands; lower bound of `between`
  std::optional<Q> upper;  ///< upper bound of `between`
  std::string exact;       ///< the unrounded figure, without unit; equal to value where none
  std::string derivation;  ///< "230 V × 0.95 ÷ (5 × 32 A) = 1.3656 Ω; printed 1.37 Ω"
  std::string source;      ///< standard and table, or where the value was read
  Provenance provenance = Provenance::memory;
  Edition edition = Edition::y2026;

  /// "≤ 1.37 Ω", "≥ 1.0 MΩ", "130 to 500 ms"
  /// "not tabulated" for a void value: no reading can be compared with it.
  std::string printed() const {
    if (value.is_void()) return "not tabulated";
    switch (sense) {
      case Sense::at_most: return "≤ " + value.with_unit();
      case Sense::at_least: return "≥ " + value.with_unit();
      case Sense::between: return value.str() + " to " + (upper ? upper->with_unit() : "?");
    }
    return {};
  }
};

/// A computed value that is no limit (expected R1+R2, volt drop …) with the same evidence.
template <class Q>
struct Derived {
  Q value;
  std::string exact;
  std::string derivation;
  std::string source;
  Provenance provenance = Provenance::computed;
};

}  // namespace ohmleaf::limits
