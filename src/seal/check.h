#pragma once
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "base/diagnostic.h"
#include "seal/holder.h"

namespace ohmleaf::seal {

/// What became of a signature, the signed bytes and the certificate that it names.
enum class SignatureState {
  holds,
  malformed,          ///< no signature of the kind that ohmleaf makes
  added_to,           ///< something stands in it that its maker did not put there
  wrong_certificate,  ///< the certificate in it is not the one that it was made with
  broken,             ///< it was altered itself, or made with another key
  other_bytes,        ///< whole, but of other bytes than these
};
struct SignatureCheck {
  SignatureState state = SignatureState::malformed;
  std::string why;  ///< a part of a sentence; empty where it holds
  std::optional<Holder> signer;
};

/// Checks a detached CMS (RFC 5652, RFC 5035) over the two parts one after another. Every byte of
/// it counts: one that no reader would look at is held against what ohmleaf writes. Says nothing of
/// whom the certificate belongs to.
SignatureCheck check_signature(std::string_view cms, std::string_view before,
                               std::string_view after);

/// Length of the DER value that the bytes begin with; 0 where they do not.
std::size_t der_length(std::string_view bytes);

/// The certificates that the user trusts, from a PEM file.
class Roots {
 public:
  /// `file` names it in messages. No certificate in it: an error.
  static std::optional<Roots> read(std::string_view pem, const std::string& file, Diagnostics& out);
  struct Parts;
  const Parts& parts() const { return *parts_; }

 private:
  explicit Roots(std::shared_ptr<Parts> parts);
  std::shared_ptr<Parts> parts_;
};

enum class TrustState {
  trusted,      ///< a chain leads to a root that the user trusts
  not_asked,    ///< no roots were given; the times are in order
  self_signed,  ///< nobody but itself vouches for it
  unknown,      ///< no chain to a root that the user trusts
  not_yet_valid,
  expired,
  unfit,  ///< not for this purpose, or too weak
};
struct Trust {
  TrustState state = TrustState::unknown;
  std::string root;  ///< the name of the root that vouches
  std::string why;   ///< a part of a sentence, where it is not trusted
};

/// Whether a chain led from the signer's certificate to a root at that moment. Without roots: only
/// whether the certificate was valid then. Revocation is not asked about: that needs a network.
Trust check_trust(std::string_view cms, const Roots* roots, Instant at);

}  // namespace ohmleaf::seal
