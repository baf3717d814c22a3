// Signing as a user meets it: what is said beforehand, what is filed, a beginner's key, time-stamps.
#include "app/signing.h"
#include "base/text.h"

using namespace ohmleaf;
using namespace ohmleaf::test;
using authority::at;

TEST_CASE("what stands against signing is said before anything is drawn or written") {
  Signing w;
  auto paper = authority::Paper{};
  paper.until = at("2026-01-01T00:00:00Z");
  spit(w.path("expired.p12"), authority::pkcs12(authority::issue(paper, &w.root), &w.root));
  const auto before = w.files();
  const auto refused = [&](std::vector<std::string> more, const char* word) {
    std::vector<std::string> args{"issue", w.path("sewing-workshop")};
    args.insert(args.end(), more.begin(), more.end());
    CHECK(w.in(args) == 2);
    CAPTURE(w.err);
    CHECK(w.err.find(word) != std::string::npos);
    CHECK(w.files() == before);
  };
  refused({"--sign", w.path("key.p12"), "--password-fd", descriptor("wrong one")},
          "the password does not open it");
  refused({"--sign", w.path("expired.p12"), "--password-fd", descriptor()}, "it has expired");
  refused({"--sign", w.path("root.pem"), "--password-fd", descriptor()}, "no PKCS#12 file");
  refused({"--sign", w.path("absent.p12"), "--password-fd", descriptor()}, "absent.p12");
  refused({"--sign", w.path("key.p12"), "--password-fd", "999"}, "no password can be read");
  refused({"--sign", w.path("key.p12"), "--password-fd", "hunter2"}, "takes the number");
  CHECK(w.err.find("hunter2") == std::string::npos);
  for (const char* way : {"--password", "--password=hunter2", "--pass", "--passphrase=hunter2"}) {
    refused({"--sign", w.path("key.p12"), way, "hunter2"}, "not taken from the command line");
    CHECK(w.err.find("hunter2") == std::string::npos);
  }
  // Nobody is asked for a password where the job's own readings stand in the way.
  CHECK(w.in({"issue", w.path("tired-day"), "--sign", w.path("key.p12"), "--password-fd", "999"}) ==
        1);
  CHECK(w.err.find("password") == std::string::npos);
}

TEST_CASE("issued once, signed or not; a revision can be signed later") {
  Signing w;
  REQUIRE(w.in({"issue", w.path("tt-cottage")}) == 0);
  REQUIRE(w.issue("sewing-workshop") == 0);
  const std::string pdf = slurp(w.filed("hl-0002"));
  CHECK(w.issue("sewing-workshop") == 0);  // a killed one, tried again
  CHECK(w.out.find("Already issued as HL-0002") == 0);
  CHECK(slurp(w.filed("hl-0002")) == pdf);
  CHECK(w.issue("tt-cottage") == 1);
  CHECK(w.out.find("ohmleaf revise HL-0001") != std::string::npos);
  REQUIRE(w.in({"revise", "HL-0001", w.path("tt-cottage"), "--reason", "signed electronically",
                "--sign", w.path("key.p12"), "--password-fd", descriptor()}) == 0);
  CHECK(w.verdict(slurp(w.filed("hl-0001", "v2"))) == "holds, trusted 0");
  CHECK(slurp(w.filed("hl-0001")).find("/ByteRange") == std::string::npos);
  REQUIRE(w.in({"verify"}) == 0);
  CHECK(w.out.find("2 of 3 signed electronically") != std::string::npos);
  CHECK(w.in({"show", "HL-0001"}) == 0);
  CHECK(w.out.find("electronically, with the certificate of R. Hollins") != std::string::npos);

  std::string altered = slurp(w.filed("hl-0002"));
  altered[altered.size() / 3] = static_cast<char>(altered[altered.size() / 3] ^ 1);
  fs::permissions(w.filed("hl-0002"), fs::perms::owner_all);
  spit(w.filed("hl-0002"), altered);
  CHECK(w.in({"verify"}) == 1);
  CHECK(fold_for_search(w.out).find(
            "hl-0002, certificate.pdf: the file was changed after it was signed") !=
        std::string::npos);
}

TEST_CASE("a document without a place for signatures gets the line at its end") {
  Signing w;
  REQUIRE(replace_once(w.job("tt-cottage"), "format   = 1\n",
                       "format   = 1\ndocuments = [\"client-page\"]\n"));
  REQUIRE_MESSAGE(w.issue("tt-cottage") == 0, w.err);
  CHECK(w.pdf_text(w.filed("hl-0001")).find("Signed electronically") != std::string::npos);
  CHECK(w.verdict(slurp(w.filed("hl-0001"))) == "holds, trusted 0");
}

TEST_CASE("a beginner's key: made, used, and what it does not prove is said") {
  Signing w;
  const std::string words = "four or five words";
  CHECK(w.run({"keys", w.path("mine.p12"), "--kind", "ec", "--installer", w.path("installer.toml"),
               "--by", "rh", "--password-fd", descriptor("short")}) == 2);
  CHECK_FALSE(fs::exists(w.path("mine.p12")));
  REQUIRE_MESSAGE(
      w.run({"keys", w.path("mine.p12"), "--kind", "ec", "--installer", w.path("installer.toml"),
             "--by", "rh", "--password-fd", descriptor(words)}) == 0,
      w.err);
  CHECK(fold_for_search(w.out).find("nobody but you vouches for the name") != std::string::npos);
  CHECK((fs::status(w.path("mine.p12")).permissions() & fs::perms::group_all) == fs::perms::none);
  const std::string key = slurp(w.path("mine.p12"));
  CHECK(w.run({"keys", w.path("mine.p12"), "--name", "X", "--password-fd", descriptor(words)}) ==
        2);
  CHECK(slurp(w.path("mine.p12")) == key);

  REQUIRE(w.in({"issue", w.path("sewing-workshop"), "--sign", w.path("mine.p12"), "--password-fd",
                descriptor(words + "\r\n")}) == 0);
  CHECK(w.err.empty());  // his own name: nothing to warn of
  const std::string pdf = slurp(w.filed("hl-0001"));
  CHECK(w.verdict(pdf) == "holds, self-signed 1");          // other roots
  CHECK(w.verdict(pdf, "mine.pem") == "holds, trusted 0");  // his certificate, from his hand
  CHECK(w.run({"verify", w.path("sent.pdf")}) == 0);
  CHECK(fold_for_search(w.out).find("anybody can make such a certificate") != std::string::npos);
  CHECK(tool("pdfsig '" + w.path("sent.pdf") + "' 2>&1").find("Signature is Valid") !=
        std::string::npos);
}

TEST_CASE("a time-stamp is asked for, filed beside the certificate, and verified with it") {
  Signing w;
  REQUIRE(w.issue("sewing-workshop") == 0);
  authority::Paper paper;
  paper.name = "Tallow Yard Time";
  paper.purpose = "critical,timeStamping";
  const auto service = authority::issue(paper, &w.root);
  spit(w.path("tsa.pem"), authority::pem(service));
  spit(w.path("tsa.key"), authority::key_pem(service));
  spit(w.path("serial"), "01\n");
  spit(w.path("tsa.cnf"),
       "[tsa]\ndefault_tsa = one\n[one]\nserial = serial\nsigner_cert = tsa.pem\nsigner_key = "
       "tsa.key\nsigner_digest = sha256\ndefault_policy = 1.2.3.4\ndigests = sha256\n"
       "ess_cert_id_chain = no\ness_cert_id_alg = sha256\n");
  const auto fetch = [&](const char* request, const char* answer) {
    int status = 1;
    tool("cd '" + w.World::root.string() + "' && openssl ts -reply -config tsa.cnf -queryfile " +
             request + " -out " + answer + " 2>&1",
         &status);
    REQUIRE(status == 0);
  };
  REQUIRE(w.in({"timestamp", "HL-0001", "--request", w.path("one.tsq")}) == 0);
  fetch("one.tsq", "one.tsr");
  REQUIRE(w.issue("tt-cottage") == 0);
  REQUIRE(w.in({"timestamp", "HL-0002", "--request", w.path("two.tsq")}) == 0);
  fetch("two.tsq", "two.tsr");

  const auto before = w.files();
  CHECK(w.in({"timestamp", "HL-0001", w.path("two.tsr"), "--by", "rh"}) == 2);
  CHECK(w.err.find("given for another file") != std::string::npos);
  CHECK(w.in({"timestamp", "HL-0001", w.path("one.tsq"), "--by", "rh"}) == 2);
  CHECK(w.in({"timestamp", "HL-0001"}) == 2);
  CHECK(w.files() == before);

  REQUIRE_MESSAGE(w.in({"timestamp", "HL-0001", w.path("one.tsr"), "--by", "rh", "--roots",
                        w.path("root.pem")}) == 0,
                  w.err);
  CHECK(w.out.find("Filed a time-stamp beside HL-0001") == 0);
  CHECK(slurp(w.root_folder() / "hl-0001/v2/content/timestamp-1.tsr") == slurp(w.path("one.tsr")));
  CHECK(slurp(w.filed("hl-0001", "v2")) == slurp(w.filed("hl-0001")));
  CHECK(w.in({"timestamp", "HL-0001", w.path("one.tsr"), "--by", "rh"}) == 0);
  CHECK(w.out.find("Filed already beside HL-0001") == 0);

  REQUIRE(w.in({"verify", "--roots", w.path("root.pem")}) == 0);
  CHECK(w.out.find("1 time-stamp; each holds") != std::string::npos);
  CHECK(w.in({"verify", "--witness", w.filed("hl-0002").string()}) == 0);
  REQUIRE(w.in({"show", "HL-0001"}) == 0);
  CHECK(w.out.find("v2  time-stamp: in force") != std::string::npos);
  CHECK(w.issue("sewing-workshop") == 0);
  CHECK(w.out.find("Already issued as HL-0001") == 0);
  CHECK(w.run({"verify", w.filed("hl-0001").string(), "--timestamp", w.path("one.tsr"), "--roots",
               w.path("root.pem")}) == 0);
  CHECK(w.out.find("by signature and time-stamp") != std::string::npos);
  CHECK(w.run({"verify", w.filed("hl-0001").string(), "--timestamp", w.path("two.tsr")}) == 1);

  // Altered where it lies.
  const fs::path token = w.root_folder() / "hl-0001/v2/content/timestamp-1.tsr";
  std::string bad = slurp(token);
  bad.back() = static_cast<char>(bad.back() ^ 1);
  fs::permissions(token, fs::perms::owner_all);
  spit(token, bad);
  CHECK(w.in({"verify"}) == 1);
  CHECK(fold_for_search(w.out).find("hl-0001, timestamp-1.tsr: the time-stamp does not hold") !=
        std::string::npos);
  spit(token, slurp(w.path("one.tsr")));
  CHECK(w.in({"revise", "HL-0002", w.path("tt-cottage"), "--reason", "again"}) == 0);
  CHECK(w.in({"timestamp", "HL-0002", w.path("two.tsr"), "--by", "rh"}) == 2);
}
