#include "record/support.h"

// Readings of a three-phase circuit: one figure for all, or one for each conductor or pair.

namespace ohmleaf::record {
namespace {

Run with_zs(const std::string& zs) {
  return run_job(replaced(kSmallJob, "  zs = 0.46", "  zs = " + zs));
}

Insulation insulation(const std::string& lines) {
  const Run run = run_job(kSmallJob + "  [circuit.dead.insulation]\n" + lines);
  REQUIRE_MESSAGE(run.job, run.all());
  return run.job->circuits[0].dead.insulation;
}

}  // namespace

TEST_CASE("one figure stands for all lines, or each has its own and the worst speaks") {
  const Run one = with_zs("0.46");
  REQUIRE(one.job);
  CHECK_FALSE(one.job->circuits[0].live.zs.divided());
  CHECK(one.job->circuits[0].live.zs->text == "0.46");

  const Run each = with_zs("{ L1 = 0.42, L2 = 0.44, L3 = 0.41 }");
  REQUIRE_MESSAGE(each.job, each.all());
  const auto& zs = each.job->circuits[0].live.zs;
  CHECK(zs.divided());
  CHECK(zs->text == "0.44");
  CHECK(zs.parts[0]->text == "0.42");
  CHECK(zs.parts[2]->text == "0.41");
  const LineColumn at = each.sources.get(zs.span.source).line_column(zs.span.begin);
  CHECK(at.line == 16);
  CHECK(at.column == 26);  // the worst of them, where it stands
}

TEST_CASE("what says nothing about a limit outranks every figure") {
  struct Row {
    std::string parts, worst;
  };
  for (const Row& r :
       std::vector<Row>{{"{ L1 = 0.42, L2 = \"LIM: sealed\", L3 = 9 }", "LIM: sealed"},
                        {"{ L1 = 0.42, L2 = \">0.1\" }", ">0.1"},
                        {"{ L1 = \"<0.5\", L2 = 0.4 }", "<0.5"},
                        {"{ L1 = \"N/A: two lines only\", L2 = 0.4 }", "0.4"}}) {
    CAPTURE(r.parts);
    const Run run = with_zs(r.parts);
    REQUIRE_MESSAGE(run.job, run.all());
    CHECK(run.job->circuits[0].live.zs->text == r.worst);
  }
  const Insulation i = insulation(
      "live_live = { L1-L2 = \">999\", L2-L3 = 480, L3-L1 = \"> 200\", L1-N = 460 }\n"
      "live_earth = { L1 = \">999\", L2 = \"<0.01\", L3 = 0, N = 3 }\n");
  CHECK(i.live_live->text == "> 200");  // at least 200: less is certain of it than of the others
  CHECK(i.live_earth->text == "<0.01");
}

TEST_CASE("fault currents of each line and of the three together") {
  const Run run = run_job(replaced(
      kSmallJob, "ze = 0.21",
      "pfc = { L1 = \"1.1 kA\", L2 = \"1050 A\", L3 = \"1.2 kA\", three-phase = \"2.1 kA\" }\n"
      "phase_sequence = true"));
  REQUIRE_MESSAGE(run.job, run.all());
  const Supply& s = run.job->supply;
  CHECK(s.pfc->text == "2.1 kA");
  CHECK(s.pfc.parts[1]->value == Kiloamps(*Decimal::parse("1.05")));
  CHECK(s.phase_sequence.value_or(false));
  const View view = view_of(*run.job);
  REQUIRE(view.at("supply.pfc.three-phase"));
  CHECK(view.at("supply.pfc.three-phase")->text == "2.1 kA");
  CHECK(job_shape().at("supply.pfc.L2")->unit == job_shape().at("supply.pfc")->unit);
}

TEST_CASE("a name of no line is told, with the one that is meant") {
  CHECK(with_zs("{ L1 = 0.42, L4 = 0.44 }").all() ==
        "16:21 unknown-key: the key \"L4\" is not known in [circuit.live.zs]");
  CHECK(with_zs("{ L1 = 0.42, L2 = 0,44 }").out.ok() == false);
  CHECK(with_zs("{ L1 = 0.42, L2 = \"0.44 ohm\" }").out.ok() == false);
  const Run list = with_zs("[0.42, 0.44, 0.41]");
  CHECK(list.all() ==
        "16:8 wrong-type: zs needs a reading, or one for each line, and a list stands here");
  REQUIRE(list.out.all()[0].hints.size() == 1);
  CHECK(list.out.all()[0].hints[0] ==
        "Write zs = { L1 = …, L2 = …, L3 = … }, or the worst of them alone.");
}

TEST_CASE("no line read is no reading") {
  const Run run = with_zs("{}");
  REQUIRE_MESSAGE(run.job, run.all());
  CHECK(run.job->circuits[0].live.zs.divided());
  CHECK_FALSE(run.job->circuits[0].live.zs);
}

}  // namespace ohmleaf::record
