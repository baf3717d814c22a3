#include "cli/signature_text.h"

#include <fmt/format.h>

#include <map>

#include "base/files.h"
#include "base/text.h"

namespace ohmleaf::cli {
namespace {

using app::SignatureVerdict;
using seal::TrustState;

constexpr std::size_t kMaxRoots = std::size_t{8} << 20;

std::string signature_line(const app::SignatureReport& s) {
  if (s.verdict == SignatureVerdict::none)
    return "none: the file is not signed electronically, and does not show by itself whether it "
           "was changed";
  if (s.verdict != SignatureVerdict::holds) return "DOES NOT HOLD: " + visible(s.what);
  return "holds. It proves that not one byte of the file has changed since the holder of the key "
         "signed it; whose key that is, it does not prove";
}

std::string signer_line(const seal::Holder& h) {
  return visible(h.who()) + ", by a certificate " +
         (h.self_signed ? "that vouches only for itself" : "from " + visible(h.issuer)) +
         ", valid from " + h.from.date().words() + " to " + h.until.date().words();
}

std::string trust_line(const app::SignatureReport& s) {
  const seal::Trust& t = s.trust;
  switch (t.state) {
    case TrustState::trusted:
      if (s.signer->self_signed) return "yes: the certificate itself is among those that you trust";
      return "yes: " + visible(t.root) + ", whom you trust, vouches that the key is that of " +
             visible(s.signer->name) +
             ". Whether it was called back since is not asked: that "
             "would need a network";
    case TrustState::not_asked:
      return "not asked: it rests on the word of " + visible(s.signer->issuer) +
             ". Give the certificates whose word you take: --roots FILE.pem";
    case TrustState::self_signed:
      if (!t.why.empty()) return "NO: " + visible(t.why);
      return "nobody vouches for the name: anybody can make such a certificate. Compare the "
             "fingerprint with the one that you had from the signer, or take the certificate "
             "from the signer's own hand: --roots FILE.pem";
    case TrustState::expired:
      return "EXPIRED when the file was signed: " + visible(t.why);
    case TrustState::not_yet_valid:
      return "NOT YET VALID when the file was signed: " + visible(t.why);
    case TrustState::unknown:
      return "NO: " + visible(t.why);
    case TrustState::unfit:
      return "NO, the certificate is not fit for it: " + visible(t.why);
  }
  return "NO";
}

std::string stamp_line(const seal::StampCheck& c, bool roots_given) {
  if (c.state != seal::StampState::holds) return "THE TIME-STAMP DOES NOT HOLD: " + visible(c.why);
  std::string words = "the file was there on " + moment_words(c.time) +
                      ", byte for byte as it is now: so says the time-stamp of " +
                      visible(c.service->who());
  if (c.trust.state == TrustState::trusted)
    return words + ", which a root that you trust vouches for";
  if (roots_given) return words + "; BUT NO root that you trust vouches for that service";
  return words + ". Whether you trust it is not asked: --roots FILE.pem";
}

bool any_stamp_holds(const std::vector<app::StampReport>& stamps) {
  for (const app::StampReport& s : stamps)
    if (s.check.state == seal::StampState::holds) return true;
  return false;
}

std::string name_of(const app::SignedCertificate& c) {
  return visible(c.number) + (c.revision > 1 ? " revision " + std::to_string(c.revision) : "");
}

Json trust_json(const seal::Trust& t) {
  static const std::map<TrustState, const char*> kNames{
      {TrustState::trusted, "trusted"},
      {TrustState::not_asked, "not asked"},
      {TrustState::self_signed, "self-signed"},
      {TrustState::unknown, "unknown"},
      {TrustState::not_yet_valid, "not yet valid"},
      {TrustState::expired, "expired"},
      {TrustState::unfit, "unfit"}};
  Json j = Json::object();
  j.set("state", kNames.at(t.state)).set("root", t.root).set("why", t.why);
  return j;
}

Json holder_json(const seal::Holder& h) {
  Json j = Json::object();
  j.set("name", h.name).set("organisation", h.organisation).set("issuer", h.issuer);
  j.set("from", h.from.iso()).set("until", h.until.iso()).set("sha256", h.fingerprint);
  j.set("self_signed", h.self_signed);
  return j;
}

}  // namespace

std::optional<seal::Roots> read_roots(const std::string& file, Diagnostics& out) {
  if (file.empty()) return std::nullopt;
  const auto bytes = read_file(file, kMaxRoots, out);
  if (!bytes) return std::nullopt;
  return seal::Roots::read(*bytes, file, out);
}

std::string moment_words(Instant moment) {
  return moment.date().words() + ", " + moment.iso().substr(11, 8) + " UTC";
}

std::vector<Said> signature_words(const app::SignatureReport& s,
                                  const std::vector<app::StampReport>& stamps, bool roots_given,
                                  Instant now) {
  std::vector<Said> out{{"signature", signature_line(s)}};
  if (s.signer) {
    out.push_back({"signer", signer_line(*s.signer)});
    out.push_back({"print", "SHA-256 " + s.signer->fingerprint});
  }
  const bool holds = s.verdict == SignatureVerdict::holds;
  if (holds) {
    if (s.signed_at)
      out.push_back({"signed", "on " + moment_words(*s.signed_at) + ", by the signer's own clock"});
    out.push_back({"trust", trust_line(s)});
    const bool was_valid = s.trust.state != TrustState::expired;
    if (was_valid && now > s.signer->until)
      out.push_back(
          {"since", std::string("the certificate has expired. That it was valid when the "
                                "file was signed rests on ") +
                        (any_stamp_holds(stamps) ? "the time-stamp" : "the signer's own clock")});
  }
  if (stamps.empty())
    out.push_back({"time", holds ? "no time-stamp: when it was signed is the signer's word alone"
                                 : "no time-stamp: nothing shows since when the file is there"});
  for (const app::StampReport& stamp : stamps)
    out.push_back({"time", stamp_line(stamp.check, roots_given)});
  return out;
}

std::vector<SignatureProblem> signature_problems(const app::SignatureSurvey& survey,
                                                 bool roots_given) {
  std::vector<SignatureProblem> out;
  for (const app::SignedCertificate& c : survey.found) {
    if (!app::is_sound(c.signature, roots_given))
      out.push_back({name_of(c) + ", certificate.pdf",
                     c.signature.verdict == SignatureVerdict::holds
                         ? "the signature holds, but its certificate is not trusted: " +
                               trust_line(c.signature)
                         : visible(c.signature.what),
                     c.signature.verdict == SignatureVerdict::holds
                         ? "ask the signer whose word stands behind the certificate, or revise and "
                           "sign with another"
                         : "put the file back from a copy of the archive made earlier; the copy "
                           "that the client has will do"});
    for (const app::StampReport& s : c.stamps)
      if (!app::is_sound(s, roots_given))
        out.push_back({name_of(c) + ", " + s.file, stamp_line(s.check, roots_given),
                       "put the file back from a copy of the archive, or file another time-stamp"});
  }
  return out;
}

std::vector<Said> survey_words(const app::SignatureSurvey& survey, bool roots_given) {
  std::size_t signed_ones = 0, sound = 0, stamps = 0, sound_stamps = 0;
  std::map<std::string, std::pair<std::size_t, std::string>> by_signer;
  for (const app::SignedCertificate& c : survey.found) {
    for (const app::StampReport& s : c.stamps) {
      ++stamps;
      if (app::is_sound(s, roots_given)) ++sound_stamps;
    }
    if (!c.said) continue;
    ++signed_ones;
    if (app::is_sound(c.signature, roots_given)) ++sound;
    if (c.signature.verdict != SignatureVerdict::holds) continue;
    auto& [count, trust] = by_signer[c.signature.signer->fingerprint];
    ++count;
    trust = visible(c.signature.signer->who()) + ": " + trust_line(c.signature);
  }
  std::vector<Said> out;
  if (signed_ones == 0) {
    out.push_back({"signature", "none of these certificates is signed electronically"});
  } else if (sound == signed_ones) {
    out.push_back({"signature", fmt::format("{} of {} signed electronically; each signature holds: "
                                            "not one byte has changed since",
                                            signed_ones, survey.certificates)});
  } else {
    out.push_back({"signature", fmt::format("{} of {} DO NOT HOLD, or are not trusted",
                                            signed_ones - sound, signed_ones)});
  }
  for (const auto& [print, said] : by_signer)
    out.push_back({"signer", fmt::format("{} × {}", said.first, said.second)});
  if (stamps > 0 && sound_stamps == stamps)
    out.push_back({"time", fmt::format("{} time-stamp{}; each holds: the certificate was there at "
                                       "that moment{}",
                                       stamps, stamps == 1 ? "" : "s",
                                       roots_given ? ""
                                                   : ", as far as the service can be believed "
                                                     "(--roots FILE.pem asks)")});
  else if (stamps > 0)
    out.push_back({"time", fmt::format("{} of {} time-stamps DO NOT HOLD, or are not trusted",
                                       stamps - sound_stamps, stamps)});
  return out;
}

Json signature_json(const app::SignatureReport& s) {
  Json j = Json::object();
  j.set("verdict", std::string(app::name(s.verdict))).set("what", s.what);
  j.set("signer", s.signer ? holder_json(*s.signer) : Json());
  j.set("signed_at", s.signed_at ? Json(s.signed_at->iso()) : Json());
  j.set("trust", s.verdict == SignatureVerdict::holds ? trust_json(s.trust) : Json());
  return j;
}

Json stamp_json(const seal::StampCheck& c) {
  const bool holds = c.state == seal::StampState::holds;
  Json j = Json::object();
  j.set("holds", holds).set("why", c.why);
  j.set("moment", holds ? Json(c.time.iso()) : Json());
  j.set("service", c.service ? holder_json(*c.service) : Json());
  j.set("trust", holds ? trust_json(c.trust) : Json());
  return j;
}

Json survey_json(const app::SignatureSurvey& survey) {
  Json list = Json::array();
  for (const app::SignedCertificate& c : survey.found) {
    Json one = Json::object();
    one.set("number", c.number).set("revision", c.revision);
    one.set("signature", signature_json(c.signature));
    Json stamps = Json::array();
    for (const app::StampReport& s : c.stamps) stamps.push(stamp_json(s.check).set("file", s.file));
    one.set("time_stamps", std::move(stamps));
    list.push(std::move(one));
  }
  return list;
}

}  // namespace ohmleaf::cli
