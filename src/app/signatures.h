#pragma once
#include <optional>
#include <string>
#include <vector>

#include "app/signature.h"
#include "archive/archive.h"
#include "seal/stamp.h"

namespace ohmleaf::app {

/// A time-stamp that is filed beside a certificate.
struct StampReport {
  std::string file;  ///< "timestamp-1.tsr"
  seal::StampCheck check;
};

/// A certificate with anything beyond the archive's own proof.
struct SignedCertificate {
  std::string number;
  int revision = 1;
  bool said = false;  ///< the archive's record says that it was signed
  SignatureReport signature;
  std::vector<StampReport> stamps;
};

/// Whether nothing speaks against it. With roots, signer and services must be vouched for by one.
bool is_sound(const SignatureReport& signature, bool roots_given);
bool is_sound(const StampReport& stamp, bool roots_given);

/// Which certificates: one number, or a slice of them, as `archive::VerifyOptions` has it.
struct SignatureScope {
  std::optional<std::string> number;
  std::size_t part = 1, parts = 1;
};
struct SignatureSurvey {
  std::size_t certificates = 0;          ///< in scope, each revision by itself
  std::vector<SignedCertificate> found;  ///< those of them that are signed or time-stamped
};

/// Judges every electronic signature and time-stamp in the archive. The files are taken as they lie
/// there: what their digests say is the archive's to tell.
SignatureSurvey check_signatures(const archive::Archive& store, const SignatureScope& scope,
                                 const seal::Roots* roots);

}  // namespace ohmleaf::app
