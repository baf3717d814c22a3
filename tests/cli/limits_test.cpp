#include <doctest/doctest.h>

#include "base/json.h"
#include "cli/asked.h"

// `ohmleaf limits …`: every question of the issue, in words and as JSON.

using namespace ohmleaf;
using namespace ohmleaf::test;

namespace {

/// The first result of a `--json` answer.
Json first(std::vector<std::string> args) {
  args.push_back("--json");
  const Asked asked(args);
  CHECK(asked.code == 0);
  std::string error;
  const auto json = parse_json(asked.out, error);
  REQUIRE_MESSAGE(json.has_value(), error);
  const Json* results = json->find("results");
  REQUIRE(results);
  REQUIRE(results->as_array());
  REQUIRE_FALSE(results->as_array()->empty());
  return results->as_array()->front();
}

}  // namespace

TEST_CASE("limits: the questions of the issue, each with its figure") {
  struct Case {
    std::vector<std::string> args;
    const char *printed, *exact, *provenance;
  };
  for (const Case& c : std::vector<Case>{
           {{"zs", "--device", "B32"}, "≤ 1.37 Ω", "1.3656", "published"},
           {{"zs", "--device", "B32", "--time", "0.4"}, "≤ 1.37 Ω", "1.3656", "published"},
           {{"zs", "--device", "BS 3036 30"}, "≤ 1.04 Ω", "1.04", "published"},
           {{"zs", "--device", "B32", "--system", "TT", "--rcd", "30"},
            "≤ 1667 Ω",
            "1666.6666",
            "published"},
           {{"r1r2", "--line", "2.5", "--cpc", "1.5", "--length", "22"},
            "0.429 Ω",
            "0.42922",
            "computed"},
           {{"r1r2", "--line", "2.5", "--cpc", "1.5", "--length", "22", "--at", "20"},
            "0.429 Ω",
            "0.42922",
            "computed"},
           {{"ring", "--r1", "0.32", "--rn", "0.33", "--r2", "0.52"},
            "0.1625 Ω",
            "0.1625",
            "computed"},
           {{"rcd", "--idn", "30"}, "≤ 300 ms", "300", "published"},
           {{"rcd", "--idn", "30", "--delayed"}, "130 to 500 ms", "130 to 500", "memory"},
           {{"insulation", "--volts", "230", "--parallel", "5,20,10"},
            "≥ 1.0 MΩ",
            "1.0",
            "published"},
           {{"drop", "--size", "2.5", "--length", "18", "--current", "16"},
            "5.19 V",
            "5.184",
            "computed"},
           {{"adiabatic", "--current", "120", "--time", "0.4", "--k", "115"},
            "0.66 mm²",
            "0.6599",
            "computed"},
           {{"fault", "--impedance", "0.28"}, "822 A", "821.4285", "computed"},
           {{"bonding", "--size", "10", "--length", "27"}, "0.049 Ω", "0.04941", "computed"},
           {{"capacity", "--size", "2.5"}, "27 A", "27", "published"},
           {{"time", "--use", "sockets"}, "≤ 0.4 s", "0.4", "published"},
           {{"k"}, "115", "115", "published"},
           {{"supply", "--system", "TN-C-S"}, "≤ 0.35 Ω", "0.35", "published"},
           {{"circuit"}, "≤ 32 A", "32", "published"},
           {{"protection", "--sockets"}, "RCD, at most 30 mA", "RCD, at most 30 mA", "memory"},
           {{"notify", "--nation", "england", "--work", "new-circuit"},
            "notifiable",
            "notifiable",
            "published"}}) {
    CAPTURE(c.args.front());
    CAPTURE(c.printed);
    const Json result = first(c.args);
    CHECK(result.text("printed") == c.printed);
    CHECK(result.text("exact") == c.exact);
    CHECK(result.text("provenance") == c.provenance);
    CHECK(result.text("edition") == "BS 7671:2018+A4:2026");
    for (const char* key : {"quantity", "value", "derivation", "source"})
      CHECK_FALSE(result.text(key).empty());
    CHECK(result.find("unit"));
    const Asked words(c.args);
    CHECK(words.code == 0);
    CHECK(words.err.empty());
    CHECK(words.says(c.printed));
  }
}

TEST_CASE("limits zs: words, guide and exact limit stand side by side") {
  const Asked asked({"zs", "--device", "B32", "--ze", "0.35", "--at", "10"});
  CHECK(asked.says("230 V × 0.95 ÷ (5 × 32 A) = 1.3656 Ω; printed 1.37 Ω"));
  CHECK(asked.says("≤ 1.09 Ω"));
  CHECK(asked.says("≤ 1.16 Ω"));
  CHECK(asked.says("edition BS 7671:2018+A4:2026"));
}

TEST_CASE("limits zs: above 32 A both uses are answered") {
  const Asked asked({"zs", "--device", "B40"});
  CHECK(asked.says("within 0.4 s (final circuit with socket-outlets)"));
  const Asked fuse({"zs", "--device", "BS 88-3 45"});
  CHECK(fuse.says("≤ 0.57 Ω"));
  CHECK(fuse.says("≤ 1.00 Ω"));
  CHECK_FALSE(fuse.says("FROM MEMORY"));
  CHECK(Asked({"rcd", "--idn", "30", "--delayed"}).says("FROM MEMORY"));
}

TEST_CASE("limits zs: TN with an RCD shows both limits and what lies between") {
  const Asked asked({"zs", "--device", "RCBO B32, 30 mA type A"});
  CHECK(asked.says("≤ 1.37 Ω"));
  CHECK(asked.says("≤ 1667 Ω"));
  CHECK(asked.says("disconnection relies on the RCD"));
  // An RCBO without its milliamperes still has its overcurrent limit.
  const Asked bare({"zs", "--device", "RCBO C20"});
  CHECK(bare.code == 0);
  CHECK(bare.says("≤ 1.09 Ω"));
  CHECK_FALSE(bare.says("1667"));
  CHECK(Asked({"zs", "--device", "RCBO C20", "--rcd", "30"}).says("≤ 1667 Ω"));
}

TEST_CASE("limits zs: TT asks for the RCD and does not show the overcurrent limit") {
  const Asked without({"zs", "--device", "B32", "--system", "TT"});
  CHECK(without.code == 2);
  CHECK(without.complains("--rcd 30"));
  const Asked with({"zs", "--device", "B32", "--system", "TT", "--rcd", "30"});
  CHECK(with.code == 0);
  CHECK_FALSE(with.says("1.37"));
  CHECK(with.says("does not apply"));
  CHECK(with.says("≤ 200 Ω"));
}

TEST_CASE("limits: what is wrong is named, with what exists, and nothing is answered") {
  struct Case {
    std::vector<std::string> args;
    const char *message, *exists;
  };
  for (const Case& c : std::vector<Case>{
           {{"zs", "--device", "B45", "--time", "0.4"},
            "not tabulated",
            "3, 6, 10, 16, 20, 25, 32"},
           {{"zs", "--device", "BS 88-2 80", "--time", "0.4"}, "not tabulated", "5 s (0.55 Ω)"},
           {{"zs", "--device", "BS 3036 30", "--time", "0.2"}, "not tabulated", "0.4 s (1.04 Ω)"},
           {{"zs", "--device", "XB32"}, "--device", "MCB B32"},
           {{"zs"}, "no device is named", "--device B32"},
           {{"zs", "--device", "B32", "--system", "TNX"}, "earthing system", "TN-C-S"},
           {{"zs", "--device", "B32", "--time", "soon"}, "no number", "--time 1.5"},
           {{"zs", "--device", "B32", "--use", "lights"}, "use of a circuit", "sockets, fixed"},
           {{"r1r2", "--line", "2.5", "--cpc", "1.5", "--length", "-5"},
            "not above zero",
            "more than 0"},
           {{"r1r2", "--line", "3", "--length", "5"}, "no conductor of 3 mm²", "2.5, 4, 6"},
           {{"r1r2", "--length", "5"}, "--line is missing", "--line 1.5"},
           {{"r1r2", "--line", "2.5", "--length", "22", "--at", "900"},
            "no temperature",
            "-50 to 250"},
           {{"r1r2", "--line", "2.5", "--length", "0,5"}, "no number", "with a point"},
           {{"ring", "--r1", "0.3", "--rn", "0.3"}, "--r2 is missing", "--r2 1.5"},
           {{"rcd"}, "--idn is missing", "--idn 1.5"},
           {{"rcd", "--idn", "0"}, "not above zero", "30000"},
           {{"rcd", "--idn", "30", "--delay", "200"}, "BS 4293", "--bs4293 --delay 200"},
           {{"rcd", "--idn", "30", "--load", "lamp"}, "kind of load", "electronic"},
           {{"insulation", "--parallel", "5,x"}, "\"x\"", "--parallel 5,20,10"},
           {{"insulation", "--volts", "230", "--selv"}, "end at 50 V", "Leave --selv out"},
           {{"drop", "--size", "25", "--length", "5", "--current", "5"},
            "no volt drop",
            "1, 1.5, 2.5"},
           {{"capacity", "--size", "2.5", "--method", "Z"}, "no capacity", "A"},
           {{"capacity", "--size", "2.5", "--circuits", "21"},
            "no grouping factor for 21 circuits",
            "1 to 9, 12, 16 and 20"},
           {{"capacity", "--size", "2.5", "--circuits", "2.5"}, "no grouping factor", "1 to 9"},
           {{"capacity", "--size", "2.5", "--arrangement", "wall"},
            "needs the number",
            "--circuits"},
           {{"capacity", "--size", "2.5", "--circuits", "3", "--arrangement", "heap"},
            "no arrangement",
            "bunched, wall, tray"},
           {{"capacity", "--size", "2.5", "--circuits", "3", "--arrangement", "tray"},
            "do not go with reference method C",
            "E and F"},
           {{"capacity", "--size", "2.5", "--phases", "3"},
            "no capacity for twin-earth of 2.5 mm² by reference method \"C\", three-phase",
            "for three phases multicore and"},
           {{"capacity", "--size", "2.5", "--phases", "2"}, "one phase or three", "--phases 3"},
           {{"drop", "--size", "2.5", "--length", "5", "--current", "5", "--phases", "3"},
            "no volt drop",
            "--cable multicore"},
           {{"zs", "--device", "B32", "--multiplier", "8"}, "both give a multiple", "MCB 32"},
           {{"zs", "--device", "MCB 32", "--multiplier", "0"}, "not above zero", "100"},
           {{"r1r2", "--line", "2.5/3"}, "no conductor of \"3\" mm²", "1.5, 2.5"},
           {{"r1r2", "--line", "2.5/1.5", "--cpc", "1.5"}, "both give", "--line 2.5 --cpc 1.5"},
           {{"capacity", "--size", "2.5", "--ambient", "65"}, "no ambient factor", "25 to 60 °C"},
           {{"capacity", "--size", "2.5", "--ib", "10"}, "belong together", "--ib 16 --in 20"},
           {{"adiabatic", "--current", "120"}, "--time or --size", "--time 0.4"},
           {{"k", "--place", "conduit"}, "no k for", "steel thermoplastic-70"},
           {{"fault", "--impedance", "0"}, "not above zero", "more than 0"},
           {{"bonding"}, "not complete", "--size 10 --length 27"},
           {{"bonding", "--system", "TN-C-S"}, "supply neutral", "--neutral 25"},
           {{"bonding", "--system", "TT"}, "earthing conductor", "--earthing 16"},
           {{"bonding", "--size", "12", "--length", "3"}, "no conductor", "10, 16"},
           {{"circuit", "--rating", "45", "--size", "10"}, "no floor area", "20 A in 2.5 mm²"},
           {{"notify"}, "kind of work is missing", "new-circuit"},
           {{"notify", "--work", "new-circuits"},
            "no kind of work",
            "Did you mean \"new-circuit\""},
           {{"--edition", "2011", "k"}, "no edition", "2008, 2015, 2018, 2022 and 2026"},
           {{"--date", "yesterday", "k"}, "no date", "2026-11-20"},
           {{"--date", "2026-02-30", "k"}, "no date", "2026-11-20"},
           {{"--table", "zsb"}, "no table", "Did you mean \"zs-b\""}}) {
    std::string all;
    for (const std::string& a : c.args) all += a + " ";
    CAPTURE(all);
    const Asked asked(c.args);
    CAPTURE(asked.err);
    CHECK(asked.code == 2);
    CHECK(asked.out.empty());
    CHECK(asked.complains(c.message));
    CHECK(asked.complains(c.exists));
    // The same as JSON, on standard output.
    auto json_args = c.args;
    json_args.push_back("--json");
    const Asked json(json_args);
    CHECK(json.code == 2);
    std::string error;
    const auto parsed = parse_json(json.out, error);
    REQUIRE(parsed);
    REQUIRE(parsed->find("errors"));
    CHECK_FALSE(parsed->find("errors")->as_array()->empty());
  }
}

TEST_CASE("limits: the edition is chosen by name or date, and shown") {
  CHECK(Asked({"zs", "--device", "B32", "--edition", "2008"}).says("≤ 1.44 Ω"));
  CHECK(Asked({"--edition", "2008", "zs", "--device", "B32"}).says("edition BS 7671:2008\n"));
  CHECK(Asked({"zs", "--device", "B32", "--date", "2014-05-01"}).says("≤ 1.44 Ω"));
  CHECK(Asked({"zs", "--device", "B32", "--date", "2016-05-01"}).says("BS 7671:2008+A3:2015"));
  CHECK(Asked({"rcd", "--idn", "30", "--edition", "2018"}).says("≤ 40 ms"));
  CHECK(Asked({"zs", "--device", "B32", "--date", "2014-05-01", "--edition", "2022"}).code == 2);
}

TEST_CASE("limits: three phases") {
  const Asked cable({"capacity", "--size", "2.5", "--cable", "multicore", "--phases", "3"});
  CHECK(cable.says("24 A"));
  CHECK(cable.says("three loaded conductors"));
  const Asked drop({"drop", "--cable", "multicore", "--size", "4", "--length", "30", "--current",
                    "20", "--phases", "3"});
  CHECK(drop.says("9.5 mV/A/m × 20 A × 30 m ÷ 1000 = 5.7 V"));
  CHECK(drop.says("≤ 12.0 V"));
  CHECK(drop.says("≤ 20.0 V"));
  CHECK(drop.says("Line to line"));
  const Asked large({"drop", "--cable", "multicore", "--size", "25", "--length", "30", "--current",
                     "60", "--phases", "3"});
  CHECK(large.says("√3 ÷ 2"));
  CHECK(large.says("FROM MEMORY"));
}

TEST_CASE("limits rcd: half and five times IΔn too, where the edition asks for one test only") {
  const Asked now({"rcd", "--idn", "30"});
  CHECK(now.says("operating time at 0.5 × IΔn by the product standard"));
  CHECK(now.says("must not operate"));
  CHECK(now.says("≤ 40 ms"));
  const Asked delayed({"rcd", "--idn", "100", "--delayed"});
  CHECK(delayed.says("50 to 150 ms"));
}

TEST_CASE("limits zs: a multiple of In, in the text or as an option") {
  const Asked text({"zs", "--device", "MCB 32, 8x"});
  const Asked option({"zs", "--device", "MCB 32", "--multiplier", "8"});
  CHECK(text.code == 0);
  CHECK(text.out == option.out);
  CHECK(option.says("≤ 0.85 Ω"));  // 230 V × 0.95 ÷ (8 × 32 A) = 0.8535
  CHECK(Asked({"zs", "--device", "MCB 6", "--multiplier", "2.5", "--json"}).code == 0);
  CHECK(Asked({"zs", "--help"}).says("--multiplier 8"));
}

TEST_CASE("limits r1r2: both sizes in one, as the trade writes them") {
  const Asked one({"r1r2", "--line", "2.5/1.5", "--length", "22"});
  CHECK(one.code == 0);
  CHECK(one.out == Asked({"r1r2", "--line", "2.5", "--cpc", "1.5", "--length", "22"}).out);
}

TEST_CASE("limits: load side, spurs and rules in words") {
  const Asked iz(
      {"capacity", "--size", "2.5", "--ambient", "35", "--bs3036", "--ib", "16", "--in", "20"});
  CHECK(iz.says("18.4 A"));
  CHECK(iz.says("does not hold"));
  CHECK(Asked({"capacity", "--size", "2.5", "--ib", "16", "--in", "20"}).says("holds"));
  CHECK(Asked({"capacity", "--size", "4", "--cable", "singles"}).says("32 A"));
  CHECK(Asked({"capacity", "--size", "2.5", "--grouping", "0.8"}).says("21.6 A"));
  // diybanter.com 1824: two circuits on a wall, 0.85 × 27 A.
  const Asked wall({"capacity", "--size", "2.5", "--circuits", "2", "--arrangement", "wall"});
  CHECK(wall.says("27 A × 0.85 = 22.95 A"));
  CHECK(wall.says("22.9 A"));
  CHECK(Asked({"capacity", "--size", "2.5", "--circuits", "10"}).says("tabulated for 12"));
  CHECK(Asked({"capacity", "--size", "2.5", "--method", "101", "--circuits", "2"})
            .says("for method 101 its factor is guidance"));
  CHECK(Asked({"--table", "grouping"}).says("ladder, 20"));
  CHECK(Asked({"drop", "--size", "1.5", "--length", "30", "--current", "10"})
            .says("Above the limit for lighting, within that for other uses."));
  CHECK(Asked({"circuit", "--rating", "32", "--size", "4"}).says("50 m²"));
  CHECK(Asked({"notify", "--work", "kitchen"}).says("confirm with the local authority"));
  CHECK(Asked({"protection", "--bathroom", "--concealed"}).says("bath or shower"));
  CHECK(Asked({"fault", "--impedance", "0.03", "--breaking", "6"}).says("does not cover it"));
  CHECK(Asked({"fault", "--impedance", "0.28", "--breaking", "6"}).says("covers it"));
  CHECK(Asked({"bonding", "--system", "TN-C-S", "--neutral", "25"}).says("≥ 10 mm²"));
  CHECK(Asked({"bonding", "--line", "25"}).says("≥ 16 mm²"));
  CHECK(Asked({"r1r2", "--line", "2.5", "--cpc", "1.5", "--reading", "0.43", "--at", "10"})
            .says("22.9 m"));
  CHECK(Asked({"adiabatic", "--current", "435", "--time", "0.4"}).says("k = 115"));
}

TEST_CASE("limits: help at every depth, and hostile words are shown harmless") {
  CHECK(Asked({}).says("zs"));
  CHECK(Asked({"--help"}).says("Maximum earth-fault-loop impedance"));
  const Asked zs({"zs", "--help"});
  CHECK(zs.code == 0);
  CHECK(zs.says("--device"));
  const Asked wrong({"zs", "--devise", "B32"});
  CHECK(wrong.code == 2);
  CHECK(wrong.complains("ohmleaf limits zs --help"));
  for (const char* option : {"--device", "--time", "--system", "--rcd"}) {
    const Asked hostile({"zs", "--device", "B32", option, "\x1b[31m\xff"});
    CHECK(hostile.code == 2);
    CHECK(hostile.err.find('\x1b') == std::string::npos);
  }
  CHECK(Asked({"zs", "--device", std::string(5000, 'B')}).code == 2);
  CHECK(Asked({"fault", "--impedance", "99999999999999999999999"}).code == 2);
}
