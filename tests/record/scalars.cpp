#include "record/support.h"

namespace ohmleaf::record {
namespace {

/// What a spoilt small job says, or "" where it reads.
std::string said(const std::string& line, const std::string& by) {
  return run_job(replaced(kSmallJob, line, by)).all();
}

Job read(const std::string& line, const std::string& by) {
  const Run run = run_job(replaced(kSmallJob, line, by));
  CAPTURE(by);
  REQUIRE_MESSAGE(run.job, run.all());
  return *run.job;
}

std::string letters(std::size_t count) {
  return std::string(count, 'x');
}

}  // namespace

TEST_CASE("a decimal stays as it was written") {
  for (const std::string written : {"1.10", "0.420", "0", "0.00", "68", "100.0", "9999999999"}) {
    const Job job = read("ze = 0.21", "ze = " + written);
    CHECK(job.supply.ze->text == written);
    CHECK(job.supply.ze->value.str() == written);
    const Job quoted = read("ze = 0.21", "ze = \"" + written + "\"");
    CHECK(quoted.supply.ze->text == written);
  }
  const Job cable = read("board = \"CU1\"", "cable = { line = 2.50, cpc = 1.5, length = 12.0 }");
  CHECK(cable.circuits[0].cable.line->str() == "2.50");
  CHECK(cable.circuits[0].cable.length->str() == "12.0");
}

TEST_CASE("readings without a figure") {
  const Job job = read("ze = 0.21", "ze = \"LIM: cut-out sealed\"");
  CHECK(job.supply.ze->kind == ReadingKind::limitation);
  CHECK(job.supply.ze->reason == "cut-out sealed");
  CHECK(said("ze = 0.21", "ze = \"LIM\"") == "9:6 not-a-reading: ze: LIM stands without a reason");
  CHECK(said("ze = 0.21", "ze = \"n/a\"") == "9:6 not-a-reading: ze: N/A stands without a reason");
  CHECK(read("ze = 0.21", "ze = \"> 99\"").supply.ze->kind == ReadingKind::above);
  CHECK(read("ze = 0.21", "ze = \"<0.01\"").supply.ze->kind == ReadingKind::below);
}

TEST_CASE("numbers in forms that no instrument shows are refused") {
  struct Row {
    std::string number, told;
  };
  const Row rows[] = {
      {"-0.21", "9:6 number-form: ze is written without a sign"},
      {"+0.21", "9:6 number-form: ze is written without a sign"},
      {"1e3", "9:6 number-form: ze needs plain digits with at most one point"},
      {"1_000", "9:6 number-form: ze needs plain digits with at most one point"},
      {"0x15", "9:6 number-form: ze needs plain digits with at most one point"},
      {"12345678901", "9:6 number-form: ze has more than 10 digits"},
      {"0.12345678901", "9:6 number-form: ze has more than 10 digits"},
      {"1234567890123456789", "9:6 number-form: ze has more than 10 digits"},
      {"nan", "9:6 not-a-number: \"nan\" is no reading"},
      {"-inf", "9:6 not-a-number: \"-inf\" is no reading"},
  };
  for (const Row& row : rows) {
    CAPTURE(row.number);
    CHECK(said("ze = 0.21", "ze = " + row.number) == row.told);
  }
}

TEST_CASE("figures that cannot be right") {
  CHECK(said("ze = 0.21", "neutral = 0") == "9:11 out-of-range: neutral of 0 mm² cannot be right");
  CHECK(said("ze = 0.21", "neutral = 1001") ==
        "9:11 out-of-range: neutral of 1001 mm² cannot be right");
  CHECK(said("ze = 0.21", "neutral = 1000") == "");
  CHECK(said("ze = 0.21", "voltage = 1001") ==
        "9:11 out-of-range: voltage of 1001 cannot be right");
  CHECK(said("  zs = 0.46", "  [circuit.dead]\n  ambient = -5") == "");
  CHECK(said("  zs = 0.46", "  [circuit.dead]\n  ambient = -41") ==
        "17:13 out-of-range: ambient of -41 °C cannot be right");
}

TEST_CASE("fault currents carry their unit") {
  struct Row {
    std::string text;
    Decimal kiloamps;
    ReadingKind kind;
  };
  const Row rows[] = {
      {"1.1 kA", Decimal(11, 1), ReadingKind::value},
      {"1.10kA", Decimal(11, 1), ReadingKind::value},
      {"1100 A", Decimal(11, 1), ReadingKind::value},
      {"950A", Decimal(95, 2), ReadingKind::value},
      {">10 kA", Decimal::integer(10), ReadingKind::above},
  };
  for (const Row& row : rows) {
    CAPTURE(row.text);
    const Job job = read("ze = 0.21", "pfc = \"" + row.text + "\"");
    CHECK(job.supply.pfc->text == row.text);
    CHECK(job.supply.pfc->kind == row.kind);
    CHECK(job.supply.pfc->value.decimal() == row.kiloamps);
  }
  CHECK(read("ze = 0.21", "pfc = \"LIM: live work refused\"").supply.pfc->kind ==
        ReadingKind::limitation);
  CHECK(said("ze = 0.21", "pfc = \"kA\"") == "9:7 not-a-reading: pfc: there is no number");
  CHECK(said("ze = 0.21", "pfc = \"0 kA\"") == "9:7 out-of-range: pfc of 0 kA cannot be right");
}

TEST_CASE("bonding sizes: a figure, or why there is none") {
  CHECK(read("[supply]", "[bonding]\nwater = 10\n[supply]").bonding.water->text == "10");
  CHECK(read("[supply]", "[bonding]\nwater = \"N/A: plastic\"\n[supply]").bonding.water->reason ==
        "plastic");
  CHECK(said("[supply]", "[bonding]\nwater = \"LIM: no access\"\n[supply]") ==
        "9:9 wrong-type: water needs a number in mm², or \"N/A: why\", and text stands here");
  CHECK(said("[supply]", "[bonding]\nwater = \"N/A\"\n[supply]") ==
        "9:9 not-a-reading: water: N/A stands without a reason");
  CHECK(said("[supply]", "[bonding]\nwater = \">10\"\n[supply]") ==
        "9:9 wrong-type: water needs a number in mm², or \"N/A: why\", and text stands here");
}

TEST_CASE("a device in words and the same as a table are one") {
  const auto words = read("board = \"CU1\"", "device = \"RCBO B32, 30 mA type A, 6 kA\"");
  const auto table = read("board = \"CU1\"",
                          "device = { standard = \"RCBO\", curve = \"B\", rating = 32, idn = 30, "
                          "type = \"A\", breaking = 6 }");
  CHECK(words.circuits[0].device->words() == "RCBO B32, 30 mA type A, 6 kA");
  CHECK(table.circuits[0].device->words() == words.circuits[0].device->words());
  const auto delayed = read("ze = 0.21",
                            "rcd = { standard = \"RCCB\", rating = 63, idn = 100, type = \"B\", "
                            "delayed = true }");
  CHECK(delayed.supply.rcd->rcd->delayed);
  CHECK(*delayed.supply.rcd->rcd->type == limits::RcdType::b);
  CHECK(delayed.supply.rcd->curve == limits::Curve::none);
  CHECK(said("ze = 0.21", "rcd = \"MCB B32\"") ==
        "9:7 wrong-device: rcd is an RCD, and this device has none");
  CHECK(said("board = \"CU1\"", "device = \"RCCB 63 A, 30 mA\"") ==
        "11:10 wrong-device: device must clear overcurrent, and an RCCB does not");
  CHECK(said("board = \"CU1\"", "device = { curve = \"B\", rating = 32 }") ==
        "11:1 missing-key: \"standard\" is missing in [circuit.device]");
  CHECK(said("board = \"CU1\"", "device = 32") ==
        "11:10 wrong-type: device needs a device in words or as a table, and a whole number "
        "stands here");
}

TEST_CASE("texts") {
  // e + combining acute becomes one character, as printed and searched.
  CHECK(*read("client = \"A. Nother\"", "client = \" Rene\u0301e \"").client == "Ren\u00e9e");
  CHECK(said("client = \"A. Nother\"", "client = \"a\\tb\"") ==
        "6:10 forbidden-character: client holds an invisible character (U+0009) that cannot be "
        "printed");
  CHECK(said("client = \"A. Nother\"", "client = \"a\u202eb\"") ==
        "6:10 forbidden-character: client holds an invisible character (U+202E) that cannot be "
        "printed");
  CHECK(said("client = \"A. Nother\"", "client = \"\"\"a\nb\"\"\"") ==
        "6:10 forbidden-character: client is one line of text, and this one runs over several");
  CHECK(*read("work = \"One socket-outlet.\"", "work = \"\"\"\na\r\nb\n\"\"\"").work == "a\nb");
  CHECK(said("client = \"A. Nother\"", "client = \"" + letters(4000) + "\"") == "");
  CHECK(said("client = \"A. Nother\"", "client = \"" + letters(4001) + "\"") ==
        "6:10 text-too-long: client has 4001 characters");
}

TEST_CASE("ids") {
  CHECK(said("client = \"A. Nother\"", "client = \"A. Nother\"\nid = \"9-tallow.yard_1\"") == "");
  for (const std::string bad : {"Tallow", "-x", ".x", "a b", "a/b", "é", "_a"}) {
    CAPTURE(bad);
    CHECK(said("client = \"A. Nother\"", "client = \"A. Nother\"\nid = \"" + bad + "\"") ==
          "7:6 wrong-form: \"" + bad + "\" cannot stand as id");
  }
  CHECK(said("client = \"A. Nother\"", "client = \"A. Nother\"\nid = \"" + letters(64) + "\"") ==
        "");
  CHECK(said("client = \"A. Nother\"", "client = \"A. Nother\"\nid = \"" + letters(65) + "\"") !=
        "");
  struct Row {
    std::string folder, id;
  };
  const Row rows[] = {{"9 Tallow Yard (1)", "9-tallow-yard-1"},
                      {"Été_été", "ete_ete"},
                      {"...", "job"},
                      {"", "job"},
                      {"--a--b--", "a-b"},
                      {letters(80), letters(64)},
                      {"日本", "job"}};
  for (const Row& row : rows) {
    CAPTURE(row.folder);
    const Run run = run_job(kSmallJob, row.folder);
    REQUIRE(run.job);
    CHECK(run.job->job_id() == row.id);
  }
}

TEST_CASE("the edition follows the date of the design") {
  const Job job = read("date = 2026-11-20", "date = 2026-11-20\ndesign_date = 2021-05-01");
  CHECK(job.edition() == limits::Edition::y2018);
}

TEST_CASE("the inspection checklist") {
  const Job job = read("[supply]",
                       "[inspection]\naccess = true\nlabels = false\nrouting = \"N/A: surface\"\n"
                       "diagrams = \"LIM: kept elsewhere\"\n[supply]");
  REQUIRE(job.inspection.size() == 4);
  CHECK(job.inspection[0].done == true);
  CHECK(job.inspection[1].done == false);
  CHECK(job.inspection[2].not_applicable == "surface");
  CHECK(job.inspection[3].limitation == "kept elsewhere");
  CHECK(said("[supply]", "[inspection]\naccess = \"yes\"\n[supply]") ==
        "9:10 not-an-answer: access: \"yes\" is no answer of the checklist");
  CHECK(said("[supply]", "[inspection]\naccess = 1\n[supply]") ==
        "9:10 wrong-type: access needs true, false or a reason, and a whole number stands here");
  CHECK(said("[supply]", "[inspection]\nacess = true\n[supply]") ==
        "9:1 unknown-key: the key \"acess\" is not known in [inspection]");
  CHECK(said("[supply]", "[inspection]\naccess = \"LIM\"\n[supply]") ==
        "9:10 not-a-reading: access: LIM stands without a reason");
}

TEST_CASE("fields of the installer's own") {
  const Job job =
      read("[supply]",
           "[extra]\nmeter = \"04217\"\ncount = 1.10\nday = 2026-11-20\nok = true\n[supply]");
  REQUIRE(job.extra.size() == 4);
  CHECK(job.extra[1].text == "1.10");
  CHECK(job.extra[2].text == "2026-11-20");
  CHECK(said("[supply]", "[extra]\nx = [1]\n[supply]") ==
        "9:5 wrong-type: x needs text, a number, a date, or true or false, and a list stands here");
  CHECK(said("[supply]", "[extra]\n\"a b\" = 1\n[supply]") ==
        "9:1 wrong-form: \"a b\" cannot serve as a key");
}

}  // namespace ohmleaf::record
