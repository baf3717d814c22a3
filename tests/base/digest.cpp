#include "base/digest.h"

#include <doctest/doctest.h>

namespace ohmleaf {

TEST_CASE("SHA-256 and SHA-512: the examples of FIPS 180") {
  CHECK(sha256_hex("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  CHECK(sha512_hex("abc") ==
        "ddaf35a193617abacc417349ae20413112e6fa4e89a97ea20a9eeee64b55d39a"
        "2192992a274fc1a836ba3c23a3feebbd454d4423643ce80e2a9ac94fa54ca49f");
  CHECK(sha512_hex("abcdefghbcdefghicdefghijdefghijkefghijklfghijklmghijklmn"
                   "hijklmnoijklmnopjklmnopqklmnopqrlmnopqrsmnopqrstnopqrstu") ==
        "8e959b75dae313da8cf4f72814fc143f8f7779c6eb9f7fa17299aeadb6889018"
        "501d289e4900f7e4331b99dec4b5433ac7d329eeb6dd26545e96e55b874be909");
  CHECK(sha512_hex(std::string(1000000, 'a')) ==
        "e718483d0ce769644e2e42c7bc15b4638e1f98b13b2044285632a803afa973eb"
        "de0ff244877ea60a4cb0432ce577c31beb009c5c2c49aa2e4eadb217ad8cc09b");
}

TEST_CASE("HMAC-SHA-512: RFC 4231, test cases 1, 2, 3 and 6") {
  CHECK(hmac_sha512_hex(std::string(20, '\x0b'), "Hi There") ==
        "87aa7cdea5ef619d4ff0b4241a1d6cb02379f4e2ce4ec2787ad0b30545e17cde"
        "daa833b7d6b8a702038b274eaea3f4e4be9d914eeb61f1702e696c203a126854");
  CHECK(hmac_sha512_hex("Jefe", "what do ya want for nothing?") ==
        "164b7a7bfcf819e2e395fbe73b56e0a387bd64222e831fd610270cd7ea250554"
        "9758bf75c05a994a6d034f65f8f0e6fdcaeab1a34d4a6b4b636e070a38bce737");
  CHECK(hmac_sha512_hex(std::string(20, '\xaa'), std::string(50, '\xdd')) ==
        "fa73b0089d56a284efb0f0756c890be9b1b5dbdd8ee81a3655f83e33b2279d39"
        "bf3e848279a722c806b485a47e67c807b946a337bee8942674278859e13292fb");
  CHECK(hmac_sha512_hex(std::string(131, '\xaa'),
                        "Test Using Larger Than Block-Size Key - Hash Key First") ==
        "80b24263c7c1a3ebb71493c1dd7be8b49b46d1f41b4aeec1121b013783f8f352"
        "6b56d037e05f2598bd0fd2215d6a1e5295e64f73f63f0aec8b915a985d786598");
}

TEST_CASE("MD5: RFC 1321, for the one entry that PDF prescribes") {
  CHECK(to_hex(md5_raw("abc")) == "900150983cd24fb0d6963f7d28e17f72");
}

TEST_CASE("hexadecimal there and back") {
  const std::string bytes("\x00\x01\x7f\x80\xff", 5);
  CHECK(to_hex(bytes) == "00017f80ff");
  CHECK(from_hex("00017F80fF") == bytes);
  CHECK(from_hex("") == "");
  CHECK(!from_hex("0"));
  CHECK(!from_hex("0g"));
  CHECK(!from_hex("0x00"));
}

TEST_CASE("random bytes are as many as asked for, and differ") {
  const auto a = random_hex(16), b = random_hex(16);
  REQUIRE(a);
  REQUIRE(b);
  CHECK(a->size() == 32);
  CHECK(*a != *b);
  CHECK(from_hex(*a));
}

}  // namespace ohmleaf
