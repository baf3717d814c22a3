#pragma once
#include <doctest/doctest.h>

#include "limits/conductor.h"
#include "limits/installation.h"
#include "limits/protection.h"
#include "tsv.h"

// Short words for the tests of limits.

namespace ohmleaf::test {

using namespace ohmleaf::limits;

inline constexpr Edition kAllEditions[] = {Edition::y2008, Edition::y2015, Edition::y2018,
                                           Edition::y2022, Edition::y2026};
inline constexpr Edition kEighteenth[] = {Edition::y2018, Edition::y2022, Edition::y2026};

inline Ohms ohms(std::string_view text) {
  return Ohms(dec(text));
}
inline Amps amps(std::string_view text) {
  return Amps(dec(text));
}
inline Seconds seconds(std::string_view text) {
  return Seconds(dec(text));
}
inline SquareMm mm2(std::string_view text) {
  return SquareMm(dec(text));
}
inline Metres metres(std::string_view text) {
  return Metres(dec(text));
}
inline Celsius celsius(std::string_view text) {
  return Celsius(dec(text));
}

inline Device device(std::string_view text) {
  DeviceFault fault;
  const auto found = parse_device(text, fault);
  REQUIRE_MESSAGE(found.has_value(), std::string(text), ": ", fault.message);
  return found.value_or(Device{});
}

/// What the last column of a table says of a value.
inline Provenance provenance_of(const std::string& source) {
  if (source.starts_with("published")) return Provenance::published;
  if (source.starts_with("computed")) return Provenance::computed;
  REQUIRE_MESSAGE(source.starts_with("memory"), "unknown provenance: ", source);
  return Provenance::memory;
}

/// Every limit carries its evidence.
template <class L>
void check_evidence(const L& limit) {
  CHECK_FALSE(limit.derivation.empty());
  CHECK_FALSE(limit.source.empty());
  CHECK_FALSE(limit.exact.empty());
  if (limit.provenance == Provenance::memory)
    CHECK_MESSAGE(limit.source.find("memory") != std::string::npos, limit.source);
}

/// Binary floating point, as a route of its own: never used by the code under test.
inline double real(const Decimal& d) {
  double out = static_cast<double>(d.mantissa());
  for (int i = 0; i < d.scale(); ++i) out /= 10;
  return out;
}
template <class Unit>
double real(const Quantity<Unit>& q) {
  return real(q.decimal());
}

}  // namespace ohmleaf::test
