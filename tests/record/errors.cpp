#include "record/support.h"

namespace ohmleaf::record {
namespace {

struct Slip {
  std::string line;  ///< of the small job
  std::string by;    ///< what stands there instead
  std::string told;  ///< line:column id: message
  std::string hint;  ///< the first one
};

void check_slips(const std::vector<Slip>& slips) {
  for (const Slip& slip : slips) {
    CAPTURE(slip.by);
    const Run run = run_job(replaced(kSmallJob, slip.line, slip.by));
    CHECK(run.all() == slip.told);
    CHECK(!run.job);
    REQUIRE(run.out.all().size() == 1);
    REQUIRE(!run.out.all()[0].hints.empty());
    CHECK(run.out.all()[0].hints[0] == slip.hint);
  }
}

}  // namespace

TEST_CASE("the small job itself is right") {
  const Run run = run_job(kSmallJob);
  CHECK(run.all() == "");
  REQUIRE(run.job);
  CHECK(run.job->circuits.at(0).live.zs->text == "0.46");
}

TEST_CASE("the format comes first") {
  check_slips({
      {"format = 1", "# nothing", "1:1 no-format: the file does not say which format it has",
       "Write format = 1 as its first line."},
      {"format = 1", "format = 2",
       "1:10 newer-format: this file has format 2, and this program knows format 1",
       "Install a newer version of ohmleaf to read it. Nothing was changed."},
      {"format = 1", "format = 0", "1:10 wrong-format: \"0\" is no format of this file",
       "Write format = 1."},
      {"format = 1", "format = \"1\"", "1:10 wrong-type: format needs a whole number",
       "Write format = 1, without quotation marks."},
  });
}

TEST_CASE("nothing more is said of a file of a newer format") {
  const Run run = run_job("format = 17\nkind = 3\nnovelty = true\n");
  CHECK(run.out.all().size() == 1);
  CHECK(!run.job);
}

TEST_CASE("unknown keys") {
  check_slips({
      {"client = \"A. Nother\"", "client = \"A. Nother\"\nclinet_contact = \"x\"",
       "7:1 unknown-key: the key \"clinet_contact\" is not known at the top of the file",
       "Did you mean \"client_contact\"?"},
      {"ze = 0.21", "zee = 0.21", "9:1 unknown-key: the key \"zee\" is not known in [supply]",
       "Did you mean \"ze\"?"},
      {"  zs = 0.46", "  zs = 0.46\n  R1R2 = 0.2",
       "17:3 unknown-key: the key \"R1R2\" is not known in [circuit.live]",
       "\"R1R2\" belongs in [circuit.dead]."},
      {"[supply]", "[supply]\nexisting = \"x\"",
       "9:1 unknown-key: the key \"existing\" is not known in [supply]",
       "\"existing\" belongs at the top of the file, before the first [section]."},
      {"  zs = 0.46", "  zs = 0.46\n  wobbliness = 1",
       "17:3 unknown-key: the key \"wobbliness\" is not known in [circuit.live]",
       "Known here: energised, polarity, phase_sequence, zs, zs_by, pfc, rcd, rcd_neutral, afdd_button, "
       "functional, "
       "instrument."},
  });
}

TEST_CASE("missing and empty keys") {
  check_slips({
      {"premises = \"1 High Row\"", "#", "1:1 missing-key: the file has no \"premises\"",
       "Add a line: premises = \"…\"   # address of the premises, with postcode"},
      {"date = 2026-11-20", "#", "1:1 missing-key: the file has no \"date\"",
       "Add a line: date = 2026-11-20   # day of the inspection and tests"},
      {"type = \"radial\"", "#", "10:1 missing-key: \"type\" is missing in [[circuit]]",
       "Add a line: type = \"ring final\"   # how the circuit is laid out"},
      {"client = \"A. Nother\"", "client = \"  \"", "6:10 missing-key: client is still empty",
       "Fill it in: who ordered the work."},
  });
  CHECK(run_job(replaced(kSmallJob, "board = \"CU1\"", "board = \"\"")).job);
}

TEST_CASE("wrong types") {
  check_slips({
      {"ref = \"1\"", "ref = 1",
       "12:7 wrong-type: ref needs text in quotation marks, and a whole number stands here",
       "Write ref = \"1\"."},
      {"ze = 0.21", "reconnected = \"yes\"",
       "9:15 wrong-type: reconnected needs true or false, and text stands here",
       "Write reconnected = true, without quotation marks."},
      {"ze = 0.21", "ze = true",
       "9:6 wrong-type: ze needs a reading in Ω, and true or false stands here",
       "A reading is a number, \">999\", \"<0.05\", \"LIM: why\" or \"N/A: why\"."},
      {"ze = 0.21", "neutral = \"25\"",
       "9:11 wrong-type: neutral needs a number in mm², and text stands here",
       "Write neutral = 25, without quotation marks."},
      {"[supply]", "[[supply]]", "8:1 wrong-type: supply needs a table, and a list stands here",
       "It stands once only: write its heading with single brackets."},
      {"date = 2026-11-20", "date = 2026-11-20T10:00:00",
       "3:8 wrong-type: date needs a date, and a date and time stands here",
       "Write the day alone, for example 2026-11-20."},
      {"ze = 0.21", "other_sources = 3",
       "9:17 wrong-type: other_sources needs a list of texts, and a whole number stands here",
       "Write other_sources = [\"3\"]."},
  });
}

TEST_CASE("a list written with single brackets is read all the same, so that all is found") {
  const Run run = run_job(replaced(replaced(kSmallJob, "[[circuit]]", "[circuit]"),
                                   "type = \"radial\"", "type = \"radail\""));
  CHECK(run.all() ==
        "10:2 wrong-type: circuit is a list, even where there is only one\n"
        "14:8 unknown-word: type: \"radail\" is not one of its words");
}

TEST_CASE("wrong units") {
  check_slips({
      {"ze = 0.21", "ze = \"0.21 ohm\"", "9:6 not-a-reading: ze: text stands behind the number",
       "Leave the unit out: it is in the key. Write 0.42, not \"0.42 ohm\"."},
      {"ze = 0.21", "ze = 0.21 ohm", "9:6 unit-behind-number: text stands behind the number 0.21",
       "Where the unit is known, leave it out: ze = 0.21. Text stands in quotation marks: "
       "\"0.21 ohm\"."},
      {"ze = 0.21", "neutral = \"25 mm2\"",
       "9:11 wrong-type: neutral needs a number in mm², and text stands here",
       "The unit is known: write neutral = 25."},
      {"board = \"CU1\"", "board = \"CU1\"\ncable = { line = 2.5, length = \"40 ft\" }",
       "12:32 wrong-type: length needs a number in m, and text stands here",
       "The figure stands alone and counts in m, not in ft."},
      {"ze = 0.21", "pfc = 1.1", "9:7 no-unit: pfc stands without its unit",
       "Write pfc = \"1.1 kA\" or pfc = \"1.1 A\"."},
      {"ze = 0.21", "pfc = \"1.1\"", "9:7 no-unit: pfc stands without its unit",
       "Write it like \"1.1 kA\" or \"1100 A\"."},
      {"ze = 0.21", "pfc = \"1.1 mA\"", "9:7 no-unit: pfc: \"1.1 mA\" is no fault current",
       "Write it like \"1.1 kA\" or \"1100 A\"."},
      {"ze = 0.21", "pfc = \"1100 kA\"", "9:7 out-of-range: pfc of 1100 kA cannot be right",
       "Check the figure and its unit: 1.1 kA is 1100 A."},
  });
}

TEST_CASE("dates that do not exist") {
  const std::string line = "date = 2026-11-20";
  check_slips({
      {line, "date = \"2026-02-30\"",
       "3:8 impossible-date: date: \"2026-02-30\" is not a date that exists",
       "Write year, month and day, for example 2026-11-20."},
      {line, "date = 2026-02-30", "3:8 impossible-date: \"2026-02-30\" is not a date that exists",
       "Write year, month and day, for example 2026-11-20."},
      {line, "date = \"20/11/2026\"",
       "3:8 impossible-date: date: \"20/11/2026\" is not a date that exists",
       "Write year, month and day: 2026-11-20."},
      {line, "date = 20/11/2026", "3:8 impossible-date: a date is written year, month, day",
       "Write 2026-11-20."},
      {line, line + "\nnext_inspection = \"1850-01-01\"",
       "4:19 impossible-date: next_inspection: \"1850-01-01\" is not a date that exists",
       "Write year, month and day, for example 2026-11-20."},
  });
  CHECK(run_job(replaced(kSmallJob, line, "date = \"2026-11-20\"")).job);
  CHECK(run_job(replaced(kSmallJob, line, "date = 2024-02-29")).job);
}

TEST_CASE("choices") {
  check_slips({
      {"kind = \"minor works\"", "kind = \"minor work\"",
       "2:8 unknown-word: kind: \"minor work\" is not one of its words",
       "Did you mean \"minor works\"?"},
      {"type = \"radial\"", "type = \"ring\"",
       "14:8 unknown-word: type: \"ring\" is not one of its words", "Did you mean \"ring final\"?"},
      {"ze = 0.21", "earthing = \"mains\"",
       "9:12 unknown-word: earthing: \"mains\" is not one of its words",
       "Allowed: \"TN-S\", \"TN-C-S\", \"TN-C\", \"TT\" or \"IT\"."},
      {"board = \"CU1\"", "feeds = [\"lighting\", \"sockt-outlets\"]",
       "11:22 unknown-word: feeds: \"sockt-outlets\" is not one of its words",
       "Did you mean \"socket-outlets\"?"},
      {"ze = 0.21", "phases = 2", "9:10 out-of-range: phases of 2 cannot be right",
       "Allowed is 1 or 3."},
  });
  CHECK(*run_job(replaced(kSmallJob, "ze = 0.21", "earthing = \"tncs\"")).job->supply.earthing ==
        limits::Earthing::tn_c_s);
  CHECK(*run_job(replaced(kSmallJob, "type = \"radial\"", "type = \" Ring Final\""))
             .job->circuits[0]
             .type == CircuitType::ring_final);
}

TEST_CASE("duplicate circuit references point at both") {
  const std::string again =
      "[[circuit]]\nboard = \"cu1\"\nref = \"1\"\nname = \"x\"\ntype = \"radial\"\n";
  const Run run = run_job(kSmallJob + again);
  CHECK(run.all() == "19:7 duplicate-circuit: circuit \"1\" stands twice on board cu1");
  REQUIRE(run.out.all().size() == 1);
  REQUIRE(run.out.all()[0].labels.size() == 1);
  const Label& label = run.out.all()[0].labels[0];
  CHECK(run.sources.get(1).line_column(label.span.begin).line == 12);
  CHECK(run.sources.slice(label.span) == "\"1\"");
  CHECK(run_job(kSmallJob + replaced(again, "board = \"cu1\"", "board = \"CU2\"")).job);
}

TEST_CASE("many errors are all found in one run, in the order of the file") {
  const Run run = run_job(
      "format = 1\n"
      "kind = \"minor wroks\"\n"
      "date = 2026-02-30\n"
      "person = \"rh\"\n"
      "premises = \"1 High Row\"\n"
      "clint = \"A. Nother\"\n"
      "work = \"Ω ½ ends here\n"
      "[supply]\n"
      "ze = 0,21\n"
      "pfc = 1.1\n"
      "polarity = True\n"
      "[[circuit]]\n"
      "ref = 3\n"
      "name = \"x\"\n"
      "type = \"radial\"\n"
      "device = \"RCBO B32\"\n"
      "  [circuit.dead]\n"
      "  r1 = 0.32 ohm\n"
      "  r1 = 0.32\n"
      "  rn = >99\n"
      "  insulation = { volts = 500, live_live = \">999\", live_earth = 3,5 }\n");
  CHECK(run.told_all() ==
        std::vector<std::string>{
            "1:1 missing-key: the file has no \"client\"",
            "2:8 unknown-word: kind: \"minor wroks\" is not one of its words",
            "3:8 impossible-date: \"2026-02-30\" is not a date that exists",
            "6:1 unknown-key: the key \"clint\" is not known at the top of the file",
            "7:8 open-quote: the quotation mark that opens here is not closed",
            "9:7 decimal-comma: a decimal comma stands where a point is needed",
            "10:7 no-unit: pfc stands without its unit",
            "11:12 flag-form: \"True\" is not written like that",
            "13:7 wrong-type: ref needs text in quotation marks, and a whole number stands here",
            "16:10 wrong-device: device: the rated residual current is missing",
            "18:8 unit-behind-number: text stands behind the number 0.32",
            "19:3 duplicate-key: this key stands twice in the same table",
            "20:8 no-quotes: \">99\" stands without quotation marks",
            "21:65 decimal-comma: a decimal comma stands where a point is needed",
        });
  CHECK(!run.job);
}

}  // namespace ohmleaf::record
