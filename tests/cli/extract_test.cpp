#include <doctest/doctest.h>

#include "app/rebuild.h"
#include "base/json.h"
#include "cli/world.h"
#include "places.h"

using namespace ohmleaf;
using namespace ohmleaf::test;

namespace {

/// An issued certificate with a logo and its archive.
struct Issued : World {
  fs::path pdf;
  Issued() {
    fs::copy(fs::path(test_data()) / "images/rgb8.png", root / "logo.png");
    if (!replace_once(root / "installer.toml", "[look]\n", "[look]\nlogo = \"logo.png\"\n"))
      spit(root / "installer.toml", slurp(root / "installer.toml") + "\n[look]\nlogo = \"logo.png\"\n");
    REQUIRE(run({"issue", path("sewing-workshop"), "--archive", path("archive")}) == 0);
    pdf = root / "archive/hl-0001/v1/content/certificate.pdf";
  }
};

std::optional<app::Rebuilt> again(const World& w, const fs::path& pdf, Diagnostics& out) {
  Sources sources;
  return app::rebuild(slurp(pdf), w.root, sources, out);
}

}  // namespace

TEST_CASE("a certificate gives back its own data byte for byte") {
  Issued w;
  REQUIRE(w.run({"extract", w.pdf.string(), "--to", w.path("source")}) == 0);
  const fs::path filed = w.pdf.parent_path();
  int compared = 0;
  for (const auto& entry : fs::directory_iterator(w.root / "source")) {
    const std::string name = entry.path().filename().string();
    CAPTURE(name);
    CHECK((fs::status(entry.path()).permissions() & fs::perms::others_all) == fs::perms::none);
    if (name == "certificate.json") continue;  // says of the PDF what the archive says in issue.json
    CHECK(slurp(entry.path()) == slurp(filed / name));
    // An unrelated reader of PDFs (poppler) gives the same.
    const std::string to = w.path("detached");
    tool("pdfdetach -savefile " + name + " -o '" + to + "' '" + w.pdf.string() + "'");
    CHECK(slurp(to) == slurp(entry.path()));
    fs::remove(to);
    ++compared;
  }
  CHECK(compared >= 5);  // job, profile, two forms, the logo
  CHECK(slurp(w.root / "source/job.toml") == slurp(w.job("sewing-workshop")));

  SUBCASE("one file goes to standard output") {
    CHECK(w.run({"extract", w.pdf.string(), "job.toml"}) == 0);
    CHECK(w.out == slurp(w.job("sewing-workshop")));
  }
  SUBCASE("nothing is written over") {
    const auto before = w.files();
    CHECK(w.run({"extract", w.pdf.string(), "--to", w.path("source")}) == 2);
    CHECK(w.err.find("is there already") != std::string::npos);
    CHECK(w.files() == before);
  }
  SUBCASE("a file that is not in it") {
    CHECK(w.run({"extract", w.pdf.string(), "photo.jpg"}) == 2);
    CHECK(w.err.find("It carries certificate.json, ") != std::string::npos);
  }
  SUBCASE("what is no certificate") {
    CHECK(w.run({"extract", w.path("installer.toml")}) == 2);
    CHECK(w.err.find("no PDF") != std::string::npos);
  }
  SUBCASE("as JSON") {
    CHECK(w.run({"extract", w.pdf.string(), "--json"}) == 0);
    std::string error;
    const auto j = parse_json(w.out, error);
    REQUIRE(j);
    CHECK(j->find("files")->as_array()->size() == static_cast<std::size_t>(compared) + 1);
  }
}

TEST_CASE("a certificate is made again from nothing but its own data") {
  Issued w;
  Diagnostics out;
  // Neither the job, nor the profile, nor the logo of that day is there any more.
  fs::remove_all(w.root / "sewing-workshop");
  fs::remove(w.root / "installer.toml");
  fs::remove(w.root / "logo.png");
  const auto r = again(w, w.pdf, out);
  REQUIRE(r);
  CHECK(r->number == "HL-0001");
  CHECK(r->same_bytes);
  CHECK(r->same_content);

  // Unpacked by another tool: other bytes, the same pages.
  const std::string plain = w.path("plain.pdf");
  tool("qpdf --stream-data=uncompress '" + w.pdf.string() + "' '" + plain + "'");
  const auto unpacked = again(w, plain, out);
  REQUIRE(unpacked);
  CHECK_FALSE(unpacked->same_bytes);
  CHECK(unpacked->same_content);

  // One stroke moved on a page.
  std::string altered = slurp(plain);
  const auto at = altered.find(" Td (");
  REQUIRE(at != std::string::npos);
  altered[at - 1] = altered[at - 1] == '1' ? '2' : '1';
  spit(plain, altered);
  const auto other = again(w, plain, out);
  REQUIRE(other);
  CHECK_FALSE(other->same_bytes);
  CHECK_FALSE(other->same_content);

  for (const auto& left : fs::directory_iterator(w.root))
    CHECK(left.path().filename().string().find("rebuild") == std::string::npos);
}

TEST_CASE("what notes lie in a picture stay with the installer") {
  Issued w;
  const std::string note = "taken by the gate of Tallow Yard";
  // A text chunk (tEXt, PNG specification 11.3.4.3) behind the header, put in by hand.
  tool("python3 -c \"import sys, zlib; image = open(sys.argv[1], 'rb').read(); "
       "text = b'tEXtComment\\0' + sys.argv[3].encode(); "
       "chunk = (len(text) - 4).to_bytes(4, 'big') + text + zlib.crc32(text).to_bytes(4, 'big'); "
       "open(sys.argv[2], 'wb').write(image[:33] + chunk + image[33:])\" '" +
       w.path("logo.png") + "' '" + w.path("noted.png") + "' '" + note + "'");
  REQUIRE(slurp(w.root / "noted.png").find(note) != std::string::npos);
  fs::rename(w.root / "noted.png", w.root / "logo.png");
  REQUIRE(w.run({"issue", w.path("tt-cottage"), "--archive", w.path("archive")}) == 0);
  REQUIRE(w.run({"extract", w.path("archive/hl-0002/v1/content/certificate.pdf"), "image-1.png"}) == 0);
  CHECK(w.out.find(note) == std::string::npos);
  CHECK(w.out.substr(1, 3) == "PNG");
}

TEST_CASE("verify --rebuild makes every revision again, and says which does not come out the same") {
  Issued w;
  const auto in = [&](std::vector<std::string> args) {
    args.insert(args.end(), {"--archive", w.path("archive")});
    return w.run(args);
  };
  spit(w.job("sewing-workshop"), slurp(w.job("sewing-workshop")) + "# one word more\n");
  REQUIRE(in({"revise", "HL-0001", w.path("sewing-workshop"), "--reason", "A word"}) == 0);
  REQUIRE(in({"issue", w.path("tt-cottage")}) == 0);
  CHECK(in({"verify", "--rebuild"}) == 0);
  CHECK(w.out ==
        "HL-0001  identical\nHL-0001 revision 2  identical\nHL-0002  identical\n"
        "3 of 3 made again from their own data come out the same\n");
  CHECK(in({"verify", "HL-0002", "--rebuild", "--json"}) == 0);
  std::string error;
  const auto j = parse_json(w.out, error);
  REQUIRE(j);
  CHECK(j->find("rebuilt")->as_array()->at(0).text("result") == "identical");

  // Another file in the place of one is seen before it is made again.
  const fs::path second = w.root / "archive/hl-0002/v1/content/certificate.pdf";
  const std::string plain = w.path("plain.pdf");
  tool("qpdf --stream-data=uncompress '" + second.string() + "' '" + plain + "'");
  std::string altered = slurp(plain);
  const auto at = altered.find(" Td (");
  REQUIRE(at != std::string::npos);
  altered[at - 1] = altered[at - 1] == '1' ? '2' : '1';
  fs::permissions(second, fs::perms::owner_all);
  spit(second, altered);
  CHECK(in({"verify", "--rebuild"}) == 1);
  CHECK(w.out.find("HL-0002  not made again\n") != std::string::npos);
  CHECK(w.out.find("2 of 3 made again") != std::string::npos);
}
