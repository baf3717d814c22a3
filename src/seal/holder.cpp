#include "seal/holder.h"

#include <ctime>

#include "base/digest.h"
#include "base/text.h"
#include "seal/openssl.h"

namespace ohmleaf::seal {
namespace {

constexpr std::size_t kLongestName = 120;

/// One entry of a name on one line, without what may not be printed.
std::string entry(X509_NAME* name, int nid) {
  const int at = X509_NAME_get_index_by_NID(name, nid, -1);
  if (at < 0) return {};
  unsigned char* utf8 = nullptr;
  const int size =
      ASN1_STRING_to_UTF8(&utf8, X509_NAME_ENTRY_get_data(X509_NAME_get_entry(name, at)));
  if (size < 0) return {};
  const std::string raw(reinterpret_cast<const char*>(utf8), static_cast<std::size_t>(size));
  OPENSSL_free(utf8);
  std::string out;
  for (const char32_t c : decode_utf8(to_nfc(raw))) {
    if (out.size() >= kLongestName) break;
    if (c == '\n' || c == '\t' || is_forbidden_in_text(c)) {
      out += ' ';
    } else {
      append_utf8(out, c);
    }
  }
  return std::string(trim(out));
}

std::string called(X509_NAME* name) {
  for (const int nid : {NID_commonName, NID_organizationName, NID_pkcs9_emailAddress})
    if (std::string found = entry(name, nid); !found.empty()) return found;
  return "a certificate without a name";
}

}  // namespace

Instant instant_of(const ASN1_TIME* time) {
  std::tm parts{};
  if (time == nullptr || ASN1_TIME_to_tm(time, &parts) != 1) return {};
  return {static_cast<std::int64_t>(::timegm(&parts))};
}

Holder holder_of(X509* certificate) {
  Holder h;
  X509_NAME* subject = X509_get_subject_name(certificate);
  h.name = called(subject);
  h.organisation = entry(subject, NID_organizationName);
  if (h.organisation == h.name) h.organisation.clear();
  h.issuer = called(X509_get_issuer_name(certificate));
  h.from = instant_of(X509_get0_notBefore(certificate));
  h.until = instant_of(X509_get0_notAfter(certificate));
  h.fingerprint = sha256_hex(encoded(certificate, i2d_X509));
  h.self_signed = X509_self_signed(certificate, 0) == 1;
  return h;
}

std::string digest_of(const EVP_MD* md, std::string_view first, std::string_view second) {
  const OwnedDigest context(EVP_MD_CTX_new());
  unsigned char out[EVP_MAX_MD_SIZE];
  unsigned int size = 0;
  if (!context || EVP_DigestInit_ex(context.get(), md, nullptr) != 1 ||
      EVP_DigestUpdate(context.get(), first.data(), first.size()) != 1 ||
      EVP_DigestUpdate(context.get(), second.data(), second.size()) != 1 ||
      EVP_DigestFinal_ex(context.get(), out, &size) != 1)
    return {};
  return {reinterpret_cast<const char*>(out), size};
}

}  // namespace ohmleaf::seal
