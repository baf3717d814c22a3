#include "seal/check.h"

#include <algorithm>
#include <set>

#include "seal/openssl.h"

namespace ohmleaf::seal {
namespace {

/// One value of a DER encoding: its tag, what is in it, and all of it.
struct Value {
  int tag = -1;
  int family = 0;  ///< universal, or of the context
  std::string_view content, whole;
};

/// Takes the first value off the front. A tag of -1 where there is none.
Value take(std::string_view& bytes) {
  Value v;
  const unsigned char* at = bytes_of(bytes);
  const unsigned char* start = at;
  long length = 0;
  int tag = 0, family = 0;
  const int found = ASN1_get_object(&at, &length, &tag, &family, static_cast<long>(bytes.size()));
  if ((found & 0x80) != 0 || (found & 1) != 0) {
    bytes = {};
    return v;
  }
  const auto head = static_cast<std::size_t>(at - start);
  v = {tag, family, bytes.substr(head, static_cast<std::size_t>(length)),
       bytes.substr(0, head + static_cast<std::size_t>(length))};
  bytes.remove_prefix(v.whole.size());
  return v;
}

/// What the library reads over: both versions are 1 (RFC 5652, 5.1 and 5.3, for plain data and a
/// signer named by issuer and number), and the digest stands alike in both places.
bool is_our_form(std::string_view cms) {
  std::string_view rest = take(cms).content;
  take(rest);
  std::string_view outer = take(rest).content;
  std::string_view data = take(outer).content;
  const Value version = take(data), digests = take(data);
  Value last;
  while (!data.empty()) last = take(data);
  std::string_view infos = last.content;
  std::string_view signer = take(infos).content;
  const Value signer_version = take(signer), named = take(signer), digest = take(signer);
  return version.content == "\x01" && signer_version.content == "\x01" &&
         named.tag == V_ASN1_SEQUENCE && infos.empty() && digests.content == digest.whole;
}

/// No parameters, or the empty one: anything else there would be read over.
bool plain(const X509_ALGOR* algorithm) {
  int type = V_ASN1_UNDEF;
  X509_ALGOR_get0(nullptr, &type, nullptr, algorithm);
  return type == V_ASN1_UNDEF || type == V_ASN1_NULL;
}

const EVP_MD* strong_digest(const X509_ALGOR* algorithm) {
  const ASN1_OBJECT* object = nullptr;
  X509_ALGOR_get0(&object, nullptr, nullptr, algorithm);
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

/// Names that differ in capitals alone count as one elsewhere; and the library goes by key and
/// digest, whatever the signature says it was made by.
bool says_what_it_is(CMS_SignerInfo* signer, X509* certificate, const EVP_MD* md) {
  X509_ALGOR* algorithm = nullptr;
  X509_NAME* issuer = nullptr;
  CMS_SignerInfo_get0_algs(signer, nullptr, nullptr, nullptr, &algorithm);
  CMS_SignerInfo_get0_signer_id(signer, nullptr, &issuer, nullptr);
  const ASN1_OBJECT* said = nullptr;
  X509_ALGOR_get0(&said, nullptr, nullptr, algorithm);
  const EVP_PKEY* key = X509_get0_pubkey(certificate);
  const int kind = key != nullptr ? EVP_PKEY_get_base_id(key) : NID_undef;
  int wanted = NID_rsaEncryption;
  if (kind != EVP_PKEY_RSA) OBJ_find_sigid_by_algs(&wanted, EVP_MD_get_type(md), kind);
  return OBJ_obj2nid(said) == wanted && issuer != nullptr &&
         encoded(issuer, i2d_X509_NAME) ==
             encoded(X509_get_issuer_name(certificate), i2d_X509_NAME);
}

/// A signed attribute that stands there once, with one value.
const ASN1_STRING* attribute(CMS_SignerInfo* signer, int nid, int type) {
  return static_cast<const ASN1_STRING*>(
      CMS_signed_get0_data_by_OBJ(signer, OBJ_nid2obj(nid), -3, type));
}

/// Digests of the certificates that were signed along (RFC 5035), the signer's own first.
std::vector<std::string> named_certificates(CMS_SignerInfo* signer, const EVP_MD* wanted) {
  const ASN1_STRING* der = attribute(signer, NID_id_smime_aa_signingCertificateV2, V_ASN1_SEQUENCE);
  const auto ess =
      der != nullptr ? decoded<OwnedEss>(text_of(der), d2i_ESS_SIGNING_CERT_V2) : nullptr;
  std::vector<std::string> out;
  // The library gives no access to the parts: the digests are the first octet strings in them.
  std::string_view rest =
      ess ? std::string_view(reinterpret_cast<const char*>(ASN1_STRING_get0_data(der)),
                             static_cast<std::size_t>(ASN1_STRING_length(der)))
          : std::string_view();
  std::string_view list = take(rest).content;
  std::string_view names = take(list).content;
  while (!names.empty()) {
    std::string_view one = take(names).content;
    Value digest = take(one);
    if (digest.tag == V_ASN1_SEQUENCE) digest = take(one);  // after the name of its algorithm
    if (digest.tag != V_ASN1_OCTET_STRING ||
        digest.content.size() != static_cast<std::size_t>(EVP_MD_get_size(wanted)))
      return {};
    out.emplace_back(digest.content);
  }
  return out;
}

SignatureCheck fault(SignatureState state, std::string why, std::optional<Holder> signer = {}) {
  return {state, std::move(why), std::move(signer)};
}

struct Opened {
  OwnedCms cms;
  OwnedCerts certificates;
  CMS_SignerInfo* signer = nullptr;
  X509* certificate = nullptr;  ///< of the signer, or null
};

/// Parses, and finds signer and certificate. "" or what is wrong.
std::string open(std::string_view bytes, Opened& to) {
  to.cms = decoded<OwnedCms>(bytes, d2i_CMS_ContentInfo);
  if (!to.cms || encoded(to.cms.get(), i2d_CMS_ContentInfo) != bytes) return "it does not read";
  if (OBJ_obj2nid(CMS_get0_type(to.cms.get())) != NID_pkcs7_signed) return "it signs nothing";
  STACK_OF(CMS_SignerInfo)* signers = CMS_get0_SignerInfos(to.cms.get());
  if (signers == nullptr || sk_CMS_SignerInfo_num(signers) != 1) return "it has not one signer";
  to.signer = sk_CMS_SignerInfo_value(signers, 0);
  to.certificates.reset(CMS_get1_certs(to.cms.get()));
  const int count = to.certificates ? sk_X509_num(to.certificates.get()) : 0;
  for (int i = 0; i < count && to.certificate == nullptr; ++i) {
    X509* one = sk_X509_value(to.certificates.get(), i);
    if (CMS_SignerInfo_cert_cmp(to.signer, one) == 0) to.certificate = one;
  }
  return {};
}

/// Everything of the signature that the signed digest does not cover by itself.
SignatureCheck check_form(std::string_view bytes, const Opened& in, const EVP_MD* md) {
  ASN1_OCTET_STRING** content = CMS_get0_content(in.cms.get());
  const bool detached = content == nullptr || *content == nullptr;
  X509_ALGOR *digest = nullptr, *signature = nullptr;
  CMS_SignerInfo_get0_algs(in.signer, nullptr, nullptr, &digest, &signature);
  if (!detached || OBJ_obj2nid(CMS_get0_eContentType(in.cms.get())) != NID_pkcs7_data ||
      !is_our_form(bytes) || !plain(digest) || !plain(signature))
    return fault(SignatureState::malformed, "it is not written as ohmleaf writes it");
  const Holder signer = holder_of(in.certificate);
  const std::vector<std::string> named = named_certificates(in.signer, md);
  if (named.empty())
    return fault(SignatureState::malformed, "it does not name the certificate it was made with",
                 signer);
  if (named.front() != digest_of(md, encoded(in.certificate, i2d_X509)))
    return fault(SignatureState::wrong_certificate,
                 "the certificate in it is not the one that it was made with", signer);
  const std::set<std::string> known(named.begin(), named.end());
  const int count = sk_X509_num(in.certificates.get());
  bool more =
      CMS_unsigned_get_attr_count(in.signer) > 0 || static_cast<std::size_t>(count) != known.size();
  for (int i = 0; i < count; ++i)
    more = more || !known.contains(
                       digest_of(md, encoded(sk_X509_value(in.certificates.get(), i), i2d_X509)));
  STACK_OF(X509_CRL)* lists = CMS_get1_crls(in.cms.get());
  more = more || (lists != nullptr && sk_X509_CRL_num(lists) > 0);
  sk_X509_CRL_pop_free(lists, X509_CRL_free);
  if (more)
    return fault(SignatureState::added_to,
                 "a certificate or a note stands in it that its maker did not put there", signer);
  if (!says_what_it_is(in.signer, in.certificate, md))
    return fault(SignatureState::malformed, "it is not written as ohmleaf writes it", signer);
  return {SignatureState::holds, {}, signer};
}

}  // namespace

std::size_t der_length(std::string_view bytes) {
  const NoErrorsLeft after_all;
  return take(bytes).whole.size();
}

SignatureCheck check_signature(std::string_view cms, std::string_view before,
                               std::string_view after) {
  const NoErrorsLeft after_all;
  Opened in;
  if (std::string why = open(cms, in); !why.empty())
    return fault(SignatureState::malformed, std::move(why));
  if (in.certificate == nullptr)
    return fault(SignatureState::wrong_certificate,
                 "the certificate that it was made with is not in it");
  X509_ALGOR* algorithm = nullptr;
  CMS_SignerInfo_get0_algs(in.signer, nullptr, nullptr, &algorithm, nullptr);
  const EVP_MD* md = strong_digest(algorithm);
  if (md == nullptr)
    return fault(SignatureState::malformed, "its digest is weaker than SHA-256, or not known here");
  SignatureCheck form = check_form(cms, in, md);
  if (form.state != SignatureState::holds) return form;
  CMS_SignerInfo_set1_signer_cert(in.signer, in.certificate);
  if (CMS_SignerInfo_verify(in.signer) != 1)
    return fault(SignatureState::broken, "it was altered itself, or made with another key",
                 form.signer);
  const auto* type = static_cast<const ASN1_OBJECT*>(CMS_signed_get0_data_by_OBJ(
      in.signer, OBJ_nid2obj(NID_pkcs9_contentType), -3, V_ASN1_OBJECT));
  const ASN1_STRING* digest = attribute(in.signer, NID_pkcs9_messageDigest, V_ASN1_OCTET_STRING);
  if (type == nullptr || OBJ_obj2nid(type) != NID_pkcs7_data || digest == nullptr)
    return fault(SignatureState::malformed, "it does not say what it signs", form.signer);
  if (text_of(digest) != digest_of(md, before, after))
    return fault(SignatureState::other_bytes, "it is of other bytes than these", form.signer);
  return form;
}

}  // namespace ohmleaf::seal
