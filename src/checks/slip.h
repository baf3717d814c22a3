#pragma once
#include <functional>
#include <string>
#include <vector>

#include "quantity/decimal.h"

namespace ohmleaf::checks {

/// A figure that a slip of the pen could have touched.
struct Figure {
  std::string name;  ///< "r1"
  std::string text;  ///< as written
  Decimal value;
};

/// The single slips that would make the figures agree, each as a short question: a decimal point
/// one place out ("0.32 entered as 3.2 for r1?"), two figures swapped ("rn and r2 swapped?"), and,
/// only where neither explains it, thousandths for units. Empty where none does. `agrees` gets the
/// values in the order of `figures`; it must be false for them as they stand.
std::vector<std::string> single_slips(
    const std::vector<Figure>& figures,
    const std::function<bool(const std::vector<Decimal>&)>& agrees);

/// "; 0.32 entered as 3.2 for r1?" for the end of a message, or nothing.
std::string slip_tail(const std::vector<std::string>& slips);

/// The value with its decimal point moved: `places` > 0 makes it smaller, < 0 larger.
Decimal shifted(const Decimal& value, int places);

}  // namespace ohmleaf::checks
