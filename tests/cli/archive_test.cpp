#include <doctest/doctest.h>

#include "base/json.h"
#include "cli/world.h"

using namespace ohmleaf;
using namespace ohmleaf::test;

namespace {

struct Filed : World {
  int in(std::vector<std::string> args) {
    args.insert(args.end(), {"--archive", path("archive"), "--installer", path("installer.toml")});
    return run(args);
  }
  Json json() {
    std::string error;
    const auto parsed = parse_json(out, error);
    REQUIRE_MESSAGE(parsed, error);
    return *parsed;
  }
  fs::path content(const std::string& version) const {
    return root / "archive" / version / "content";
  }
};

}  // namespace

TEST_CASE("show: each version, who, when, why, where, and what became of it") {
  Filed w;
  REQUIRE(w.in({"issue", w.path("sewing-workshop")}) == 0);
  spit(w.job("sewing-workshop"), slurp(w.job("sewing-workshop")) + "# a word added\n");
  REQUIRE(w.in({"revise", "HL-0001", w.path("sewing-workshop"), "--reason",
                "A word was missing"}) == 0);
  for (const std::string& given :
       {std::string("hl-0001"), std::string("sewing-workshop"), w.path("sewing-workshop")}) {
    CAPTURE(given);
    REQUIRE(w.in({"show", given}) == 0);
    CHECK(w.out.find("HL-0001 revision 2") == 0);
    CHECK(w.out.find("v1  revision 1: replaced by revision 2 on 27 November 2026") !=
          std::string::npos);
    CHECK(w.out.find("v2  revision 2: in force") != std::string::npos);
    CHECK(w.out.find("A word was missing") != std::string::npos);
    CHECK(w.out.find("job.toml") != std::string::npos);
  }
  REQUIRE(w.in({"show", "HL-0001", "--json"}) == 0);
  const Json shown = w.json();
  CHECK(shown.find("versions")->as_array()->size() == 2);
  CHECK(shown.find("versions")->as_array()->at(0).text("folder") == w.content("hl-0001/v1"));
  CHECK(w.in({"show", "HL-0009"}) == 2);
  CHECK(w.err.find("HL-0009") != std::string::npos);
}

TEST_CASE("withdraw: out of force, once, with a reason; the files stay") {
  Filed w;
  REQUIRE(w.in({"issue", w.path("tt-cottage")}) == 0);
  const std::string pdf = slurp(w.content("hl-0001/v1") / "certificate.pdf");
  CHECK(w.in({"withdraw", "HL-0001"}) == 2);
  CHECK(w.in({"withdraw", "HL-0001", "--reason", "  ", "--by", "rh"}) == 2);
  CHECK(w.in({"withdraw", "HL-0001", "--reason", "wrong flat", "--by", "nobody"}) == 2);
  CHECK(w.err.find("rh") != std::string::npos);
  REQUIRE(w.in({"withdraw", "tt-cottage", "--reason", "issued for the wrong flat", "--by", "rh"}) ==
          0);
  CHECK(w.out.find("Withdrawn HL-0001") == 0);
  CHECK(slurp(w.content("hl-0001/v2") / "certificate.pdf") == pdf);
  REQUIRE(w.in({"find"}) == 0);
  CHECK(w.out.find("HL-0001 WITHDRAWN") == 0);
  CHECK(w.out.find("issued for the wrong flat") != std::string::npos);
  REQUIRE(w.in({"show", "HL-0001"}) == 0);
  CHECK(w.out.find("v1  revision 1: withdrawn on 27 November 2026") != std::string::npos);
  REQUIRE(w.in({"withdraw", "HL-0001", "--reason", "again", "--by", "rh", "--json"}) == 0);
  CHECK(*w.json().find("withdrawn")->as_bool() == false);
  CHECK(w.in({"verify"}) == 0);
}

TEST_CASE("verify --witness takes the PDF that a client has, and does not believe it") {
  Filed w;
  REQUIRE(w.in({"issue", w.path("tt-cottage")}) == 0);
  REQUIRE(w.in({"issue", w.path("sewing-workshop"), "--copy", w.path("kept.pdf")}) == 0);
  REQUIRE(w.in({"verify", "--witness", w.path("kept.pdf")}) == 0);
  CHECK(w.out.find("witness   HL-0002 agrees with the archive") != std::string::npos);
  CHECK(w.out.find("proof     by digests, chain and witness") != std::string::npos);
  CHECK(w.out.find("signature none") != std::string::npos);
  REQUIRE(w.in({"verify", "--json"}) == 0);
  CHECK(w.json().text("proof") == "chain");
  SUBCASE("what is no certificate is wrong input") {
    spit(w.path("letter"), "Dear Sir");
    CHECK(w.in({"verify", "--witness", w.path("letter")}) == 2);
    REQUIRE(w.run({"draft", w.path("tt-cottage"), "-o", w.path("draft.pdf")}) == 0);
    CHECK(w.in({"verify", "--witness", w.path("draft.pdf")}) == 2);
    CHECK(w.err.find("no certificate that ohmleaf issued") != std::string::npos);
  }
  SUBCASE("one byte more in the client's file is named") {
    spit(w.path("kept.pdf"), slurp(w.path("kept.pdf")) + "\n");
    CHECK(w.in({"verify", "--witness", w.path("kept.pdf")}) == 1);
    CHECK(w.out.find("witness   DISAGREES") != std::string::npos);
  }
  SUBCASE("a history made consistent anew passes without the witness, and fails with it") {
    fs::remove_all(w.path("archive"));
    fs::remove_all(w.path("archive.work"));
    w.now = Instant{w.now.unix_seconds + 60};
    REQUIRE(w.in({"issue", w.path("tt-cottage")}) == 0);
    REQUIRE(w.in({"issue", w.path("sewing-workshop")}) == 0);
    CHECK(w.in({"verify"}) == 0);
    CHECK(w.in({"verify", "--witness", w.path("kept.pdf")}) == 1);
  }
}

TEST_CASE("verify --part reads one slice; the slices together read everything") {
  Filed w;
  REQUIRE(w.in({"issue", w.path("tt-cottage")}) == 0);
  REQUIRE(w.in({"issue", w.path("sewing-workshop")}) == 0);
  REQUIRE(w.in({"verify", "--json"}) == 0);
  const std::int64_t whole = *w.json().find("files")->as_int();
  std::int64_t sum = 0;
  for (const char* part : {"1/2", "2/2"}) {
    REQUIRE(w.in({"verify", "--part", part, "--json"}) == 0);
    CHECK(*w.json().find("objects")->as_int() == 1);
    sum += *w.json().find("files")->as_int();
  }
  CHECK(sum == whole);
  const fs::path pdf = w.content("hl-0002/v1") / "certificate.pdf";
  spit(pdf, slurp(pdf) + " ");
  CHECK(w.in({"verify", "--part", "1/2"}) == 0);
  CHECK(w.in({"verify", "--part", "2/2"}) == 1);
  CHECK(w.out.find("hl-0002/v1/content/certificate.pdf") != std::string::npos);
  for (const char* part : {"0/2", "3/2", "x", "1/0", "2"})
    CHECK(w.in({"verify", "--part", part}) == 2);
}

TEST_CASE("a progress bar on a terminal only, and never on standard output") {
  Filed w;
  REQUIRE(w.in({"issue", w.path("tt-cottage")}) == 0);
  REQUIRE(w.in({"verify"}) == 0);
  CHECK(w.err.empty());
  w.err_is_terminal = true;
  REQUIRE(w.in({"verify"}) == 0);
  CHECK(w.err.find("verify [") != std::string::npos);
  CHECK(w.err.find("100 %") != std::string::npos);
  CHECK(w.out.find('[') == std::string::npos);
}

TEST_CASE(
    "every command on the archive shows an example, and answers wrong words with exit code 2") {
  World w;
  for (const char* name : {"issue", "revise", "find", "show", "withdraw", "verify", "due", "export",
                           "import", "redact", "expire"}) {
    CAPTURE(name);
    CHECK(w.run({name, "--help"}) == 0);
    const auto at = w.out.find("Examples:");
    REQUIRE(at != std::string::npos);
    CHECK(w.out.find(std::string("ohmleaf ") + name, at) != std::string::npos);
    CHECK(w.run({name, "--no-such-option"}) == 2);
  }
}
