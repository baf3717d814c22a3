#include <openssl/pem.h>

#include "base/text.h"
#include "seal/check.h"
#include "seal/roots.h"

namespace ohmleaf::seal {
namespace {

using Context = Owned<X509_STORE_CTX, X509_STORE_CTX_free>;

/// The signer's certificate in a CMS, owned by `certificates`; null where it is not there.
X509* signer_of(CMS_ContentInfo* cms, const STACK_OF(X509) * certificates) {
  STACK_OF(CMS_SignerInfo)* signers = cms != nullptr ? CMS_get0_SignerInfos(cms) : nullptr;
  if (signers == nullptr || sk_CMS_SignerInfo_num(signers) != 1) return nullptr;
  for (int i = 0; certificates != nullptr && i < sk_X509_num(certificates); ++i)
    if (CMS_SignerInfo_cert_cmp(sk_CMS_SignerInfo_value(signers, 0),
                                sk_X509_value(certificates, i)) == 0)
      return sk_X509_value(certificates, i);
  return nullptr;
}

std::string validity(const Holder& h) {
  return "the certificate of " + h.who() + " is valid from " + h.from.date().words() + " to " +
         h.until.date().words();
}

Trust by_its_times(const Holder& h, Instant at) {
  if (at < h.from) return {TrustState::not_yet_valid, {}, validity(h)};
  if (at > h.until) return {TrustState::expired, {}, validity(h)};
  return {h.self_signed ? TrustState::self_signed : TrustState::not_asked, {}, {}};
}

/// The library's answer in ours.
Trust refusal(X509_STORE_CTX* context, const Holder& signer) {
  const int error = X509_STORE_CTX_get_error(context);
  X509* at_fault = X509_STORE_CTX_get_current_cert(context);
  const std::string whose = at_fault != nullptr ? validity(holder_of(at_fault))
                                                : std::string("a certificate is out of date");
  const bool no_issuer = error == X509_V_ERR_DEPTH_ZERO_SELF_SIGNED_CERT ||
                         error == X509_V_ERR_UNABLE_TO_GET_ISSUER_CERT_LOCALLY ||
                         error == X509_V_ERR_UNABLE_TO_VERIFY_LEAF_SIGNATURE;
  if (signer.self_signed && no_issuer)
    return {TrustState::self_signed, {}, "it vouches for itself, and is not among the roots given"};
  switch (error) {
    case X509_V_ERR_CERT_HAS_EXPIRED:
      return {TrustState::expired, {}, whose};
    case X509_V_ERR_CERT_NOT_YET_VALID:
      return {TrustState::not_yet_valid, {}, whose};
    case X509_V_ERR_SELF_SIGNED_CERT_IN_CHAIN:
    case X509_V_ERR_UNABLE_TO_GET_ISSUER_CERT:
    case X509_V_ERR_UNABLE_TO_GET_ISSUER_CERT_LOCALLY:
    case X509_V_ERR_UNABLE_TO_VERIFY_LEAF_SIGNATURE:
      return {TrustState::unknown,
              {},
              "its issuer, " + signer.issuer + ", is not vouched for by any of the roots given"};
    case X509_V_ERR_CERT_SIGNATURE_FAILURE:
      return {TrustState::unknown,
              {},
              "its issuer, " + signer.issuer +
                  ", is not vouched for by any of the roots given: one "
                  "of them has that name, and another key"};
    default:
      return {TrustState::unfit, {}, X509_verify_cert_error_string(error)};
  }
}

}  // namespace

Roots::Roots(std::shared_ptr<Parts> parts) : parts_(std::move(parts)) {}

std::optional<Roots> Roots::read(std::string_view pem, const std::string& file, Diagnostics& out) {
  const NoErrorsLeft after_all;
  auto parts = std::make_unique<Parts>();
  parts->certificates.reset(sk_X509_new_null());
  const OwnedBio in(BIO_new_mem_buf(pem.data(), static_cast<int>(pem.size())));
  while (in && parts->certificates) {
    X509* one = PEM_read_bio_X509(in.get(), nullptr, nullptr, nullptr);
    if (one == nullptr) break;
    sk_X509_push(parts->certificates.get(), one);
  }
  const bool ended = ERR_GET_REASON(ERR_peek_last_error()) == PEM_R_NO_START_LINE;
  if (!parts->certificates || sk_X509_num(parts->certificates.get()) == 0 || !ended) {
    out.error("bad-roots", {}, visible(file) + " holds no certificates in PEM, or a damaged one",
              {"It is a text file with one or more parts from BEGIN CERTIFICATE to END "
               "CERTIFICATE: of the trust services, or people, whose word you take."});
    return std::nullopt;
  }
  return Roots(std::move(parts));
}

OwnedStore store_of(const STACK_OF(X509) * trusted, Instant at) {
  OwnedStore store(X509_STORE_new());
  for (int i = 0; store && i < sk_X509_num(trusted); ++i)
    X509_STORE_add_cert(store.get(), sk_X509_value(trusted, i));
  if (!store) return store;
  X509_VERIFY_PARAM* how = X509_STORE_get0_param(store.get());
  X509_VERIFY_PARAM_set_time(how, static_cast<time_t>(at.unix_seconds));
  // What the user trusts is trusted, root or not; 112 bits at least.
  X509_VERIFY_PARAM_set_flags(how, X509_V_FLAG_PARTIAL_CHAIN);
  X509_VERIFY_PARAM_set_auth_level(how, 2);
  return store;
}

Trust check_trust(std::string_view bytes, const Roots* roots, Instant at) {
  const NoErrorsLeft after_all;
  const auto cms = decoded<OwnedCms>(bytes, d2i_CMS_ContentInfo);
  const OwnedCerts certificates(cms ? CMS_get1_certs(cms.get()) : nullptr);
  X509* signer = signer_of(cms.get(), certificates.get());
  if (signer == nullptr)
    return {TrustState::unknown, {}, "the certificate that it was made with is not in it"};
  const Holder holder = holder_of(signer);
  if ((X509_get_key_usage(signer) & (KU_DIGITAL_SIGNATURE | KU_NON_REPUDIATION)) == 0)
    return {TrustState::unfit, {}, "its certificate is not meant for signatures (key usage)"};
  if (roots == nullptr) return by_its_times(holder, at);
  const OwnedStore store = store_of(roots->parts().certificates.get(), at);
  const Context context(X509_STORE_CTX_new());
  if (!store || !context ||
      X509_STORE_CTX_init(context.get(), store.get(), signer, certificates.get()) != 1)
    return {TrustState::unknown, {}, "there is not enough memory to follow its chain"};
  const bool chained = X509_verify_cert(context.get()) == 1;
  Trust trust = chained ? Trust{TrustState::trusted, {}, {}} : refusal(context.get(), holder);
  if (chained) {
    const STACK_OF(X509)* chain = X509_STORE_CTX_get0_chain(context.get());
    trust.root = holder_of(sk_X509_value(chain, sk_X509_num(chain) - 1)).name;
  }
  return trust;
}

}  // namespace ohmleaf::seal
