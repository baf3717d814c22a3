#pragma once
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "base/diagnostic.h"
#include "seal/holder.h"
#include "seal/secret.h"

namespace ohmleaf::seal {

inline constexpr std::size_t kMaxKeyFile = std::size_t{1} << 20;

/// A private key with its certificate and the certificates above it. The key stays in memory that
/// is locked and left out of dumps, and is overwritten when this goes.
class Key {
 public:
  /// Opens a PKCS#12 file (RFC 7292) that was read as `bytes`. `file` names it in messages.
  /// Refused, with the reason and what to do: a wrong password, no key or no certificate in it, a
  /// certificate that does not belong to the key, is not or no longer valid at `now`, or may not
  /// sign; a key that is too short or of a kind that PDF readers do not know. Call `guard_process`
  /// first.
  static std::optional<Key> open(std::string_view bytes, const std::string& file,
                                 const Secret& password, Instant now, Diagnostics& out);

  /// A new key with a certificate that it signs itself, valid from `now` for `years`.
  struct Made {
    std::string pkcs12;  ///< encrypted with the password
    std::string pem;     ///< the certificate alone, to be given away
    Holder holder;
  };
  enum class Kind { rsa, ec };  ///< 3072 bits; curve P-256
  static std::optional<Made> make(const std::string& name, const std::string& organisation,
                                  Kind kind, int years, Instant now, const Secret& password,
                                  Diagnostics& out);

  const Holder& holder() const;
  /// Detached CMS (RFC 5652) over the two parts one after another, as PAdES baseline B wants it
  /// (ETSI EN 319 142-1): content type, message digest and signing certificate are signed too; no
  /// time, which stands in the PDF. Nothing, with an error, where the library fails.
  std::optional<std::string> sign(std::string_view before, std::string_view after,
                                  Diagnostics& out) const;
  /// Room that any signature of this key fits in, in bytes.
  std::size_t room() const;

 private:
  struct Parts;
  explicit Key(std::shared_ptr<Parts> parts);
  std::shared_ptr<Parts> parts_;  // shared only in that its maker says how it goes
};

}  // namespace ohmleaf::seal
