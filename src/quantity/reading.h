#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "quantity/decimal.h"
#include "quantity/units.h"

namespace ohmleaf {

enum class ReadingKind {
  value,           ///< 0.42
  above,           ///< ">999": more than the instrument shows
  below,           ///< "<0.01": less than the instrument resolves
  limitation,      ///< "LIM: why": not tested, by an agreed limitation
  not_applicable,  ///< "N/A: why"
};

/// A reading as the trade writes it, the unit aside. `text` is exactly what was written: it goes
/// to the page unchanged.
struct RawReading {
  ReadingKind kind = ReadingKind::value;
  Decimal value;       ///< for value, above, below
  std::string text;
  std::string reason;  ///< for limitation and not_applicable
};

/// Why a text is no reading, as a sentence, with the thing to write instead.
struct ReadingFault {
  std::string message;
  std::string hint;
};

/// Reads "0.42", ">999", "<0.05", "> 999", "LIM: why", "N/A: why" (also "n/a"). Refused, each with
/// its own advice: a decimal comma, a unit in the text, a sign, an empty text, LIM or N/A without
/// a reason, more than 12 digits.
std::optional<RawReading> parse_reading(std::string_view text, ReadingFault& fault);

/// A reading with its unit in its type.
template <class Q>
struct Reading {
  ReadingKind kind = ReadingKind::value;
  Q value;
  std::string text;
  std::string reason;

  bool is_value() const { return kind == ReadingKind::value; }
  bool is_number() const {
    return kind == ReadingKind::value || kind == ReadingKind::above || kind == ReadingKind::below;
  }
};

/// What a reading can truly be: from `low` to `high`, both included; an open end is empty.
template <class Q>
struct Interval {
  std::optional<Q> low;
  std::optional<Q> high;

  static Interval point(Q q) { return {q, q}; }
};

/// The reading as an interval widened by a relative uncertainty (`percent` of the reading, may be
/// zero) and an absolute one in the unit's own terms. ">999" has no high end, "<0.01" starts at 0.
template <class Q>
Interval<Q> interval_of(const Reading<Q>& reading, Decimal percent = Decimal::integer(0),
                        Decimal absolute = Decimal::integer(0)) {
  Interval<Q> out;
  const Decimal v = reading.value.decimal();
  const Decimal spread = v * percent * Decimal(1, 2) + absolute;
  Decimal low = v - spread;
  if (low.is_negative()) low = Decimal::integer(0);
  if (reading.kind == ReadingKind::value || reading.kind == ReadingKind::above) out.low = Q(low);
  if (reading.kind == ReadingKind::below) out.low = Q(Decimal::integer(0));
  if (reading.kind == ReadingKind::value || reading.kind == ReadingKind::below)
    out.high = Q(v + spread);
  return out;
}

}  // namespace ohmleaf
