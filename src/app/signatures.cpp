#include "app/signatures.h"

#include <algorithm>
#include <map>

#include "app/attachments.h"
#include "app/issue.h"
#include "base/files.h"
#include "base/text.h"

namespace ohmleaf::app {
namespace {

constexpr std::size_t kMaxToken = std::size_t{1} << 20;

bool is_signed(const archive::Record& r) {
  return std::any_of(r.facts.begin(), r.facts.end(),
                     [](const auto& fact) { return fact.first == kSignedBy; });
}

bool is_stamp(const std::string& name) {
  return name.starts_with("timestamp-") && name.ends_with(".tsr");
}

/// Issued once and never touched since, without a signature: most are, and need no second look.
bool is_alone(const archive::Record& r) {
  return r.revision == 1 && !r.withdrawn && !r.timestamped && !is_signed(r);
}

/// One revision, from the newest version that files it.
std::optional<SignedCertificate> judged(const archive::Record& r, const seal::Roots* roots) {
  SignedCertificate c;
  c.number = r.number;
  c.revision = r.revision;
  c.said = is_signed(r);
  const bool stamped =
      std::any_of(r.files.begin(), r.files.end(), [](const auto& f) { return is_stamp(f.first); });
  if (!c.said && !stamped) return std::nullopt;
  Diagnostics ignored;
  const auto pdf = read_file(r.folder / "certificate.pdf", kMaxPdfBytes, ignored);
  if (!pdf) {
    c.signature.verdict = SignatureVerdict::unreadable;
    c.signature.what = "the certificate cannot be read";
    return c;
  }
  if (c.said) c.signature = check_signed(*pdf, roots);
  if (c.said && c.signature.verdict == SignatureVerdict::none) {
    c.signature.verdict = SignatureVerdict::removed;
    c.signature.what = "it was filed signed, and no signature is in it";
  }
  for (const auto& [name, size] : r.files) {
    if (!is_stamp(name)) continue;
    const auto token = read_file(r.folder / name, kMaxToken, ignored);
    c.stamps.push_back({name, seal::check_stamp(token.value_or(""), *pdf, roots)});
  }
  return c;
}

}  // namespace

bool is_sound(const SignatureReport& s, bool roots_given) {
  using State = seal::TrustState;
  if (s.verdict == SignatureVerdict::none) return true;
  if (s.verdict != SignatureVerdict::holds) return false;
  if (roots_given) return s.trust.state == State::trusted;
  return s.trust.state == State::not_asked || s.trust.state == State::self_signed;
}

bool is_sound(const StampReport& s, bool roots_given) {
  return s.check.state == seal::StampState::holds &&
         (!roots_given || s.check.trust.state == seal::TrustState::trusted);
}

SignatureSurvey check_signatures(const archive::Archive& store, const SignatureScope& scope,
                                 const seal::Roots* roots) {
  SignatureSurvey survey;
  Diagnostics quiet;  // damage is the archive's own to report
  std::vector<archive::Record> latest = store.find({}, quiet);
  std::sort(latest.begin(), latest.end(), [](const auto& a, const auto& b) {
    return ascii_lower(a.number) < ascii_lower(b.number);
  });
  for (std::size_t i = 0; i < latest.size(); ++i) {
    const archive::Record& last = latest[i];
    const bool wanted = scope.number ? ascii_lower(last.number) == ascii_lower(*scope.number)
                                     : i % scope.parts == scope.part - 1;
    if (!wanted || last.expired) continue;
    if (is_alone(last)) {
      ++survey.certificates;
      continue;
    }
    std::map<int, archive::Record> newest;
    for (archive::Record& r : store.history(last.number, quiet))
      if (!r.withdrawn && !r.expired) newest[r.revision] = std::move(r);
    survey.certificates += newest.size();
    for (const auto& [revision, record] : newest)
      if (auto c = judged(record, roots)) survey.found.push_back(std::move(*c));
  }
  return survey;
}

}  // namespace ohmleaf::app
