#pragma once
// OpenSSL's objects with owners, for the files of this layer alone.
#include <openssl/cms.h>
#include <openssl/crypto.h>
#include <openssl/err.h>
#include <openssl/ess.h>
#include <openssl/evp.h>
#include <openssl/pkcs12.h>
#include <openssl/ts.h>
#include <openssl/x509.h>
#include <openssl/x509v3.h>

#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "base/date.h"
#include "seal/holder.h"

namespace ohmleaf::seal {

template <auto Free>
struct Freer {
  template <class T>
  void operator()(T* object) const {
    Free(object);
  }
};
template <class T, auto Free>
using Owned = std::unique_ptr<T, Freer<Free>>;

using OwnedCert = Owned<X509, X509_free>;
using OwnedKey = Owned<EVP_PKEY, EVP_PKEY_free>;
using OwnedCms = Owned<CMS_ContentInfo, CMS_ContentInfo_free>;
using OwnedBio = Owned<BIO, BIO_free_all>;
using OwnedDigest = Owned<EVP_MD_CTX, EVP_MD_CTX_free>;
using OwnedStore = Owned<X509_STORE, X509_STORE_free>;
using OwnedEss = Owned<ESS_SIGNING_CERT_V2, ESS_SIGNING_CERT_V2_free>;
using OwnedPkcs12 = Owned<PKCS12, PKCS12_free>;

/// A stack that owns its certificates.
struct FreeCerts {
  void operator()(STACK_OF(X509) * stack) const { sk_X509_pop_free(stack, X509_free); }
};
using OwnedCerts = std::unique_ptr<STACK_OF(X509), FreeCerts>;

/// The library keeps its errors in a queue. Whoever reads bytes from outside leaves it empty for the
/// next one, whatever became of them.
struct NoErrorsLeft {
  NoErrorsLeft() = default;
  ~NoErrorsLeft() { ERR_clear_error(); }
  NoErrorsLeft(const NoErrorsLeft&) = delete;
  NoErrorsLeft& operator=(const NoErrorsLeft&) = delete;
};

/// Bytes of anything that OpenSSL encodes by an `i2d_…` function; empty where that fails.
template <class T, class Encode>
std::string encoded(T* object, Encode encode) {
  unsigned char* bytes = nullptr;
  const int size = encode(object, &bytes);
  if (size <= 0) return {};
  std::string out(reinterpret_cast<const char*>(bytes), static_cast<std::size_t>(size));
  OPENSSL_free(bytes);
  return out;
}

/// The reverse, by a `d2i_…` function; null unless every byte is used.
template <class Owner, class Decode>
Owner decoded(std::string_view bytes, Decode decode) {
  const auto* at = reinterpret_cast<const unsigned char*>(bytes.data());
  const auto* end = at + bytes.size();
  Owner object(decode(nullptr, &at, static_cast<long>(bytes.size())));
  if (object && at != end) object.reset();
  return object;
}

inline const unsigned char* bytes_of(std::string_view text) {
  return reinterpret_cast<const unsigned char*>(text.data());
}
inline std::string text_of(const ASN1_STRING* s) {
  return {reinterpret_cast<const char*>(ASN1_STRING_get0_data(s)),
          static_cast<std::size_t>(ASN1_STRING_length(s))};
}

/// What a certificate says of its holder, made safe to print.
Holder holder_of(X509* certificate);
Instant instant_of(const ASN1_TIME* time);
/// Digest of the parts one after another; empty where the library fails.
std::string digest_of(const EVP_MD* md, std::string_view first, std::string_view second = {});

}  // namespace ohmleaf::seal
