#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "base/diagnostic.h"
#include "seal/check.h"

namespace ohmleaf::seal {

/// A request for a time-stamp over `bytes` (RFC 3161, 2.4.1), by their SHA-256 digest, which is all
/// that leaves the house. Asks for the service's certificate. Empty where the library fails.
std::string stamp_request(std::string_view bytes);

enum class StampState {
  holds,
  malformed,    ///< no time-stamp, or one of another kind
  refused,      ///< the service's answer is that it gave none
  other_bytes,  ///< of other bytes than these
  broken,       ///< altered, or not made by a time-stamping certificate
};
struct StampCheck {
  StampState state = StampState::malformed;
  std::string why;  ///< a part of a sentence, where it does not hold
  Instant time;     ///< the bytes were there at this moment
  std::optional<Holder> service;
  Trust trust;  ///< of the service's certificate, at that moment
};

/// Checks a token, or a service's answer with a token in it, against `bytes`. The service's
/// certificate must be in it and be for time-stamps alone (RFC 3161, 2.3).
StampCheck check_stamp(std::string_view token, std::string_view bytes, const Roots* roots);

}  // namespace ohmleaf::seal
