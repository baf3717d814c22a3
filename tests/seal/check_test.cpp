// CMS (RFC 5652), signing-certificate-v2 (RFC 5035), chains (RFC 5280) and time-stamps (RFC 3161),
// held against the openssl program and an authority that is not ours.
#include <doctest/doctest.h>

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "authority.h"
#include "base/files.h"
#include "seal/check.h"
#include "seal/key.h"
#include "seal/stamp.h"

using namespace ohmleaf;
using namespace ohmleaf::seal;
using authority::at;
using authority::secret;

namespace {

namespace fs = std::filesystem;

const Instant kNow = at("2026-11-27T10:00:00Z");

struct Folder {
  fs::path path = *make_scratch_folder(fs::temp_directory_path(), "ohmleaf-seal-");
  ~Folder() { fs::remove_all(path); }
  std::string put(const char* name, const std::string& bytes) const {
    std::ofstream(path / name, std::ios::binary) << bytes;
    return (path / name).string();
  }
  std::string get(const char* name) const {
    std::ifstream in(path / name, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
  }
  /// Runs openssl in the folder; what it says, and its status at the end.
  std::string openssl(const std::string& args) const {
    FILE* pipe = ::popen(("cd '" + path.string() + "' && openssl " + args + " 2>&1").c_str(), "r");
    std::string out;
    for (int c; (c = std::fgetc(pipe)) != EOF;) out += static_cast<char>(c);
    return out + (::pclose(pipe) == 0 ? "GOOD" : "BAD");
  }
};

Key opened(const std::string& p12) {
  Diagnostics out;
  auto key = Key::open(p12, "k.p12", secret(authority::kPassword), kNow, out);
  REQUIRE(key);
  return std::move(*key);
}

std::string signature(const Key& key, std::string_view before, std::string_view after) {
  Diagnostics out;
  const auto cms = key.sign(before, after, out);
  REQUIRE(cms);
  CHECK(cms->size() <= key.room());
  return *cms;
}

Roots roots(const std::string& pem) {
  Diagnostics out;
  auto r = Roots::read(pem, "roots.pem", out);
  REQUIRE(r);
  return std::move(*r);
}

}  // namespace

TEST_CASE("openssl verifies what is signed, as CAdES, for each kind of key") {
  const Folder folder;
  const auto root = authority::issue(authority::root_paper());
  folder.put("root.pem", authority::pem(root));
  folder.put("data", "before and after");
  for (const char* kind : {"EC", "EC P-384", "EC P-521", "RSA 2048"}) {
    CAPTURE(kind);
    authority::Paper p;
    p.key = kind;
    const Key key = opened(authority::pkcs12(authority::issue(p, &root), &root));
    const std::string cms = signature(key, "before ", "and after");
    CHECK(check_signature(cms, "before", " and after").state == SignatureState::holds);
    folder.put("cms", cms);
    const std::string verify =
        "cms -verify -cades -binary -inform DER -in cms -content data -out got -CAfile root.pem";
    CHECK(folder.openssl(verify).find("CAdES Verification successful") != std::string::npos);
    const std::string shown = folder.openssl("cms -cmsout -print -inform DER -in cms");
    CHECK(shown.find("signingTime") == std::string::npos);  // EN 319 142-1: it stands in the PDF
    CHECK(shown.find("id-smime-aa-signingCertificateV2") != std::string::npos);
    CHECK(shown.find("sha1") == std::string::npos);
    folder.put("data", "before and aftes");
    CHECK(folder.openssl(verify).ends_with("BAD"));  // the control
    folder.put("data", "before and after");
  }
}

TEST_CASE("every bit of a signature counts, and of the certificates in it") {
  const auto root = authority::issue(authority::root_paper());
  const Key key = opened(authority::pkcs12(authority::issue({}, &root), &root));
  std::string cms = signature(key, "signed", "");
  // One bit of each byte, and the one that makes capitals small; OHMLEAF_LONG takes all eight.
  const bool all = std::getenv("OHMLEAF_LONG") != nullptr;
  std::size_t missed = 0;
  for (std::size_t i = 0; i < cms.size(); ++i) {
    for (int bit = 0; bit < 8; ++bit) {
      if (!all && bit != 5 && static_cast<std::size_t>(bit) != i % 8) continue;
      cms[i] = static_cast<char>(cms[i] ^ (1 << bit));
      if (check_signature(cms, "signed", "").state == SignatureState::holds) ++missed;
      cms[i] = static_cast<char>(cms[i] ^ (1 << bit));
    }
  }
  CHECK(missed == 0);
  CHECK(check_signature(cms, "signed", "").state == SignatureState::holds);
  CHECK(check_signature(cms, "signed", "!").state == SignatureState::other_bytes);
  CHECK(check_signature(cms + '\0', "signed", "").state == SignatureState::malformed);
  for (std::size_t i = 0; i < cms.size(); i += 7)
    CHECK(check_signature(cms.substr(0, i), "signed", "").state == SignatureState::malformed);
}

TEST_CASE("what others put into a signature is seen") {
  const Folder folder;
  const auto one = authority::issue({}), other = authority::issue({});
  folder.put("data", "signed");
  folder.put("one.pem", authority::pem(one) + authority::key_pem(one));
  folder.put("other.pem", authority::pem(other) + authority::key_pem(other));
  const std::string sign =
      "cms -sign -binary -cades -md sha256 -in data -outform DER -out cms -nosmimecap ";
  const auto state = [&] { return check_signature(folder.get("cms"), "signed", "").state; };
  REQUIRE(folder.openssl(sign + "-signer one.pem").ends_with("GOOD"));
  CHECK(state() == SignatureState::holds);  // with its signing time: another program's, and whole
  REQUIRE(folder.openssl(sign + "-signer one.pem -certfile other.pem").ends_with("GOOD"));
  CHECK(state() == SignatureState::added_to);
  REQUIRE(folder.openssl(sign + "-signer one.pem -signer other.pem").ends_with("GOOD"));
  CHECK(state() == SignatureState::malformed);
  REQUIRE(folder.openssl(sign + "-signer one.pem -nocerts").ends_with("GOOD"));
  CHECK(state() == SignatureState::wrong_certificate);
  REQUIRE(
      folder.openssl("cms -sign -binary -md sha256 -in data -outform DER -out cms -signer one.pem")
          .ends_with("GOOD"));
  CHECK(state() == SignatureState::malformed);  // does not name its certificate
  REQUIRE(
      folder
          .openssl(
              "cms -sign -binary -cades -md sha1 -in data -outform DER -out cms -signer one.pem")
          .ends_with("GOOD"));
  CHECK(state() == SignatureState::malformed);
}

TEST_CASE("a chain leads to a root that the user trusts, at that moment, or the reason is named") {
  const auto root = authority::issue(authority::root_paper());
  const auto other = authority::issue(authority::root_paper());
  authority::Paper middle_paper = authority::root_paper();
  middle_paper.name = "Brindle Cross Signers";
  middle_paper.until = at("2026-12-31T00:00:00Z");
  const auto middle = authority::issue(middle_paper, &root);
  const std::string cms =
      signature(opened(authority::pkcs12(authority::issue({}, &middle), &middle)), "x", "");
  const auto mine = roots(authority::pem(root)), theirs = roots(authority::pem(other));

  CHECK(check_trust(cms, &mine, kNow).state == TrustState::trusted);
  CHECK(check_trust(cms, &mine, kNow).root == "Brindle Cross Root");
  CHECK(check_trust(cms, &theirs, kNow).state == TrustState::unknown);
  CHECK(check_trust(cms, nullptr, kNow).state == TrustState::not_asked);
  const Trust late = check_trust(cms, &mine, at("2027-01-01T00:00:00Z"));
  CHECK(late.state == TrustState::expired);
  CHECK(late.why ==
        "the certificate of Brindle Cross Signers is valid from 1 January 2020 to 31 "
        "December 2026");
  CHECK(check_trust(cms, &mine, at("2019-12-31T00:00:00Z")).state == TrustState::not_yet_valid);
  CHECK(check_trust(cms, nullptr, at("2100-01-01T00:00:00Z")).state == TrustState::expired);

  const auto own = authority::issue({});
  const std::string alone = signature(opened(authority::pkcs12(own)), "x", "");
  CHECK(check_trust(alone, nullptr, kNow).state == TrustState::self_signed);
  CHECK(check_trust(alone, &mine, kNow).state == TrustState::self_signed);
  const auto it = roots(authority::pem(root) + authority::pem(own));
  CHECK(check_trust(alone, &it, kNow).state == TrustState::trusted);

  // Certificates that are no authority vouch for nobody.
  const auto by_own = authority::issue({}, &own);
  const std::string beyond = signature(opened(authority::pkcs12(by_own, &own)), "x", "");
  const auto just_own = roots(authority::pem(own));
  CHECK(check_trust(beyond, &just_own, kNow).state != TrustState::trusted);
}

TEST_CASE("roots are read from PEM, and nothing else is taken for them") {
  const auto one = authority::issue(authority::root_paper());
  for (const std::string& bad : {std::string(), std::string("no certificate"),
                                 authority::key_pem(one), authority::pem(one).substr(0, 200),
                                 authority::pem(one) + authority::pem(one).substr(0, 300)}) {
    CAPTURE(bad);
    Diagnostics out;
    CHECK_FALSE(Roots::read(bad, "roots.pem", out));
    CHECK(out.trouble() == Trouble::input);
  }
  roots("words before\n" + authority::pem(one) + "words after\n");
}

TEST_CASE("a time-stamp of openssl's own service is taken, and every other one refused") {
  const Folder folder;
  const auto root = authority::issue(authority::root_paper());
  authority::Paper paper;
  paper.name = "Tallow Yard Time";
  paper.purpose = "critical,timeStamping";
  const auto service = authority::issue(paper, &root);
  folder.put("service.pem", authority::pem(service));
  folder.put("service.key", authority::key_pem(service));
  folder.put("serial", "01\n");
  folder.put("config",
             "[tsa]\ndefault_tsa = one\n[one]\nserial = serial\nsigner_cert = service.pem\n"
             "signer_key = service.key\nsigner_digest = sha256\ndefault_policy = 1.2.3.4\n"
             "digests = sha256, sha1\ness_cert_id_chain = no\ness_cert_id_alg = sha256\n");
  const auto answer = [&](const std::string& request) {
    folder.put("request", request);
    REQUIRE(folder.openssl("ts -reply -config config -queryfile request -out answer")
                .ends_with("GOOD"));
    return folder.get("answer");
  };
  const auto mine = roots(authority::pem(root));
  const std::string stamp = answer(stamp_request("the certificate"));
  const StampCheck good = check_stamp(stamp, "the certificate", &mine);
  CHECK(good.state == StampState::holds);
  CHECK(good.trust.state == TrustState::trusted);
  REQUIRE(good.service);
  CHECK(good.service->name == "Tallow Yard Time");
  CHECK(good.time > at("2024-01-01T00:00:00Z"));
  CHECK(check_stamp(stamp, "the certificate", nullptr).trust.state == TrustState::not_asked);
  const auto others = roots(authority::pem(authority::issue(authority::root_paper())));
  CHECK(check_stamp(stamp, "the certificate", &others).trust.state == TrustState::unknown);
  CHECK(check_stamp(stamp, "another one", &mine).state == StampState::other_bytes);
  CHECK(check_stamp("", "the certificate", &mine).state == StampState::malformed);
  CHECK(check_stamp(stamp.substr(0, 400), "the certificate", &mine).state == StampState::malformed);
  std::string altered = stamp;
  altered.back() = static_cast<char>(altered.back() ^ 1);
  CHECK(check_stamp(altered, "the certificate", &mine).state == StampState::broken);
  // The bare token out of the answer.
  REQUIRE(folder.openssl("ts -reply -config config -in answer -token_out -out token")
              .ends_with("GOOD"));
  CHECK(check_stamp(folder.get("token"), "the certificate", &mine).state == StampState::holds);
  // The service's refusal of what it does not understand.
  CHECK(check_stamp(answer("nonsense"), "the certificate", &mine).state == StampState::refused);
  // The same token signed by a certificate that is not for time-stamps.
  const auto person = authority::issue({}, &root);
  folder.put("person.pem", authority::pem(person) + authority::key_pem(person));
  REQUIRE(
      folder.openssl("cms -verify -noverify -inform DER -in token -out told").ends_with("GOOD"));
  const std::string resign =
      "cms -sign -nodetach -binary -cades -md sha256 -econtent_type 1.2.840.113549.1.9.16.1.4 "
      "-in told -outform DER -out forged -signer ";
  REQUIRE(folder.openssl(resign + "person.pem").ends_with("GOOD"));
  CHECK(check_stamp(folder.get("forged"), "the certificate", &mine).state == StampState::broken);
  folder.put("service.pem+key", authority::pem(service) + authority::key_pem(service));
  REQUIRE(folder.openssl(resign + "service.pem+key").ends_with("GOOD"));  // the control
  CHECK(check_stamp(folder.get("forged"), "the certificate", &mine).state == StampState::holds);
  // Without its certificate in it; over a digest that is too weak.
  folder.put("data", "the certificate");
  REQUIRE(folder.openssl("ts -query -sha256 -data data -out request").ends_with("GOOD"));
  CHECK(check_stamp(answer(folder.get("request")), "the certificate", &mine).state ==
        StampState::malformed);
  REQUIRE(folder.openssl("ts -query -sha1 -cert -data data -out request").ends_with("GOOD"));
  CHECK(check_stamp(answer(folder.get("request")), "the certificate", &mine).state ==
        StampState::malformed);
}
