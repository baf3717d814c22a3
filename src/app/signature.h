#pragma once
#include <optional>
#include <string>
#include <string_view>

#include "base/diagnostic.h"
#include "pdf/pdf.h"
#include "seal/check.h"
#include "seal/key.h"

namespace ohmleaf::app {

/// The place that a signature of this key needs; nothing without a key.
std::optional<pdf::SealSpace> space_for(const seal::Key* key);

/// A PDF that was rendered with a place for it, signed. Checked again before it is given back.
std::optional<std::string> signed_pdf(std::string pdf, const seal::Key& key, Diagnostics& out);

/// The same file with its signature left out again: as it was rendered. Any other file as it is.
std::string without_signature(std::string_view pdf);

/// What is the matter with the signature of a PDF, if anything is. One of them: the first that
/// explains the others.
enum class SignatureVerdict {
  none,               ///< not signed, and not said to be
  holds,              ///< over every byte
  changed,            ///< bytes differ from those that were signed
  truncated,          ///< the end is missing
  appended,           ///< something stands after what was signed
  updated,            ///< a later version of the document does (an incremental update)
  exchanged,          ///< the signature belongs to another file
  altered,            ///< the signature itself was, or something was added to it
  wrong_certificate,  ///< the certificate in it is not the one that it was made with
  removed,            ///< the file says that it was signed, and has no signature
  foreign,            ///< signed by another program, in a way that is not judged here
  unreadable,         ///< no PDF, or too damaged
};
/// "changed"
std::string_view name(SignatureVerdict verdict);

struct SignatureReport {
  SignatureVerdict verdict = SignatureVerdict::none;
  std::string what;  ///< one sentence without a full stop; empty where it holds or there is none
  std::optional<seal::Holder> signer;
  std::optional<Instant> signed_at;  ///< as the signer says; only where the signature holds
  seal::Trust trust;                 ///< of the certificate at that moment; likewise
};

/// Judges the signature of a PDF from anywhere. Nothing that the file says is trusted: the ranges
/// are read strictly, and compared with what PDF readers will make of them. Call it before any
/// thread is started.
SignatureReport check_signed(std::string_view pdf, const seal::Roots* roots);

}  // namespace ohmleaf::app
