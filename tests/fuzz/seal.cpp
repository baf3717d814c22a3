// What an electronic signature is read from: the signature itself, a time-stamp, the place in a
// PDF, the certificates that a user trusts. Which reader gets the bytes is in the first one.
#include <openssl/cms.h>
#include <openssl/err.h>
#include <openssl/pem.h>

#include "fuzz/target.h"
#include "pdf/pdf.h"
#include "seal/check.h"
#include "seal/stamp.h"

using namespace ohmleaf;

namespace {

// What the seeds are signatures and time-stamps of (seeds.py).
constexpr std::string_view kBefore = "before and ", kAfter = "after";
constexpr std::string_view kStamped = "the certificate";

void hold_holder(const std::optional<seal::Holder>& holder) {
  if (!holder) return;
  for (const std::string* text : {&holder->name, &holder->organisation, &holder->issuer})
    fuzz::promise(!first_invalid_utf8(*text) && visible(*text) == *text,
                  "what a certificate says can be printed");
  fuzz::promise(!holder->name.empty() && holder->fingerprint.size() == 64,
                "a holder has a name and a fingerprint");
}

/// The certificates in a signature, hostile as they are, taken for trusted ones.
std::optional<seal::Roots> its_own_roots(std::string_view cms) {
  const auto* at = reinterpret_cast<const unsigned char*>(cms.data());
  CMS_ContentInfo* read = d2i_CMS_ContentInfo(nullptr, &at, static_cast<long>(cms.size()));
  STACK_OF(X509)* all = read != nullptr ? CMS_get1_certs(read) : nullptr;
  BIO* memory = BIO_new(BIO_s_mem());
  for (int i = 0; all != nullptr && i < sk_X509_num(all); ++i)
    PEM_write_bio_X509(memory, sk_X509_value(all, i));
  char* bytes = nullptr;
  const long size = BIO_get_mem_data(memory, &bytes);
  const std::string pem(bytes != nullptr ? bytes : "", static_cast<std::size_t>(size));
  BIO_free(memory);
  sk_X509_pop_free(all, X509_free);
  CMS_ContentInfo_free(read);
  ERR_clear_error();
  Diagnostics found;
  return seal::Roots::read(pem, "roots.pem", found);
}

void signature(std::string_view cms) {
  using seal::SignatureState;
  fuzz::promise(seal::der_length(cms) <= cms.size(), "a value lies in its bytes");
  const auto check = seal::check_signature(cms, kBefore, kAfter);
  const bool holds = check.state == SignatureState::holds;
  fuzz::promise(holds == check.why.empty(), "a signature holds, or there is a reason");
  fuzz::promise(!holds || check.signer, "a signature that holds has a signer");
  hold_holder(check.signer);
  if (holds) {
    fuzz::promise(seal::check_signature(cms, kBefore, "later").state == SignatureState::other_bytes,
                  "a signature is of these bytes alone");
    std::string bent(cms);  // at a place that differs from input to input
    const std::size_t bit = std::hash<std::string_view>{}(cms) % (8 * bent.size());
    bent[bit / 8] = static_cast<char>(bent[bit / 8] ^ (1 << bit % 8));
    fuzz::promise(seal::check_signature(bent, kBefore, kAfter).state != SignatureState::holds,
                  "every bit of a signature counts");
  }
  static const Instant now = *Instant::parse("2027-06-01T00:00:00Z");
  const auto alone = seal::check_trust(cms, nullptr, now);
  fuzz::promise(alone.state != seal::TrustState::trusted, "nobody is trusted without roots");
  if (const auto roots = its_own_roots(cms)) {
    const auto trust = seal::check_trust(cms, &*roots, now);
    fuzz::promise((trust.state == seal::TrustState::trusted) == trust.why.empty(),
                  "a signer is trusted, or there is a reason");
  }
}

void stamp(std::string_view token) {
  using seal::StampState;
  const auto roots = its_own_roots(token);
  const auto check = seal::check_stamp(token, kStamped, roots ? &*roots : nullptr);
  const bool holds = check.state == StampState::holds;
  fuzz::promise(holds == check.why.empty(), "a time-stamp holds, or there is a reason");
  hold_holder(check.service);
  if (!holds) return;
  fuzz::promise(check.service.has_value(), "a time-stamp that holds has a service");
  fuzz::promise(seal::check_stamp(token, "another one", nullptr).state == StampState::other_bytes,
                "a time-stamp is of these bytes alone");
}

void place(std::string_view bytes) {
  const auto hole = pdf::hole_of(bytes);
  if (!hole) return;
  fuzz::promise(hole->begin + 2 < hole->end && hole->end <= bytes.size() &&
                    bytes[hole->begin] == '<' && bytes[hole->end - 1] == '>',
                "the place of a signature lies in its file");
  const auto sound = pdf::own_digest_holds(bytes, *hole);
  if (sound && *sound) {
    std::string bent(bytes);
    const std::size_t outside = bytes.size() - (hole->end - hole->begin);
    std::size_t at = std::hash<std::string_view>{}(bytes) % outside;
    if (at >= hole->begin) at += hole->end - hole->begin;
    bent[at] = static_cast<char>(bent[at] ^ 1);
    fuzz::promise(pdf::own_digest_holds(bent, *hole) != sound,
                  "the file's own digest is of it all");
  }
  const auto content = pdf::hole_content(bytes, *hole);
  if (!content) return;
  std::string filled(bytes);
  fuzz::promise(pdf::fill_hole(filled, *hole, *content) && filled == bytes,
                "a signature that is read is written the same");
  fuzz::promise(!pdf::fill_hole(filled, *hole, *content + "x") && filled == bytes,
                "what is too long is not written");
}

void roots(std::string_view pem) {
  Diagnostics found;
  const auto read = seal::Roots::read(pem, "roots.pem", found);
  fuzz::promise(read.has_value() == found.ok(), "certificates are read, or there is an error");
  fuzz::hold(found, {});
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  if (size == 0) return 0;
  const std::string_view bytes = fuzz::text_of(data + 1, size - 1);
  switch (data[0] % 4) {
    case 0:
      signature(bytes);
      break;
    case 1:
      stamp(bytes);
      break;
    case 2:
      place(bytes);
      break;
    default:
      roots(bytes);
      break;
  }
  fuzz::promise(ERR_peek_error() == 0, "no reader leaves an error behind for the next one");
  return 0;
}
