#pragma once
#include "seal/check.h"
#include "seal/openssl.h"

// What the files of this layer share about trusted certificates.

namespace ohmleaf::seal {

struct Roots::Parts {
  OwnedCerts certificates;
};

/// A store that trusts these at that moment, roots or not, and no weak link on the way to them.
OwnedStore store_of(const STACK_OF(X509) * trusted, Instant at);

}  // namespace ohmleaf::seal
