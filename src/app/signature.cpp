#include "app/signature.h"

#include <fmt/format.h>

#include <algorithm>

#include "app/attachments.h"
#include "app/documents.h"
#include "base/json.h"
#include "base/text.h"

namespace ohmleaf::app {
namespace {

using Verdict = SignatureVerdict;

/// More than ohmleaf leaves room for.
constexpr std::size_t kMostSignatureBytes = 16'000;

SignatureReport report(Verdict verdict, std::string what) {
  SignatureReport r;
  r.verdict = verdict;
  r.what = std::move(what);
  return r;
}

/// "D:20261120091200Z", as ohmleaf writes it.
std::optional<Instant> pdf_moment(const std::string& text) {
  if (text.size() != 17 || !text.starts_with("D:") || text.back() != 'Z') return std::nullopt;
  const auto part = [&](std::size_t at, std::size_t length) { return text.substr(at, length); };
  return Instant::parse(part(2, 4) + "-" + part(6, 2) + "-" + part(8, 2) + "T" + part(10, 2) + ":" +
                        part(12, 2) + ":" + part(14, 2) + "Z");
}

bool only_zeros(std::string_view bytes) {
  return std::all_of(bytes.begin(), bytes.end(), [](char c) { return c == '\0'; });
}

SignatureReport from_check(seal::SignatureCheck check, std::string_view pdf,
                           const pdf::Hole& hole) {
  using State = seal::SignatureState;
  SignatureReport r;
  r.signer = std::move(check.signer);
  switch (check.state) {
    case State::holds:
      r.verdict = Verdict::holds;
      return r;
    case State::other_bytes:
      if (pdf::own_digest_holds(pdf, hole).value_or(false)) {
        r.verdict = Verdict::exchanged;
        r.what = "the signature belongs to another file: all else is as it was rendered";
      } else {
        r.verdict = Verdict::changed;
        r.what = "the file was changed after it was signed";
      }
      return r;
    case State::wrong_certificate:
      r.verdict = Verdict::wrong_certificate;
      break;
    case State::malformed:
    case State::added_to:
    case State::broken:
      r.verdict = Verdict::altered;
      break;
  }
  r.what = "the signature does not hold: " + check.why;
  return r;
}

/// The signature in a hole that all else is signed around.
SignatureReport check_hole(std::string_view pdf, const pdf::Hole& hole, std::string& signature) {
  const auto content = pdf::hole_content(pdf, hole);
  const bool fits = content && content->size() <= kMostSignatureBytes;
  const std::size_t length = fits ? seal::der_length(*content) : 0;
  if (length == 0 || !only_zeros(std::string_view(*content).substr(length)))
    return report(Verdict::altered,
                  "the signature does not hold: it is not written as ohmleaf writes it");
  signature = content->substr(0, length);
  return from_check(
      seal::check_signature(signature, pdf.substr(0, hole.begin), pdf.substr(hole.end)), pdf, hole);
}

/// A reader of PDF may look for the signature elsewhere than at the bytes it is over: both must be
/// one, there must be no other, and nothing after it.
bool readers_agree(std::string_view pdf, const pdf::Hole& hole, const SignatureField& seen) {
  return seen.fields == 1 && !seen.updated && seen.kind == "/ETSI.CAdES.detached" &&
         seen.ranges == std::vector<long long>{0, static_cast<long long>(hole.begin),
                                               static_cast<long long>(hole.end),
                                               static_cast<long long>(pdf.size() - hole.end)} &&
         seen.contents == pdf::hole_content(pdf, hole);
}

/// How long the file was when it was signed, by any range in it; the longest.
std::size_t signed_length(std::string_view pdf) {
  constexpr std::string_view kRanges = "/ByteRange [ 0 ";
  std::size_t longest = 0;
  for (std::size_t at = pdf.find(kRanges); at != std::string_view::npos;
       at = pdf.find(kRanges, at + 1)) {
    std::string_view text = pdf.substr(at + kRanges.size(), 64);
    unsigned long long n[3] = {};
    int read = 0;
    for (; read < 3; ++read) {
      while (text.starts_with(' ')) text.remove_prefix(1);
      std::size_t digits = 0;
      while (digits < text.size() && digits < 10 && text[digits] >= '0' && text[digits] <= '9')
        n[read] = n[read] * 10 + static_cast<unsigned long long>(text[digits++] - '0');
      if (digits == 0) break;
      text.remove_prefix(digits);
    }
    if (read == 3) longest = std::max(longest, static_cast<std::size_t>(n[1] + n[2]));
  }
  return longest;
}

std::string bytes_words(std::size_t count) {
  return count == 1 ? "1 byte" : fmt::format("{} bytes", count);
}

/// Signed once, and something was put after it.
std::optional<SignatureReport> check_longer(std::string_view pdf, std::size_t length) {
  const std::string_view signed_part = pdf.substr(0, length);
  const auto hole = pdf::hole_of(signed_part);
  if (!hole) return std::nullopt;
  std::string signature;
  SignatureReport inner = check_hole(signed_part, *hole, signature);
  const std::string_view tail = pdf.substr(length);
  const bool update = tail.find("startxref") != std::string_view::npos;
  SignatureReport r = report(update ? Verdict::updated : Verdict::appended,
                             update ? "a later version of the document was added to the file after "
                                      "it was signed (an incremental update of "
                                    : "something was added at the end of the file after it was "
                                      "signed (");
  r.what += bytes_words(tail.size()) + "); the part that was signed " +
            (inner.verdict == Verdict::holds ? "is as it was" : "was changed too");
  r.signer = std::move(inner.signer);
  return r;
}

/// Whether the file's own record, embedded in it, says that it was signed.
bool says_signed(std::string_view pdf) {
  Diagnostics ignored;
  const auto files = attachments_of(pdf, ignored);
  const Attachment* record = files ? find_attachment(*files, kCertificateRecord) : nullptr;
  std::string why;
  const auto json = record != nullptr ? parse_json(record->bytes, why) : std::nullopt;
  return json && json->find("signed") != nullptr;
}

/// No signature over the whole file was found: why?
SignatureReport explain(std::string_view pdf) {
  const std::size_t length = signed_length(pdf);
  if (length > pdf.size() && length < kMaxPdfBytes)
    return report(Verdict::truncated, "the end of the file is missing: " +
                                          bytes_words(length - pdf.size()) + " of what was signed");
  if (length > 0 && length < pdf.size())
    if (auto longer = check_longer(pdf, length)) return *longer;
  const auto seen = signature_field_of(pdf);
  const bool ended =
      trim(pdf.substr(pdf.size() - std::min<std::size_t>(pdf.size(), 32))).ends_with("%%EOF");
  if (!pdf.starts_with("%PDF-"))
    return report(Verdict::unreadable, "this is no PDF, or its beginning was changed");
  if (!ended) return report(Verdict::truncated, "the end of the file is missing");
  if (!seen) return report(Verdict::unreadable, "the PDF is damaged, or takes too much to read");
  if (length > 0 || says_signed(pdf)) {
    if (seen->fields == 0 && length == 0)
      return report(Verdict::removed,
                    "the certificate says that it was signed, and no signature is in it");
    return report(Verdict::changed, "the file was changed after it was signed");
  }
  if (seen->fields > 0)
    return report(Verdict::foreign,
                  "it is signed by another program, in a way that ohmleaf does not judge: a PDF "
                  "reader that checks signatures does");
  return {};
}

}  // namespace

std::string_view name(SignatureVerdict verdict) {
  switch (verdict) {
    case Verdict::none:
      return "none";
    case Verdict::holds:
      return "holds";
    case Verdict::changed:
      return "changed";
    case Verdict::truncated:
      return "truncated";
    case Verdict::appended:
      return "appended";
    case Verdict::updated:
      return "updated";
    case Verdict::exchanged:
      return "exchanged";
    case Verdict::altered:
      return "altered";
    case Verdict::wrong_certificate:
      return "wrong certificate";
    case Verdict::removed:
      return "removed";
    case Verdict::foreign:
      return "of another program";
    case Verdict::unreadable:
      return "unreadable";
  }
  return "unreadable";
}

std::optional<pdf::SealSpace> space_for(const seal::Key* key) {
  if (key == nullptr) return std::nullopt;
  return pdf::SealSpace{key->holder().who(), key->room()};
}

std::optional<std::string> signed_pdf(std::string pdf, const seal::Key& key, Diagnostics& out) {
  const auto hole = pdf::hole_of(pdf);
  const std::string_view all(pdf);
  const auto signature =
      hole ? key.sign(all.substr(0, hole->begin), all.substr(hole->end), out) : std::nullopt;
  if (!out.ok()) return std::nullopt;
  if (signature && pdf::fill_hole(pdf, *hole, *signature)) {
    std::string again;
    if (check_hole(pdf, *hole, again).verdict == SignatureVerdict::holds) return pdf;
  }
  out.system_error("signing-failed", "the signature that was made does not hold",
                   {"Nothing was issued. This is a fault of the program, or of the computer."});
  return std::nullopt;
}

std::string without_signature(std::string_view pdf) {
  std::string out(pdf);
  if (const auto hole = pdf::hole_of(pdf))
    std::fill(out.begin() + static_cast<std::ptrdiff_t>(hole->begin) + 1,
              out.begin() + static_cast<std::ptrdiff_t>(hole->end) - 1, '0');
  return out;
}

SignatureReport check_signed(std::string_view pdf, const seal::Roots* roots) {
  const auto hole = pdf::hole_of(pdf);
  if (!hole) return explain(pdf);
  std::string signature;
  SignatureReport r = check_hole(pdf, *hole, signature);
  if (r.verdict != SignatureVerdict::holds) return r;
  const auto seen = signature_field_of(pdf);
  if (!seen || !readers_agree(pdf, *hole, *seen)) {
    r.verdict = SignatureVerdict::altered;
    r.what = "the signature does not hold: PDF readers will not find it where it is";
    return r;
  }
  r.signed_at = pdf_moment(seen->moment);
  r.trust = seal::check_trust(signature, roots, r.signed_at.value_or(r.signer->from));
  return r;
}

}  // namespace ohmleaf::app
