#pragma once
#include <string>

#include "base/date.h"

namespace ohmleaf::seal {

/// Whom a certificate names, as it says itself: nothing of it is proved by being written there.
struct Holder {
  std::string name;  ///< common name, else organisation, else "a certificate without a name"
  std::string organisation;  ///< empty where there is none, or where it is the name
  std::string issuer;        ///< who vouches for it
  Instant from, until;       ///< valid, both included
  std::string fingerprint;   ///< SHA-256 of the certificate, 64 hex digits
  bool self_signed = false;

  /// "R. Hollins, Hollins & Lark"
  std::string who() const { return organisation.empty() ? name : name + ", " + organisation; }
};

}  // namespace ohmleaf::seal
