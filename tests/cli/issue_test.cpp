#include <doctest/doctest.h>

#include "base/json.h"
#include "cli/world.h"

using namespace ohmleaf;
using namespace ohmleaf::test;

TEST_CASE("issue, once and again, changed, revised, found, verified") {
  World w;
  const std::string job = w.path("sewing-workshop");
  const std::string archive = w.path("archive");
  const auto in = [&](std::vector<std::string> args) {
    args.insert(args.end(), {"--archive", archive});
    return w.run(args);
  };

  REQUIRE(in({"issue", job}) == 0);
  CHECK(w.out.find("Issued HL-0001\n") == 0);
  const fs::path pdf = w.root / "archive/hl-0001/v1/content/certificate.pdf";
  REQUIRE(fs::exists(pdf));
  const std::string first = slurp(pdf);

  SUBCASE("the same job again is the same certificate") {
    CHECK(in({"issue", job}) == 0);
    CHECK(w.out.find("Already issued as HL-0001\n") == 0);
    CHECK(slurp(pdf) == first);
  }
  SUBCASE("a changed job is not issued a second time; the way on is named") {
    spit(w.job("sewing-workshop"), slurp(w.job("sewing-workshop")) + "# a word added\n");
    CHECK(in({"issue", job}) == 1);
    CHECK(w.err.find("ohmleaf revise HL-0001") != std::string::npos);
    CHECK(in({"revise", "HL-0001", job, "--reason", "A word was missing"}) == 0);
    CHECK(w.out.find("Issued HL-0001 revision 2\n") == 0);
    CHECK(slurp(pdf) == first);
    CHECK(w.pdf_text(w.root / "archive/hl-0001/v2/content/certificate.pdf").find("evision 2") != std::string::npos);
    CHECK(in({"verify"}) == 0);
  }
  SUBCASE("found by any words, whatever their case") {
    CHECK(in({"find", "brindle"}) == 0);
    CHECK(w.out.find("HL-0001") == 0);
    CHECK(in({"find", "brindle", "nosuchword"}) == 0);
    CHECK(w.out.find("HL-0001") == std::string::npos);
    CHECK(in({"find", "--json"}) == 0);
    std::string error;
    REQUIRE(parse_json(w.out, error));
  }
  SUBCASE("one altered byte is named") {
    CHECK(in({"verify"}) == 0);
    std::string altered = first;
    altered[altered.size() / 2] = static_cast<char>(altered[altered.size() / 2] ^ 1);
    fs::permissions(pdf, fs::perms::owner_all);
    spit(pdf, altered);
    CHECK(in({"verify"}) == 1);
    CHECK(w.out.find("certificate.pdf") != std::string::npos);
    CHECK(w.out.find("DO NOT HOLD") != std::string::npos);
  }
  SUBCASE("the head printed on the next certificate is a witness for this one") {
    REQUIRE(in({"issue", w.path("tt-cottage")}) == 0);
    const std::string text = w.pdf_text(w.root / "archive/hl-0002/v1/content/certificate.pdf");
    REQUIRE(in({"verify", "HL-0001"}) == 0);
    const auto at = w.out.find("head      ");
    REQUIRE(at != std::string::npos);
    REQUIRE(in({"find", "--json", "HL-0002"}) == 0);
    CHECK(text.find("HL-0002") != std::string::npos);
  }
}

TEST_CASE("a certificate that was committed is not hidden by a closed standard output") {
  World w;
  w.out_open = false;
  CHECK(w.run({"issue", w.path("sewing-workshop")}) == 3);
  CHECK(w.err.find("standard output") != std::string::npos);
  w.out_open = true;
  CHECK(w.run({"issue", w.path("sewing-workshop")}) == 0);
  CHECK(w.out.find("Already issued as HL-0001") == 0);
}

TEST_CASE("a draft gives the same bytes every time and cannot be taken for a certificate") {
  World w;
  REQUIRE(w.run({"draft", w.path("sewing-workshop"), "-o", w.path("a.pdf")}) == 0);
  w.now = Instant{1895773600};
  REQUIRE(w.run({"draft", w.path("sewing-workshop"), "-o", w.path("b.pdf")}) == 0);
  CHECK(slurp(w.path("a.pdf")) == slurp(w.path("b.pdf")));
  const std::string pages = tool("pdfinfo '" + w.path("a.pdf") + "'");
  const auto at = pages.find("Pages:");
  REQUIRE(at != std::string::npos);
  const int count = std::stoi(pages.substr(at + 6));
  REQUIRE(count >= 1);
  for (int page = 1; page <= count; ++page) {
    const std::string n = std::to_string(page);
    const std::string text = tool("pdftotext -f " + n + " -l " + n + " '" + w.path("a.pdf") + "' -");
    CAPTURE(page);
    CHECK((text.find("DRAFT") != std::string::npos || text.find("Draft") != std::string::npos));
  }
}

TEST_CASE("one reading changed: verdict, JSON and printed cell change together") {
  World w;
  const auto state = [&] {
    struct {
      int code;
      std::string verdict, reading, printed;
    } s;
    s.code = w.run({"check", "--json", w.path("tt-cottage")});
    std::string error;
    const auto json = parse_json(w.out, error);
    REQUIRE_MESSAGE(json, error);
    for (const Json& f : *json->find("findings")->as_array())
      if (f.text("cell") == "live.rcd.trip_ms" && s.reading.empty()) {
        s.verdict = f.text("verdict");
        s.reading = f.text("reading");
      }
    REQUIRE(w.run({"draft", w.path("tt-cottage"), "-o", w.path("page.pdf")}) == 0);
    s.printed = w.pdf_text(w.path("page.pdf"));
    return s;
  };
  const auto good = state();
  CHECK(good.code == 0);
  CHECK(good.verdict == "pass");
  REQUIRE(!good.reading.empty());
  CHECK(good.printed.find(good.reading) != std::string::npos);

  const std::string number = good.reading.substr(0, good.reading.find(' '));
  std::string text = slurp(w.job("tt-cottage"));
  const auto at = text.find("trip_ms = " + number);
  REQUIRE(at != std::string::npos);
  spit(w.job("tt-cottage"), text.replace(at, 10 + number.size(), "trip_ms = 312"));
  const auto bad = state();
  CHECK(bad.code == 1);
  CHECK(bad.verdict == "fail");
  CHECK(bad.reading == "312 ms");
  CHECK(bad.printed.find("312 ms") != std::string::npos);
}
