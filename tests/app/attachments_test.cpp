#include "app/attachments.h"

#include <doctest/doctest.h>

#include "base/json.h"
#include "cli/world.h"

using namespace ohmleaf;
using namespace ohmleaf::test;

namespace {

std::string first_error(const Diagnostics& out) {
  for (const Diagnostic& d : out.all())
    if (d.severity == Severity::error) return d.message;
  return {};
}

std::string refused(const fs::path& pdf) {
  Diagnostics out;
  const auto found = app::attachments_of(slurp(pdf), out);
  CHECK_FALSE(found);
  CHECK(out.trouble() == Trouble::input);
  return first_error(out);
}

/// A certificate, and qpdf's command line to plant things in it.
struct Planted : World {
  Planted() { REQUIRE(run({"issue", path("tt-cottage"), "--copy", path("c.pdf")}) == 0); }
  fs::path with(const std::string& options) {
    int status = 0;
    tool("qpdf '" + path("c.pdf") + "' " + options + " '" + path("planted.pdf") + "'", &status);
    REQUIRE(status == 0);
    return path("planted.pdf");
  }
};

}  // namespace

// poppler's pdfdetach is the judge: it shares no code with qpdf.
TEST_CASE("the files embedded in a certificate come out as they went in") {
  Planted w;
  Diagnostics out;
  const auto found = app::attachments_of(slurp(w.path("c.pdf")), out);
  REQUIRE(found);
  CHECK(out.empty());
  fs::create_directory(w.path("judge"));
  int status = 0;
  tool("pdfdetach -saveall -o '" + w.path("judge") + "' '" + w.path("c.pdf") + "'", &status);
  REQUIRE(status == 0);
  std::size_t judged = 0;
  for (const auto& entry : fs::directory_iterator(w.path("judge"))) {
    ++judged;
    const auto* ours = app::find_attachment(*found, entry.path().filename().string());
    REQUIRE_MESSAGE(ours, entry.path().filename());
    CHECK(ours->bytes == slurp(entry.path()));
  }
  CHECK(judged == found->size());
  REQUIRE(app::find_attachment(*found, "job.toml"));
  CHECK(app::find_attachment(*found, "job.toml")->bytes == slurp(w.job("tt-cottage")));
  REQUIRE(app::find_attachment(*found, "certificate.json"));
  std::string error;
  const auto record = parse_json(app::find_attachment(*found, "certificate.json")->bytes, error);
  REQUIRE_MESSAGE(record, error);
  CHECK(record->text("number") == "HL-0001");
  CHECK(record->text("chain_head") == std::string(32, '0'));
  CHECK(record->text("issued") == "2026-11-27T10:00:00Z");
}

TEST_CASE("a hostile PDF is refused, or what is strange in it is left out") {
  Planted w;
  const std::string whole = slurp(w.path("c.pdf"));
  SUBCASE("no PDF at all") {
    spit(w.path("x"), "A letter to the client.\n");
    CHECK(refused(w.path("x")) == "the PDF cannot be read: it is no PDF, or it is damaged");
    spit(w.path("x"), "");
    refused(w.path("x"));
  }
  SUBCASE("cut short, or with bytes changed: an answer, never a crash") {
    for (std::size_t cut = 0; cut < whole.size(); cut += whole.size() / 12) {
      Diagnostics out;
      const auto found = app::attachments_of(std::string_view(whole).substr(0, cut), out);
      CHECK(found.has_value() == out.ok());
    }
  }
  SUBCASE("encrypted") {
    CHECK(refused(w.with("--encrypt \"\" secret 256 --")) ==
          "the PDF cannot be read: it is encrypted");
  }
  SUBCASE("a file that unpacks to far more than its own size") {
    spit(w.path("zeros"), std::string(app::kMaxAttachedBytes + 1, '\0'));
    const auto bomb = w.with("--add-attachment '" + w.path("zeros") + "' --");
    REQUIRE(fs::file_size(bomb) < (1u << 20));
    CHECK(refused(bomb) == "the PDF cannot be read: the files embedded in it are too large");
  }
  SUBCASE("two files of one name") {
    spit(w.path("other"), "format = 1\n");
    CHECK(refused(w.with("--add-attachment '" + w.path("other") +
                         "' --key=other --filename=job.toml --")) ==
          "the PDF cannot be read: two files in it are named job.toml");
  }
  SUBCASE("a name that leads elsewhere") {
    spit(w.path("other"), "x");
    const auto pdf =
        w.with("--add-attachment '" + w.path("other") + "' --filename=../../job.toml --");
    Diagnostics out;
    const auto found = app::attachments_of(slurp(pdf), out);
    REQUIRE(found);
    CHECK(out.ok());
    REQUIRE(out.all().size() == 1);
    CHECK(out.all().front().id == "strange-attachment");
    for (const auto& a : *found) CHECK(a.name.find('/') == std::string::npos);
  }
}
