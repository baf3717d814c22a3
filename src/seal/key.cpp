#include "seal/key.h"

#include <openssl/provider.h>

#include <algorithm>
#include <utility>
#include <vector>

#include "base/text.h"
#include "seal/openssl.h"

namespace ohmleaf::seal {
namespace {

// What is strong enough (112 bits and more): NIST SP 800-57 part 1, table 2.
constexpr int kLeastRsaBits = 2048, kMostRsaBits = 8192;

/// What a PKCS#12 file holds.
struct Unpacked {
  OwnedKey key;
  OwnedCert certificate;
  OwnedCerts others;
};

bool refuse(const std::string& file, const std::string& what, std::string hint, Diagnostics& out) {
  ERR_clear_error();
  out.error("signing-key", {}, visible(file) + ": " + what, {std::move(hint)});
  return false;
}

bool parse(PKCS12* file, const Secret& password, Unpacked& to) {
  EVP_PKEY* key = nullptr;
  X509* certificate = nullptr;
  STACK_OF(X509)* others = nullptr;
  const bool done = PKCS12_parse(file, password.view().data(), &key, &certificate, &others) == 1;
  to.key.reset(key);
  to.certificate.reset(certificate);
  to.others.reset(others);
  return done;
}

bool unpack(std::string_view bytes, const std::string& file, const Secret& password, Unpacked& to,
            Diagnostics& out) {
  const auto p12 = decoded<OwnedPkcs12>(bytes, d2i_PKCS12);
  if (!p12)
    return refuse(file, "this is no PKCS#12 file",
                  "Give the file with the ending .p12 or .pfx that holds your key and certificate; "
                  "`ohmleaf keys` makes one.",
                  out);
  const std::string_view word = password.view();
  const bool sealed = PKCS12_mac_present(p12.get()) == 1;
  if (sealed && PKCS12_verify_mac(p12.get(), word.data(), static_cast<int>(word.size())) != 1)
    return refuse(file, "the password does not open it",
                  "Nothing was written. Try again: capitals and the keyboard's layout matter.",
                  out);
  if (parse(p12.get(), password, to)) return true;
  // Files of older programs are encrypted by ciphers that OpenSSL keeps apart.
  static const OSSL_PROVIDER* const old = OSSL_PROVIDER_try_load(nullptr, "legacy", 1);
  if (old != nullptr && parse(p12.get(), password, to)) return true;
  return refuse(file, "it cannot be unpacked",
                sealed ? "It is damaged, or encrypted in a way that is not known here: export key "
                         "and certificate again as PKCS#12 with AES."
                       : "The password is wrong, or the file is damaged.",
                out);
}

std::string days(Instant from, Instant until) {
  return "from " + from.date().words() + " to " + until.date().words();
}

bool may_sign(X509* certificate) {
  const std::uint32_t usage = X509_get_key_usage(certificate);  // all bits where it says nothing
  return (usage & (KU_DIGITAL_SIGNATURE | KU_NON_REPUDIATION)) != 0;
}

bool check_times(const Holder& holder, const std::string& file, Instant now, Diagnostics& out) {
  const std::string valid = "the certificate of " + visible(holder.who()) + " is valid " +
                            days(holder.from, holder.until);
  if (now < holder.from)
    return refuse(file, valid + ", and not yet",
                  "Look at the date of this computer, or use another certificate.", out);
  if (now > holder.until)
    return refuse(file, valid + ": it has expired",
                  "Get a new certificate, or make a key of your own with `ohmleaf keys`.", out);
  return true;
}

/// Kind and size. "" where both are fit.
std::string unfit(const EVP_PKEY* key) {
  if (EVP_PKEY_is_a(key, "RSA") == 1) {
    const int bits = EVP_PKEY_get_bits(key);
    if (bits >= kLeastRsaBits && bits <= kMostRsaBits) return {};
    return "its RSA key has " + std::to_string(bits) + " bits; 2048 to 8192 are allowed";
  }
  if (EVP_PKEY_is_a(key, "EC") == 1) {
    const int bits = EVP_PKEY_get_bits(key);
    if (bits == 256 || bits == 384 || bits == 521) return {};
    return "its elliptic curve is not P-256, P-384 or P-521";
  }
  return "its key is neither RSA nor of an elliptic curve, which PDF readers know";
}

/// The certificates above the signer's, nearest first, as far as the file has them.
OwnedCerts chain_of(X509* signer, const STACK_OF(X509) * others) {
  OwnedCerts chain(sk_X509_new_null());
  X509* at = signer;
  const int count = others != nullptr ? sk_X509_num(others) : 0;
  while (chain && sk_X509_num(chain.get()) < count && X509_self_signed(at, 0) != 1) {
    X509* above = nullptr;
    for (int i = 0; i < count && above == nullptr; ++i)
      if (X509_check_issued(sk_X509_value(others, i), at) == X509_V_OK)
        above = sk_X509_value(others, i);
    if (above == nullptr || X509_up_ref(above) != 1) break;
    sk_X509_push(chain.get(), above);
    at = above;
  }
  return chain;
}

/// SHA-256 or better, as strong as the key.
const EVP_MD* digest_for(const EVP_PKEY* key) {
  const int bits = EVP_PKEY_is_a(key, "EC") == 1 ? EVP_PKEY_get_bits(key) : 256;
  return bits > 384 ? EVP_sha512() : bits > 256 ? EVP_sha384() : EVP_sha256();
}

}  // namespace

struct Key::Parts {
  OwnedKey key;
  OwnedCert certificate;
  OwnedCerts chain;
  Holder holder;
};

Key::Key(std::shared_ptr<Parts> parts) : parts_(std::move(parts)) {}

const Holder& Key::holder() const {
  return parts_->holder;
}

std::optional<Key> Key::open(std::string_view bytes, const std::string& file,
                             const Secret& password, Instant now, Diagnostics& out) {
  Unpacked in;
  if (!unpack(bytes, file, password, in, out)) return std::nullopt;
  const auto wrong = [&](const std::string& what, const std::string& hint) {
    refuse(file, what, hint, out);
    return std::nullopt;
  };
  const std::string again = "Export key and certificate together, as one PKCS#12 file.";
  if (!in.key) return wrong("it holds no private key", again);
  if (!in.certificate) return wrong("it holds no certificate that belongs to its key", again);
  if (X509_check_private_key(in.certificate.get(), in.key.get()) != 1)
    return wrong("its certificate belongs to another key", again);
  const std::string weak = unfit(in.key.get());
  if (!weak.empty())
    return wrong(weak, "Get another certificate, or make a key of your own with `ohmleaf keys`.");
  auto parts = std::make_unique<Parts>();
  parts->holder = holder_of(in.certificate.get());
  if (!may_sign(in.certificate.get()))
    return wrong("the certificate of " + visible(parts->holder.who()) +
                     " is not meant for signatures (key usage)",
                 "Ask who issued it for one with the key usage digital signature or "
                 "non-repudiation.");
  if (!check_times(parts->holder, file, now, out)) return std::nullopt;
  parts->chain = chain_of(in.certificate.get(), in.others.get());
  parts->key = std::move(in.key);
  parts->certificate = std::move(in.certificate);
  ERR_clear_error();
  return Key(std::move(parts));
}

namespace {

/// Names the signer's certificate and those above it by their digests (RFC 5035, signing-
/// certificate-v2), so that none can be exchanged.
bool add_signing_certificate(CMS_SignerInfo* signer, const EVP_MD* md, X509* certificate,
                             const STACK_OF(X509) * chain) {
  const OwnedEss ess(OSSL_ESS_signing_cert_v2_new_init(md, certificate, chain, 1));
  const std::string der = ess ? encoded(ess.get(), i2d_ESS_SIGNING_CERT_V2) : "";
  return !der.empty() &&
         CMS_signed_add1_attr_by_NID(signer, NID_id_smime_aa_signingCertificateV2, V_ASN1_SEQUENCE,
                                     der.data(), static_cast<int>(der.size())) == 1;
}

/// The signed attributes as they are signed: a SET OF in DER (RFC 5652, 5.4).
std::string signed_attributes(CMS_SignerInfo* signer) {
  std::vector<std::string> all;
  std::size_t size = 0;
  for (int i = 0; i < CMS_signed_get_attr_count(signer); ++i) {
    all.push_back(encoded(CMS_signed_get_attr(signer, i), i2d_X509_ATTRIBUTE));
    size += all.back().size();
  }
  std::sort(all.begin(), all.end());
  std::string out(
      static_cast<std::size_t>(ASN1_object_size(1, static_cast<int>(size), V_ASN1_SET)) - size,
      '\0');
  auto* head = reinterpret_cast<unsigned char*>(out.data());
  ASN1_put_object(&head, 1, static_cast<int>(size), V_ASN1_SET, V_ASN1_UNIVERSAL);
  return out + join(all, "");
}

/// The library would sign with the time of day in it, which PAdES forbids: so the signature over
/// the attributes is made here.
bool sign_attributes(CMS_SignerInfo* signer, const EVP_MD* md, EVP_PKEY* key) {
  const std::string attributes = signed_attributes(signer);
  const OwnedDigest context(EVP_MD_CTX_new());
  std::size_t size = 0;
  if (attributes.empty() || !context ||
      EVP_DigestSignInit(context.get(), nullptr, md, nullptr, key) != 1 ||
      EVP_DigestSign(context.get(), nullptr, &size, bytes_of(attributes), attributes.size()) != 1)
    return false;
  std::string signature(size, '\0');
  if (EVP_DigestSign(context.get(), reinterpret_cast<unsigned char*>(signature.data()), &size,
                     bytes_of(attributes), attributes.size()) != 1)
    return false;
  return ASN1_STRING_set(CMS_SignerInfo_get0_signature(signer), signature.data(),
                         static_cast<int>(size)) == 1;
}

}  // namespace

std::optional<std::string> Key::sign(std::string_view before, std::string_view after,
                                     Diagnostics& out) const {
  constexpr unsigned kFlags = CMS_PARTIAL | CMS_DETACHED | CMS_BINARY | CMS_NOSMIMECAP;
  const EVP_MD* md = digest_for(parts_->key.get());
  X509* certificate = parts_->certificate.get();
  const OwnedCms cms(CMS_sign(nullptr, nullptr, nullptr, nullptr, kFlags));
  CMS_SignerInfo* signer =
      cms ? CMS_add1_signer(cms.get(), certificate, parts_->key.get(), md, kFlags) : nullptr;
  const std::string digest = digest_of(md, before, after);
  bool done = signer != nullptr && !digest.empty() &&
              CMS_signed_add1_attr_by_NID(signer, NID_pkcs9_contentType, V_ASN1_OBJECT,
                                          OBJ_nid2obj(NID_pkcs7_data), -1) == 1 &&
              CMS_signed_add1_attr_by_NID(signer, NID_pkcs9_messageDigest, V_ASN1_OCTET_STRING,
                                          digest.data(), static_cast<int>(digest.size())) == 1 &&
              add_signing_certificate(signer, md, certificate, parts_->chain.get()) &&
              sign_attributes(signer, md, parts_->key.get());
  for (int i = 0; done && i < sk_X509_num(parts_->chain.get()); ++i)
    done = CMS_add1_cert(cms.get(), sk_X509_value(parts_->chain.get(), i)) == 1;
  std::string der = done ? encoded(cms.get(), i2d_CMS_ContentInfo) : "";
  ERR_clear_error();
  if (!der.empty()) return der;
  out.system_error("signing-failed", "the signature could not be made",
                   {"Nothing was issued. Where memory is short, close other programs."});
  return std::nullopt;
}

std::size_t Key::room() const {
  Diagnostics ignored;
  const auto trial = sign("", "", ignored);
  constexpr std::size_t kStep = 512;  // a signature over a curve is a byte or two longer at times
  return trial ? (trial->size() / kStep + 2) * kStep : 0;
}

}  // namespace ohmleaf::seal
