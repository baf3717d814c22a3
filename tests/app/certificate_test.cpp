#include <doctest/doctest.h>

#include "app/documents.h"
#include "app/extract.h"
#include "base/toml.h"
#include "cli/world.h"
#include "places.h"
#include "record/read.h"

using namespace ohmleaf;
using namespace ohmleaf::test;

namespace {

std::optional<app::Workspace> load(const World& w, const char* sample, Sources& sources,
                                   Diagnostics& out) {
  app::Places places;
  places.data_folder = source_root();
  return app::load(w.root / sample, places, sources, out);
}

/// Bytes of the objects that only tag: structure elements and their trees, with their lines in the
/// cross-reference table.
std::size_t tagging_bytes(const std::string& pdf) {
  std::size_t bytes = 0;
  for (std::size_t at = pdf.find(" 0 obj\n"); at != std::string::npos;) {
    const std::size_t next = pdf.find(" 0 obj\n", at + 1);
    const std::string object = pdf.substr(at, std::min(next, pdf.find("endobj", at)) - at);
    const bool element = object.find("/P ") != std::string::npos &&
                         object.find("\n<</S/") != std::string::npos;
    const bool tree = object.find("/Nums") != std::string::npos ||
                      object.find("/Type/StructTreeRoot") != std::string::npos;
    if (element || tree) bytes += object.size() + 20;
    at = next;
  }
  return bytes;
}

}  // namespace

TEST_CASE("a certificate of three pages and more is small, most of all without its tags") {
  World w;
  REQUIRE(w.run({"draft", w.path("tt-cottage"), "--document", "minor-works", "-o", w.path("c.pdf")}) == 0);
  const std::string pdf = slurp(w.path("c.pdf"));
  CHECK(tool("pdfinfo '" + w.path("c.pdf") + "'").find("Tagged:          yes") != std::string::npos);
  CHECK(std::stoi(tool("pdfinfo '" + w.path("c.pdf") + "' | sed -n 's/^Pages: *//p'")) >= 3);
  CHECK(pdf.size() <= 120'000);
  const std::size_t tags = tagging_bytes(pdf);
  CHECK(tags > 10'000);  // they are found
  CHECK(pdf.size() - tags <= 60'000);
}

TEST_CASE("the extract of the profile reads as a profile, and private parts stay at home") {
  World w;
  const fs::path profile = w.root / "installer.toml";
  spit(profile, slurp(profile) + "\n# the safe's number is 4711\n[person.zz]\nname = \"Nobody Concerned\"\n");
  Sources sources;
  Diagnostics out;
  const auto job = load(w, "sewing-workshop", sources, out);
  REQUIRE(job);
  const std::string extract = app::installer_extract(*job, sources, out);
  REQUIRE(out.ok());
  for (const char* secret : {"4711", "Nobody Concerned", "Calibration is booked", "private"}) {
    CAPTURE(secret);
    CHECK(extract.find(secret) == std::string::npos);
  }
  const SourceId id = sources.add("extract", extract);
  const auto again = record::read_installer(sources, id, out);
  REQUIRE_MESSAGE(again, (out.empty() ? "" : out.all().front().message));
  CHECK(record::check_references(job->job, *again, out));
  CHECK(*again->firm.name == *job->installer.firm.name);
  CHECK(again->instruments.size() >= 1);
}

TEST_CASE("a profile is read again as soon as its text is another") {
  World w;
  const auto read = [&](Sources& sources) {
    Diagnostics out;
    const auto job = load(w, "sewing-workshop", sources, out);
    REQUIRE(job);
    CHECK(job->installer.source == sources.size());  // what its messages point into
    CHECK(app::installer_extract(*job, sources, out).find(*job->installer.firm.name) !=
          std::string::npos);
    CHECK(sources.get(job->installer.source).text() == job->installer_bytes);
    return *job->installer.firm.name;
  };
  Sources sources;
  const std::string name = read(sources);
  CHECK(read(sources) == name);  // in another place among the sources
  const fs::path profile = w.root / "installer.toml";
  const std::string before = slurp(profile);
  REQUIRE(replace_once(profile, name, "Quite Another Firm"));
  Sources fresh, again;
  CHECK(read(fresh) == "Quite Another Firm");
  spit(profile, before);
  CHECK(read(again) == name);
}

TEST_CASE("the certificate carries its own data, byte for byte, and nothing private") {
  World w;
  REQUIRE(w.run({"issue", w.path("sewing-workshop"), "--copy", w.path("c.pdf")}) == 0);
  const fs::path folder = w.root / "attached";
  fs::create_directory(folder);
  tool("pdfdetach -saveall -o '" + folder.string() + "' '" + w.path("c.pdf") + "'");
  CHECK(slurp(folder / "job.toml") == slurp(w.job("sewing-workshop")));
  CHECK(slurp(folder / "installer.toml") == slurp(w.root / "archive/hl-0001/v1/content/installer.toml"));
  CHECK(slurp(w.path("c.pdf")) == slurp(w.root / "archive/hl-0001/v1/content/certificate.pdf"));
  CHECK(slurp(folder / "installer.toml").find("Calibration is booked") == std::string::npos);
}

TEST_CASE("a signature image stands on the certificate and is filed with it") {
  World w;
  const auto images = [&](const std::string& pdf) {
    const std::string list = tool("pdfimages -list '" + pdf + "'");
    return std::count(list.begin(), list.end(), '\n') - 2;
  };
  REQUIRE(w.run({"draft", w.path("tt-cottage"), "-o", w.path("ink.pdf")}) == 0);
  CHECK(images(w.path("ink.pdf")) <= 0);
  CHECK(w.pdf_text(w.path("ink.pdf")).find("alid until signed") != std::string::npos);

  fs::copy_file(fs::path(test_data()) / "images/rgba8.png", w.root / "signature.png");
  for (const char* person : {"[person.rh]\n", "[person.tq]\n"})
    REQUIRE(replace_once(w.root / "installer.toml", person, person + std::string("signature = \"signature.png\"\n")));
  REQUIRE(w.run({"issue", w.path("tt-cottage"), "--copy", w.path("signed.pdf")}) == 0);
  CHECK(images(w.path("signed.pdf")) >= 1);
  CHECK(fs::exists(w.root / "archive/hl-0001/v1/content/image-1.png"));

  spit(w.root / "signature.png", "no image at all");
  CHECK(w.run({"draft", w.path("tt-cottage"), "-o", w.path("bad.pdf")}) == 2);
  CHECK(w.err.find("installer.toml:") != std::string::npos);
  CHECK(w.err.find("neither a PNG nor a JPEG") != std::string::npos);
  CHECK_FALSE(fs::exists(w.path("bad.pdf")));
}

TEST_CASE("a form of the installer's own comes before ours, and a wrong binding is named") {
  World w;
  fs::create_directory(w.root / "forms");
  fs::copy_file(fs::path(source_root()) / "forms/minor-works.toml", w.root / "forms/minor-works.toml");
  const fs::path own = w.root / "forms/minor-works.toml";
  std::string text = slurp(own);
  const auto at = text.find("Minor works certificate");
  REQUIRE(at != std::string::npos);
  spit(own, text.replace(at, 23, "A small certificate of ours"));
  REQUIRE(w.run({"draft", w.path("tt-cottage"), "-o", w.path("own.pdf")}) == 0);
  spit(own, slurp(own) + "\n[[block]]\ntype = \"paragraph\"\ntext = [ { path = \"job.premisis\" } ]\n");
  CHECK(w.run({"draft", w.path("tt-cottage"), "-o", w.path("bad.pdf")}) == 2);
  CHECK(w.err.find("forms/minor-works.toml:") != std::string::npos);
  CHECK(w.err.find("premises") != std::string::npos);
  CHECK_FALSE(fs::exists(w.path("bad.pdf")));
}

TEST_CASE("a character that the fonts lack is an error, never a box") {
  World w;
  REQUIRE(replace_once(w.job("tt-cottage"), "\nclient ", "\nclient = \"\xE4\xB8\xAD\" #"));
  CHECK(w.run({"draft", w.path("tt-cottage"), "-o", w.path("box.pdf")}) == 2);
  CHECK(w.err.find("U+4E2D") != std::string::npos);
  CHECK_FALSE(fs::exists(w.path("box.pdf")));
}
