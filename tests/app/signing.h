#pragma once
// What the tests of signed certificates share.
#include <doctest/doctest.h>
#include <unistd.h>

#include <string>
#include <vector>

#include "base/json.h"
#include "cli/world.h"
#include "seal/authority.h"

namespace ohmleaf::test {

/// A descriptor from which the words can be read once.
inline std::string descriptor(const std::string& words = authority::kPassword) {
  int ends[2];
  REQUIRE(::pipe(ends) == 0);
  REQUIRE(::write(ends[1], words.data(), words.size()) == static_cast<ssize_t>(words.size()));
  ::close(ends[1]);
  return std::to_string(ends[0]);
}

/// A world with an authority, a signer whom it vouches for, and his key.
struct Signing : World {
  authority::Issued root = authority::issue(authority::root_paper());
  Signing() {
    spit(path("key.p12"), authority::pkcs12(authority::issue({}, &root), &root));
    fs::permissions(path("key.p12"), fs::perms::owner_read | fs::perms::owner_write);
    spit(path("root.pem"), authority::pem(root));
  }
  int in(std::vector<std::string> args) {
    args.insert(args.end(), {"--archive", path("archive"), "--installer", path("installer.toml")});
    return run(args);
  }
  int issue(const char* sample, const char* key = "key.p12") {
    return in({"issue", path(sample), "--sign", path(key), "--password-fd", descriptor()});
  }
  fs::path filed(const char* id, const char* version = "v1") const {
    return root_folder() / id / version / "content/certificate.pdf";
  }
  fs::path root_folder() const { return World::root / "archive"; }
  /// What `verify` makes of these bytes as a file alone: verdict, exit code.
  std::string verdict(const std::string& pdf, const char* roots = "root.pem") {
    spit(path("sent.pdf"), pdf);
    const int code = run({"verify", path("sent.pdf"), "--roots", path(roots), "--json"});
    std::string error;
    const auto json = parse_json(out, error);
    REQUIRE_MESSAGE(json, (out + err));
    const Json* signature = json->find("signature");
    std::string said = signature->text("verdict");
    if (const Json* trust = signature->find("trust"); trust->as_object())
      said += ", " + trust->text("state");
    return said + " " + std::to_string(code);
  }
};

}  // namespace ohmleaf::test
