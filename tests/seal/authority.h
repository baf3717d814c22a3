#pragma once
#include <openssl/evp.h>
#include <openssl/pem.h>
#include <openssl/pkcs12.h>
#include <openssl/x509v3.h>

#include <memory>
#include <string>

#include "base/date.h"
#include "seal/secret.h"

// A certification authority for the tests, by OpenSSL alone and nothing of ours: it can issue what
// no real one would.

namespace authority {

using ohmleaf::Instant;

inline constexpr const char* kPassword = "correct horse battery staple";

inline ohmleaf::seal::Secret secret(const std::string& text) {
  ohmleaf::seal::Secret s;
  for (const char c : text) s.push(c);
  return s;
}

inline Instant at(const char* iso) {
  return *Instant::parse(iso);
}

struct Paper {
  std::string name = "R. Hollins";
  Instant from = at("2020-01-01T00:00:00Z"), until = at("2099-12-31T23:59:59Z");
  std::string usage = "critical,digitalSignature,nonRepudiation";  ///< empty: does not say
  std::string purpose;                                             ///< extended key usage
  bool authority = false;
  std::string key = "EC";  ///< "RSA 1024", "RSA 2048", "EC", "ED25519", "EC secp256k1"
};

struct Free {
  void operator()(X509* x) const { X509_free(x); }
  void operator()(EVP_PKEY* k) const { EVP_PKEY_free(k); }
};

struct Issued {
  std::unique_ptr<X509, Free> certificate;
  std::unique_ptr<EVP_PKEY, Free> key;
};

inline EVP_PKEY* new_key(const std::string& kind) {
  if (kind.starts_with("RSA "))
    return EVP_PKEY_Q_keygen(nullptr, nullptr, "RSA",
                             static_cast<std::size_t>(std::stoul(kind.substr(4))));
  if (kind == "ED25519") return EVP_PKEY_Q_keygen(nullptr, nullptr, "ED25519");
  return EVP_PKEY_Q_keygen(nullptr, nullptr, "EC", kind == "EC" ? "P-256" : kind.substr(3).c_str());
}

inline void extend(X509* c, X509* issuer, int nid, const std::string& value) {
  if (value.empty()) return;
  X509V3_CTX context;
  X509V3_set_ctx_nodb(&context);
  X509V3_set_ctx(&context, issuer, c, nullptr, nullptr, 0);
  X509_EXTENSION* e = X509V3_EXT_conf_nid(nullptr, &context, nid, value.c_str());
  X509_add_ext(c, e, -1);
  X509_EXTENSION_free(e);
}

/// Signed by `issuer`, or by itself where there is none.
inline Issued issue(const Paper& p, const Issued* issuer = nullptr) {
  static long serial = 1000;
  Issued out;
  out.key.reset(new_key(p.key));
  out.certificate.reset(X509_new());
  X509* c = out.certificate.get();
  X509* above = issuer != nullptr ? issuer->certificate.get() : c;
  X509_set_version(c, 2);
  ASN1_INTEGER_set(X509_get_serialNumber(c), ++serial);
  ASN1_TIME_set(X509_getm_notBefore(c), p.from.unix_seconds);
  ASN1_TIME_set(X509_getm_notAfter(c), p.until.unix_seconds);
  X509_NAME_add_entry_by_txt(X509_get_subject_name(c), "CN", MBSTRING_UTF8,
                             reinterpret_cast<const unsigned char*>(p.name.c_str()), -1, -1, 0);
  X509_set_issuer_name(c, X509_get_subject_name(above));
  X509_set_pubkey(c, out.key.get());
  extend(c, above, NID_basic_constraints, p.authority ? "critical,CA:TRUE" : "critical,CA:FALSE");
  extend(c, above, NID_key_usage, p.authority ? "critical,keyCertSign" : p.usage);
  extend(c, above, NID_ext_key_usage, p.purpose);
  EVP_PKEY* by = issuer != nullptr ? issuer->key.get() : out.key.get();
  X509_sign(c, by, EVP_PKEY_is_a(by, "ED25519") == 1 ? nullptr : EVP_sha256());
  return out;
}

inline Paper root_paper() {
  Paper p;
  p.name = "Brindle Cross Root";
  p.authority = true;
  return p;
}

/// As PKCS#12, with the certificates above it.
inline std::string pkcs12(X509* certificate, EVP_PKEY* key, const Issued* above = nullptr,
                          const std::string& password = kPassword, int cipher = 0) {
  STACK_OF(X509)* others = sk_X509_new_null();
  if (above != nullptr) sk_X509_push(others, above->certificate.get());
  PKCS12* p12 =
      PKCS12_create(password.c_str(), "x", key, certificate, others, cipher, cipher, 1000, 1000, 0);
  sk_X509_free(others);
  unsigned char* bytes = nullptr;
  const int size = p12 != nullptr ? i2d_PKCS12(p12, &bytes) : 0;
  std::string out(reinterpret_cast<const char*>(bytes), static_cast<std::size_t>(size));
  OPENSSL_free(bytes);
  PKCS12_free(p12);
  return out;
}
inline std::string pkcs12(const Issued& one, const Issued* above = nullptr) {
  return pkcs12(one.certificate.get(), one.key.get(), above);
}

inline std::string text_of(BIO* memory) {
  char* bytes = nullptr;
  const long size = BIO_get_mem_data(memory, &bytes);
  std::string out(bytes, static_cast<std::size_t>(size));
  BIO_free(memory);
  return out;
}
inline std::string pem(const Issued& one) {
  BIO* memory = BIO_new(BIO_s_mem());
  PEM_write_bio_X509(memory, one.certificate.get());
  return text_of(memory);
}
inline std::string key_pem(const Issued& one) {
  BIO* memory = BIO_new(BIO_s_mem());
  PEM_write_bio_PrivateKey(memory, one.key.get(), nullptr, nullptr, 0, nullptr, nullptr);
  return text_of(memory);
}

}  // namespace authority
