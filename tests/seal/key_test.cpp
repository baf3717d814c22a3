#include <doctest/doctest.h>
#include <sys/prctl.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>

#include "authority.h"
#include "seal/key.h"

using namespace ohmleaf;
using namespace ohmleaf::seal;
using authority::at;
using authority::secret;

namespace {

const Instant kNow = at("2026-11-27T10:00:00Z");

std::string refusal(const std::string& p12, const std::string& password = authority::kPassword) {
  Diagnostics out;
  if (Key::open(p12, "my-key.p12", secret(password), kNow, out)) return "opened";
  REQUIRE(out.all().size() == 1);
  CHECK(out.trouble() == Trouble::input);
  CHECK_FALSE(out.all()[0].hints.empty());
  if (!password.empty()) CHECK(out.all()[0].message.find(password) == std::string::npos);
  return out.all()[0].message;
}

std::string refusal_of(const authority::Paper& paper) {
  const auto root = authority::issue(authority::root_paper());
  return refusal(authority::pkcs12(authority::issue(paper, &root), &root));
}

authority::Paper paper() {
  return {};
}

}  // namespace

TEST_CASE("a key is opened only where it can sign, and each reason against it is its own") {
  const auto one = authority::issue(paper()), other = authority::issue(paper());
  const std::string p12 = authority::pkcs12(one);
  CHECK(refusal(p12) == "opened");
  CHECK(refusal(p12, "Correct horse battery staple") ==
        "my-key.p12: the password does not open it");
  CHECK(refusal(p12, "") == "my-key.p12: the password does not open it");
  CHECK(refusal("no key at all") == "my-key.p12: this is no PKCS#12 file");
  CHECK(refusal("") == "my-key.p12: this is no PKCS#12 file");
  CHECK(refusal(p12 + "x") == "my-key.p12: this is no PKCS#12 file");
  CHECK(refusal(authority::pkcs12(nullptr, one.key.get())) ==
        "my-key.p12: it holds no certificate that belongs to its key");
  CHECK(refusal(authority::pkcs12(one.certificate.get(), nullptr)) ==
        "my-key.p12: it holds no private key");

  auto p = paper();
  p.until = at("2026-11-27T09:59:59Z");
  CHECK(
      refusal_of(p).ends_with("is valid from 1 January 2020 to 27 November 2026: it has expired"));
  p.until = kNow;  // the last second counts
  CHECK(refusal_of(p) == "opened");
  p = paper();
  p.from = at("2026-11-27T10:00:01Z");
  CHECK(refusal_of(p).ends_with("and not yet"));
  p = paper();
  p.usage = "critical,keyEncipherment";
  CHECK(refusal_of(p).ends_with("is not meant for signatures (key usage)"));
  p.usage = "";
  CHECK(refusal_of(p) == "opened");
  p = paper();
  p.key = "RSA 1024";
  CHECK(refusal_of(p) == "my-key.p12: its RSA key has 1024 bits; 2048 to 8192 are allowed");
  p.key = "ED25519";
  CHECK(refusal_of(p).ends_with("which PDF readers know"));
  p.key = "EC secp224r1";
  CHECK(refusal_of(p) == "my-key.p12: its elliptic curve is not P-256, P-384 or P-521");
}

TEST_CASE("a key file of an older program, encrypted by what is kept apart today, is opened") {
  const auto one = authority::issue(paper());
  CHECK(refusal(authority::pkcs12(one.certificate.get(), one.key.get(), nullptr,
                                  authority::kPassword, NID_pbe_WithSHA1And3_Key_TripleDES_CBC)) ==
        "opened");
}

TEST_CASE("a key of one's own is what it says, and opens with its password alone") {
  Diagnostics out;
  const auto made = Key::make("Rhŷs O'Hollins", "Hollins & Lark", Key::Kind::ec, 5, kNow,
                              secret("four or five words"), out);
  REQUIRE(made);
  CHECK(made->holder.who() == "Rhŷs O'Hollins, Hollins & Lark");
  CHECK(made->holder.self_signed);
  CHECK(made->holder.from == kNow);
  CHECK(made->holder.until == at("2031-11-27T23:59:59Z"));
  const auto key = Key::open(made->pkcs12, "k.p12", secret("four or five words"), kNow, out);
  REQUIRE(key);
  CHECK(key->holder().fingerprint == made->holder.fingerprint);
  CHECK_FALSE(Key::open(made->pkcs12, "k.p12", secret("four or five word"), kNow, out));
}

TEST_CASE("a secret is overwritten when it is cleared or moved, and holds no more than it may") {
  Secret s = secret("swordfish");
  const char* place = s.view().data();
  s.clear();
  CHECK(std::all_of(place, place + 9, [](char c) { return c == '\0'; }));
  for (std::size_t i = 0; i < Secret::kMax; ++i) REQUIRE(s.push('x'));
  CHECK_FALSE(s.push('x'));
  CHECK_FALSE(Secret().push('\0'));
  const Secret other = std::move(s);
  CHECK(other.size() == Secret::kMax);
}

TEST_CASE("a guarded process leaves no core file and cannot be looked into") {
  const auto ends = [](bool guard) {
    const pid_t child = ::fork();
    if (child == 0) {
      const rlimit all{RLIM_INFINITY, RLIM_INFINITY};
      ::setrlimit(RLIMIT_CORE, &all);
      Diagnostics out;
      if (guard && !guard_process(out)) ::_exit(9);
      rlimit now{};
      ::getrlimit(RLIMIT_CORE, &now);
      const bool guarded = now.rlim_cur == 0 && now.rlim_max == 0 && ::prctl(PR_GET_DUMPABLE) == 0;
      ::_exit(guarded ? 1 : 2);
    }
    int status = 0;
    ::waitpid(child, &status, 0);
    return WEXITSTATUS(status);
  };
  CHECK(ends(true) == 1);
  CHECK(ends(false) == 2);  // the control
}
