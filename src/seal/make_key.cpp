#include <openssl/pem.h>

#include "base/text.h"
#include "seal/key.h"
#include "seal/openssl.h"

namespace ohmleaf::seal {
namespace {

constexpr int kRounds = 200'000;  // of the derivation, against trying passwords out
constexpr unsigned kRsaBits = 3072;

bool put(X509_NAME* name, const char* field, const std::string& value) {
  return value.empty() || X509_NAME_add_entry_by_txt(name, field, MBSTRING_UTF8, bytes_of(value),
                                                     static_cast<int>(value.size()), -1, 0) == 1;
}

bool extend(X509* certificate, int nid, const char* value) {
  X509V3_CTX context;
  X509V3_set_ctx_nodb(&context);
  X509V3_set_ctx(&context, certificate, certificate, nullptr, nullptr, 0);
  X509_EXTENSION* extension = X509V3_EXT_conf_nid(nullptr, &context, nid, value);
  if (extension == nullptr) return false;
  const bool done = X509_add_ext(certificate, extension, -1) == 1;
  X509_EXTENSION_free(extension);
  return done;
}

/// 126 bits of the system's generator: positive, and never drawn twice.
bool draw_serial(X509* certificate) {
  BIGNUM* number = BN_new();
  const bool done = number != nullptr &&
                    BN_rand(number, 126, BN_RAND_TOP_ONE, BN_RAND_BOTTOM_ANY) == 1 &&
                    BN_to_ASN1_INTEGER(number, X509_get_serialNumber(certificate)) != nullptr;
  BN_free(number);
  return done;
}

OwnedCert certificate_for(EVP_PKEY* key, const std::string& name, const std::string& organisation,
                          int years, Instant now) {
  OwnedCert made(X509_new());
  X509* c = made.get();
  if (c == nullptr) return made;
  const Date last = now.date().plus_months(12 * years);
  const auto end = Instant::parse(last.iso() + "T23:59:59Z");
  X509_NAME* subject = X509_get_subject_name(c);
  const bool done =
      end && X509_set_version(c, X509_VERSION_3) == 1 && draw_serial(c) &&
      ASN1_TIME_set(X509_getm_notBefore(c), static_cast<time_t>(now.unix_seconds)) != nullptr &&
      ASN1_TIME_set(X509_getm_notAfter(c), static_cast<time_t>(end->unix_seconds)) != nullptr &&
      put(subject, "CN", name) && put(subject, "O", organisation) &&
      X509_set_issuer_name(c, subject) == 1 && X509_set_pubkey(c, key) == 1 &&
      extend(c, NID_basic_constraints, "critical,CA:FALSE") &&
      extend(c, NID_key_usage, "critical,digitalSignature,nonRepudiation") &&
      extend(c, NID_subject_key_identifier, "hash") && X509_sign(c, key, EVP_sha256()) > 0;
  if (!done) made.reset();
  return made;
}

std::string in_text(X509* certificate) {
  const OwnedBio memory(BIO_new(BIO_s_mem()));
  char* text = nullptr;
  if (!memory || PEM_write_bio_X509(memory.get(), certificate) != 1) return {};
  const long size = BIO_get_mem_data(memory.get(), &text);
  return {text, static_cast<std::size_t>(size)};
}

}  // namespace

std::optional<Key::Made> Key::make(const std::string& name, const std::string& organisation,
                                   Kind kind, int years, Instant now, const Secret& password,
                                   Diagnostics& out) {
  const OwnedKey key(kind == Kind::rsa
                         ? EVP_PKEY_Q_keygen(nullptr, nullptr, "RSA", std::size_t{kRsaBits})
                         : EVP_PKEY_Q_keygen(nullptr, nullptr, "EC", "P-256"));
  const OwnedCert certificate =
      key ? certificate_for(key.get(), to_nfc(name), to_nfc(organisation), years, now) : nullptr;
  const OwnedPkcs12 file(certificate
                             ? PKCS12_create(password.view().data(), name.c_str(), key.get(),
                                             certificate.get(), nullptr, NID_aes_256_cbc,
                                             NID_aes_256_cbc, kRounds, kRounds, 0)
                             : nullptr);
  Made made;
  if (file) {
    made = {encoded(file.get(), i2d_PKCS12), in_text(certificate.get()),
            holder_of(certificate.get())};
  }
  ERR_clear_error();
  if (!made.pkcs12.empty() && !made.pem.empty()) return made;
  out.system_error("key-failed", "the key could not be made",
                   {"Nothing was written. A name is at most 64 characters long."});
  return std::nullopt;
}

}  // namespace ohmleaf::seal
