#include <doctest/doctest.h>

#include "base/json.h"
#include "cli/world.h"

using namespace ohmleaf;
using namespace ohmleaf::test;

namespace {

struct Filed : World {
  Filed() {
    REQUIRE(in({"issue", path("tt-cottage")}) == 0);
    REQUIRE(in({"issue", path("sewing-workshop")}) == 0);
  }
  int in(std::vector<std::string> args, const char* archive = "archive") {
    args.insert(args.end(), {"--archive", path(archive), "--installer", path("installer.toml")});
    return run(args);
  }
  Json json() {
    std::string error;
    const auto parsed = parse_json(out, error);
    REQUIRE_MESSAGE(parsed, error);
    return *parsed;
  }
  /// Runs a line of Python on a file and gives what it prints.
  std::string python(const std::string& code, const std::string& file) {
    spit(path("judge.py"), code);
    return tool("python3 '" + path("judge.py") + "' '" + file + "'");
  }
};

}  // namespace

TEST_CASE("export and import: the same answers on another machine") {
  Filed w;
  REQUIRE(w.in({"export", "--all", "--to", w.path("all.zip")}) == 0);
  CHECK(w.out.find("Exported 2 certificates\n") == 0);
  REQUIRE(w.in({"import", w.path("all.zip")}, "other") == 0);
  CHECK(w.out.find("Imported 2, renewed 0, already here 0\n") == 0);
  REQUIRE(w.in({"find", "--json"}, "other") == 0);
  CHECK(w.json().find("certificates")->as_array()->size() == 2);
  CHECK(w.in({"verify"}, "other") == 0);
  CHECK(w.in({"import", w.path("all.zip"), "--json"}, "other") == 0);
  CHECK(*w.json().find("already")->as_int() == 2);
  REQUIRE(w.in({"export", "--find", "sewing", "--to", w.path("bag")}) == 0);
  int status = 1;
  tool("cd '" + w.path("bag") + "' && sha512sum --strict -c manifest-sha512.txt", &status);
  CHECK(status == 0);
  CHECK(w.in({"import", w.path("bag")}, "third") == 2);
  CHECK(w.err.find("does not fit the archive here") != std::string::npos);
  CHECK_FALSE(fs::exists(w.root / "third"));
  CHECK(w.in({"export", "--to", w.path("x")}) == 2);
  CHECK(w.in({"export", "HL-0001", "--all", "--to", w.path("x")}) == 2);
  CHECK(w.in({"export", "HL-0099", "--to", w.path("x")}) == 2);
  CHECK_FALSE(fs::exists(w.root / "x"));
}

// Python's csv module is the judge of RFC 4180.
TEST_CASE("export --readings gives every reading, as a spreadsheet reads it") {
  Filed w;
  REQUIRE(w.in({"show", "HL-0002"}) == 0);
  const auto at = w.out.find("client    ") + 10;
  const std::string client = w.out.substr(at, w.out.find('\n', at) - at);
  REQUIRE(client.size() > 5);
  REQUIRE(w.in({"export", "--readings", w.path("r.csv")}) == 0);
  const std::string rows = w.python(
      "import csv,sys\n"
      "rows=list(csv.DictReader(open(sys.argv[1],newline='',encoding='utf-8'),strict=True))\n"
      "assert all(None not in r and None not in r.values() for r in rows)\n"
      "assert open(sys.argv[1],'rb').read().count(b'\\r\\n') == len(rows)+1\n"
      "for r in rows: "
      "print(r['certificate'],r['circuit'],r['cell'],r['reading'],r['verdict'],sep='|')\n",
      w.path("r.csv"));
  CHECK(rows.find("HL-0002|") != std::string::npos);
  CHECK(rows.find("HL-0001|") != std::string::npos);
  CHECK(rows.find("|live.zs|") != std::string::npos);
  CHECK(rows.find("|pass") != std::string::npos);
  CHECK(slurp(w.path("r.csv")).find(client) == std::string::npos);
}

TEST_CASE("find by single facts, dates and open observations") {
  Filed w;
  const auto found = [&](std::vector<std::string> args) {
    args.insert(args.begin(), "find");
    args.push_back("--json");
    REQUIRE(w.in(args) == 0);
    std::string numbers;
    const Json said = w.json();
    for (const Json& c : *said.find("certificates")->as_array()) numbers += c.text("number") + " ";
    return numbers;
  };
  CHECK(found({"--ref", "SEWING"}) == "HL-0002 ");
  CHECK(found({"--number", "0001"}) == "HL-0001 ");
  CHECK(found({"--kind", "minor"}) == "HL-0002 HL-0001 ");
  CHECK(found({"--client", "0001"}) == "");
  CHECK(found({"--from", "2020-01-01", "--to", "2020-12-31"}) == "");
  CHECK(found({"--from", "2020-01-01"}) == "HL-0002 HL-0001 ");
  CHECK(found({"--open"}) == "");
  CHECK(w.in({"find", "--from", "yesterday"}) == 2);
  CHECK(found({"--rebuild-index", "--ref", "tt-cottage"}) == "HL-0001 ");
}

TEST_CASE("due: inspections, calibrations and the time to keep, with a calendar") {
  Filed w;
  REQUIRE(w.in({"due", "--from", "2020-01-01", "--to", "2099-12-31", "--json", "--ical",
                w.path("due.ics")}) == 0);
  const Json due = w.json();
  int calibrations = 0, retentions = 0;
  for (const Json& d : *due.find("due")->as_array()) {
    calibrations += d.text("kind") == "calibration" ? 1 : 0;
    if (d.text("kind") != "retention") continue;
    ++retentions;
    CHECK(d.text("date").substr(0, 4) == "2041");  // the jobs are of 2026, the profile says 15
  }
  CHECK(calibrations >= 1);
  CHECK(retentions == 2);
  REQUIRE(w.in({"due", "--within", "0d"}) == 0);
  CHECK(w.out.find("2026-09-29  calibration OVERDUE") == 0);  // of the sample profile
  REQUIRE(w.in({"due", "--from", "2026-11-27", "--to", "2026-12-01"}) == 0);
  CHECK(w.out.find("Nothing falls due") == 0);
  CHECK(w.in({"due", "--within", "1y", "--to", "2027-01-01"}) == 2);
  for (const char* bad : {"soon", "90x", "-1d", "d"}) CHECK(w.in({"due", "--within", bad}) == 2);
  CHECK(w.in({"due", "--from", "2026-13-01"}) == 2);
  const std::string ics = slurp(w.path("due.ics"));
  // RFC 5545, 3.1: lines of at most 75 octets, each ended by CR LF.
  std::size_t begin = 0, lines = 0;
  while (begin < ics.size()) {
    const auto end = ics.find("\r\n", begin);
    REQUIRE(end != std::string::npos);
    CHECK(end - begin <= 75);
    CHECK(ics.substr(begin, end - begin).find('\n') == std::string::npos);
    begin = end + 2;
    ++lines;
  }
  CHECK(lines > 10);
  CHECK(ics.find("BEGIN:VCALENDAR\r\nVERSION:2.0\r\n") == 0);
}

TEST_CASE(
    "expire: not before its time unless that is said; then gone, and verify says on purpose") {
  Filed w;
  CHECK(w.in({"expire", "HL-0001", "--reason", "tidying", "--by", "rh"}) == 2);
  CHECK(w.err.find("2041") != std::string::npos);
  REQUIRE(fs::exists(w.root / "archive/hl-0001/v1/content/certificate.pdf"));
  REQUIRE(w.in({"expire", "HL-0001", "--reason", "the client asked", "--by", "rh", "--early"}) ==
          0);
  CHECK(w.out.find("Removed HL-0001") == 0);
  CHECK_FALSE(fs::exists(w.root / "archive/hl-0001/v1/content/certificate.pdf"));
  REQUIRE(w.in({"verify"}) == 0);
  CHECK(w.out.find("removed   HL-0001 on 27 November 2026, on purpose: the client asked") !=
        std::string::npos);
  REQUIRE(w.in({"find", "HL-0001"}) == 0);
  CHECK(w.out.find("HL-0001 REMOVED") == 0);
  REQUIRE(w.in({"show", "HL-0001"}) == 0);
  w.now = *Instant::parse("2042-01-01T08:00:00Z");
  REQUIRE(w.in({"due", "--within", "0d"}) == 0);
  CHECK(w.out.find("HL-0002") != std::string::npos);
  CHECK(w.out.find("HL-0001") == std::string::npos);
  CHECK(w.in({"expire", "HL-0002", "--reason", "kept for 15 years", "--by", "rh"}) == 0);
  CHECK(w.in({"verify"}) == 0);
}

// Judged by poppler: pages, description and embedded files.
TEST_CASE("redact: no name and no contact in pages, description or embedded data") {
  Filed w;
  const std::string job = slurp(w.job("sewing-workshop"));
  REQUIRE(job.find("M. Okonjo-Pryce") != std::string::npos);
  REQUIRE(job.find("01632 960733") != std::string::npos);
  REQUIRE(replace_once(w.job("sewing-workshop"), "Back room turned", "For Mrs Okonjo: Back room turned"));
  REQUIRE(w.in({"revise", "HL-0002", w.path("sewing-workshop"), "--reason", "name added"}) == 0);
  REQUIRE(w.in({"redact", "HL-0002", "--to", w.path("r.pdf")}) == 0);
  fs::create_directory(w.path("carried"));
  tool("pdfdetach -saveall -o '" + w.path("carried") + "' '" + w.path("r.pdf") + "'");
  std::string all = w.pdf_text(w.path("r.pdf")) + tool("pdfinfo '" + w.path("r.pdf") + "'") +
                    tool("pdfinfo -meta '" + w.path("r.pdf") + "'");
  CHECK(all.find("For Mrs [redacted]: ") != std::string::npos);
  CHECK(all.find("REDACTED COPY OF CERTIFICATE HL-0002") != std::string::npos);
  int files = 0;
  for (const auto& entry : fs::directory_iterator(w.path("carried"))) {
    all += slurp(entry.path());
    ++files;
  }
  CHECK(files >= 4);
  for (const char* secret : {"Okonjo", "okonjo", "Pryce", "960733", "sewing-workshop"}) {
    CAPTURE(secret);
    CHECK(all.find(secret) == std::string::npos);
  }
  // It reads as a job again, and still vouches for what was filed before it.
  CHECK(w.run({"check", w.path("carried") + "/job.toml", "--installer",
               w.path("carried") + "/installer.toml"}) == 0);
  CHECK(w.in({"verify", "--witness", w.path("r.pdf")}) == 0);
}
