#include "seal/stamp.h"

#include "base/text.h"
#include "seal/openssl.h"
#include "seal/roots.h"

namespace ohmleaf::seal {
namespace {

using Request = Owned<TS_REQ, TS_REQ_free>;
using Imprint = Owned<TS_MSG_IMPRINT, TS_MSG_IMPRINT_free>;
using Algorithm = Owned<X509_ALGOR, X509_ALGOR_free>;
using Answer = Owned<TS_RESP, TS_RESP_free>;
using Token = Owned<PKCS7, PKCS7_free>;
using Told = Owned<TS_TST_INFO, TS_TST_INFO_free>;
using Verifying = Owned<TS_VERIFY_CTX, TS_VERIFY_CTX_free>;

StampCheck fault(StampState state, std::string why) {
  StampCheck check;
  check.state = state;
  check.why = std::move(why);
  return check;
}

/// The digest that a token is over, where it is one that is strong enough.
const EVP_MD* digest_in(TS_TST_INFO* told, std::string& digest) {
  TS_MSG_IMPRINT* imprint = TS_TST_INFO_get_msg_imprint(told);
  const ASN1_OBJECT* object = nullptr;
  X509_ALGOR_get0(&object, nullptr, nullptr, TS_MSG_IMPRINT_get_algo(imprint));
  digest = text_of(TS_MSG_IMPRINT_get_msg(imprint));
  switch (OBJ_obj2nid(object)) {
    case NID_sha256:
      return EVP_sha256();
    case NID_sha384:
      return EVP_sha384();
    case NID_sha512:
      return EVP_sha512();
    default:
      return nullptr;
  }
}

/// Whether the token's signature, its certificate's purpose and the naming of that certificate
/// (RFC 3161, 2.4.2) hold, with `trusted` taken as given at the moment of the stamp.
bool holds(PKCS7* token, const STACK_OF(X509) * trusted, Instant at) {
  const Verifying how(TS_VERIFY_CTX_new());
  OwnedStore store = store_of(trusted, at);
  if (!how || !store) return false;
  TS_VERIFY_CTX_set_flags(how.get(), TS_VFY_SIGNATURE | TS_VFY_VERSION);
  TS_VERIFY_CTX_set_store(how.get(), store.release());  // which it owns from here on
  return TS_RESP_verify_token(how.get(), token) == 1;
}

/// The token in what a service answered, or the bytes themselves as a token.
Token token_in(std::string_view bytes, std::string& refused) {
  auto answer = decoded<Answer>(bytes, d2i_TS_RESP);
  if (!answer) return decoded<Token>(bytes, d2i_PKCS7);
  const ASN1_INTEGER* status = TS_STATUS_INFO_get0_status(TS_RESP_get_status_info(answer.get()));
  PKCS7* token = TS_RESP_get_token(answer.get());
  if (ASN1_INTEGER_get(status) > 1 || token == nullptr) {
    refused = "the service answered that it gives no time-stamp";
    return nullptr;
  }
  return Token(PKCS7_dup(token));
}

/// The one certificate that the token's signer is, in a list of its own.
OwnedCerts signer_of(PKCS7* token) {
  OwnedCerts out(sk_X509_new_null());
  if (PKCS7_type_is_signed(token) != 1) return out;
  STACK_OF(X509)* found = PKCS7_get0_signers(token, nullptr, 0);
  if (out && found != nullptr && sk_X509_num(found) == 1 &&
      X509_up_ref(sk_X509_value(found, 0)) == 1)
    sk_X509_push(out.get(), sk_X509_value(found, 0));
  sk_X509_free(found);
  return out;
}

/// Once the token is known to be whole: whether a root vouches for its maker.
Trust trust_of(PKCS7* token, const Holder& service, const Roots* roots, Instant at) {
  if (roots == nullptr) return {TrustState::not_asked, {}, {}};
  if (holds(token, roots->parts().certificates.get(), at)) {
    Trust t{TrustState::trusted, {}, {}};
    t.root = service.issuer;
    return t;
  }
  return {TrustState::unknown,
          {},
          "the service " + service.who() + " is not vouched for by any of the roots given"};
}

}  // namespace

std::string stamp_request(std::string_view bytes) {
  const std::string digest = digest_of(EVP_sha256(), bytes);
  const Request request(TS_REQ_new());
  const Imprint imprint(TS_MSG_IMPRINT_new());
  const Algorithm algorithm(X509_ALGOR_new());
  if (digest.empty() || !request || !imprint || !algorithm) return {};
  std::string copy = digest;
  const bool done =
      X509_ALGOR_set0(algorithm.get(), OBJ_nid2obj(NID_sha256), V_ASN1_NULL, nullptr) == 1 &&
      TS_MSG_IMPRINT_set_algo(imprint.get(), algorithm.get()) == 1 &&
      TS_MSG_IMPRINT_set_msg(imprint.get(), reinterpret_cast<unsigned char*>(copy.data()),
                             static_cast<int>(copy.size())) == 1 &&
      TS_REQ_set_version(request.get(), 1) == 1 &&
      TS_REQ_set_msg_imprint(request.get(), imprint.get()) == 1 &&
      TS_REQ_set_cert_req(request.get(), 1) == 1;
  return done ? encoded(request.get(), i2d_TS_REQ) : "";
}

StampCheck check_stamp(std::string_view bytes, std::string_view stamped, const Roots* roots) {
  const NoErrorsLeft after_all;
  std::string refused;
  const Token token = token_in(bytes, refused);
  if (!refused.empty()) return fault(StampState::refused, refused);
  const Told told(token ? PKCS7_to_TS_TST_INFO(token.get()) : nullptr);
  if (!told) return fault(StampState::malformed, "it is no time-stamp (RFC 3161)");
  std::string digest;
  const EVP_MD* md = digest_in(told.get(), digest);
  if (md == nullptr)
    return fault(StampState::malformed, "its digest is weaker than SHA-256, or not known here");
  if (digest != digest_of(md, stamped))
    return fault(StampState::other_bytes, "it was given for another file, or the file was changed");
  const OwnedCerts signer = signer_of(token.get());
  if (!signer || sk_X509_num(signer.get()) != 1)
    return fault(StampState::malformed, "the certificate of the service that gave it is not in it");
  StampCheck check;
  check.time = instant_of(TS_TST_INFO_get_time(told.get()));
  check.service = holder_of(sk_X509_value(signer.get(), 0));
  const Holder& service = *check.service;
  if (check.time < service.from || check.time > service.until) {
    check.state = StampState::broken;
    check.why = "the certificate of the service was not valid at the moment that it names";
    return check;
  }
  if (!holds(token.get(), signer.get(), check.time)) {
    check.state = StampState::broken;
    check.why = "it was altered, or its certificate is not one for time-stamps";
    return check;
  }
  check.state = StampState::holds;
  check.trust = trust_of(token.get(), service, roots, check.time);
  return check;
}

}  // namespace ohmleaf::seal
