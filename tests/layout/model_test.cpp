#include <algorithm>

#include "layout/support.h"

using namespace ohmleaf;
using namespace ohmleaf::layout;
using namespace ohmleaf::layout::test;
using record::Shape;
using record::View;

namespace {

/// Members of a view that its shape does not know, or knows as another kind.
void compare(const View& view, const Shape& shape, const std::string& path,
             std::vector<std::string>& out) {
  if (view.kind == View::Kind::group)
    for (const auto& [name, member] : view.members) {
      const Shape* s = nullptr;
      for (const Shape& m : shape.members)
        if (m.name == name) s = &m;
      if (!s) {
        out.push_back(path + "." + name + " is not in the shape");
        continue;
      }
      if (member.kind != View::Kind::none && member.kind != s->kind)
        out.push_back(path + "." + name + " is of another kind");
      compare(member, *s, path + "." + name, out);
    }
  if (view.kind == View::Kind::list && !shape.members.empty())
    for (const View& item : view.items) compare(item, shape, path + "[]", out);
}

std::string at(const View& view, std::string_view path) {
  const View* v = view.at(path);
  return v ? v->text : "(none)";
}

}  // namespace

TEST_CASE("a record has nothing that its shape does not know") {
  for (const std::uint64_t seed : {1u, 2u, 3u}) {
    std::vector<std::string> wrong;
    compare(random_case(seed, 4).view(), document_shape(), "", wrong);
    for (const std::string& w : wrong) FAIL_CHECK(w);
  }
}

TEST_CASE("a cell carries the reading as written and what the checks say of it") {
  const View view = plain_case().view();
  const View* circuits = view.find("circuits");
  REQUIRE(circuits);
  REQUIRE(circuits->items.size() == 1);
  const View& c = circuits->items[0];
  CHECK(at(c, "place") ==
        "CU1\u00A0/\u00A0"
        "3");
  CHECK(at(c, "zs.text") == "0.43");
  CHECK(at(c, "zs.unit") == "Ω");
  CHECK(at(c, "zs.limit") == "≤ 1.37 Ω");
  CHECK(at(c, "zs.verdict") == "pass");
  CHECK(at(c, "zs.used_permille") == "314");
  CHECK(at(c, "insulation_live.text") == ">999");
  CHECK(at(c, "polarity.text") == "yes");
  CHECK(!c.find("rcd_x5_ms")->present());
  CHECK(at(view, "person.name") == "Rosalind Hobday");
  CHECK(at(view, "issue.number") == "HL-0017");
}

TEST_CASE("a reading that is missing still shows its limit") {
  Case c = plain_case();
  c.job.circuits[0].live.zs = {};
  c.report.findings[0].verdict = checks::Verdict::missing;
  c.report.findings[0].reading.clear();
  const View view = c.view();
  const View& cell = *view.find("circuits")->items[0].find("zs");
  CHECK(cell.present());
  CHECK(at(cell, "verdict") == "missing");
  CHECK(at(cell, "limit") == "≤ 1.37 Ω");
  const Document d = lay_out_or_fail(form_from(read_form("minor-works")), view);
  CHECK(page_says(d.pages[0], "missing"));
}

TEST_CASE("a reading given line by line is printed line by line") {
  Case c = plain_case();
  auto& zs = c.job.circuits[0].live.zs;
  const auto ohms = [](const char* written) {
    record::Measured<Ohms> out;
    out.value = Reading<Ohms>{ReadingKind::value, Ohms(*Decimal::parse(written)), written, {}};
    return out;
  };
  zs.parts[0] = ohms("0.42");
  zs.parts[1] = ohms("0.44");
  zs.parts[2] = ohms("0.41");
  zs.divide({}, {});
  checks::Finding f = c.report.findings[0];
  f.cell = "live.zs.L2";
  f.limit = "≤ 0.43 Ω";
  f.verdict = checks::Verdict::fail;
  c.report.findings[0].cell = "live.zs.L1";
  c.report.findings.push_back(f);
  const View view = c.view();
  const View& circuit = view.find("circuits")->items[0];
  CHECK(at(circuit, "zs.text") == "0.44");
  CHECK(at(circuit, "zs.limit") == "≤ 0.43 Ω");  // the worst line speaks for the whole
  CHECK(at(circuit, "zs.L1.limit") == "≤ 1.37 Ω");
  CHECK(at(circuit, "zs.L2.verdict") == "fail");
  CHECK(at(circuit, "zs.L3.text") == "0.41");
  REQUIRE(view.find("by_line")->items.size() == 1);
  const Document d = lay_out_or_fail(form_from(read_form("schedule")), view);
  bool printed = false;
  for (const Page& p : d.pages) printed = printed || (page_says(p, "0.42") && page_says(p, "0.41"));
  CHECK(printed);
  CHECK(document_shape().at("circuits.insulation_live.L1-L2"));
}

TEST_CASE("a three-phase circuit has a box on the site sheet for each line and pair") {
  Case c = plain_case();
  c.job.circuits[0].phase = text("three-phase");
  const View view = c.view();
  std::vector<std::string> names;
  for (const char* list : {"tests_dead", "tests_live"})
    for (const View& test : view.find("circuits")->items[0].find(list)->items)
      names.push_back(at(test, "name"));
  for (const char* wanted :
       {"Zs, L1", "Zs, L3", "Insulation, live to live, L1–L2", "Insulation, live to live, L3–N",
        "Insulation, live to earth, N", "Phase sequence",
        "Prospective fault current at the board, three-phase"})
    CHECK_MESSAGE(std::count(names.begin(), names.end(), wanted) == 1, wanted);
}

TEST_CASE("a unit that was written is printed once") {
  Case c = plain_case();
  Reading<Kiloamps> r;
  r.text = "1.1 kA";
  r.value = Kiloamps(*Decimal::parse("1.1"));
  c.job.supply.pfc.value = r;
  const View view = c.view();
  CHECK(at(view, "supply.pfc.text") == "1.1");
  CHECK(at(view, "supply.pfc.unit") == "kA");
}

TEST_CASE("one changed reading changes the printed cell") {
  const Form form = form_from(read_form("schedule"));
  Case c = plain_case();
  const auto shows = [&](std::string_view words) {
    for (const Page& p : lay_out_or_fail(form, c.view()).pages)
      if (page_says(p, words)) return true;
    return false;
  };
  CHECK(shows("0.43"));
  c.job.circuits[0].live.zs.value->text = "0.47";
  CHECK(shows("0.47"));
  c.report.findings[0].limit = "≤ 2.19 Ω";
  CHECK(shows("≤ 2.19 Ω"));
}

TEST_CASE("a limit is listed once, with all its circuits") {
  Case c = plain_case();
  c.job.circuits.push_back(c.job.circuits[0]);
  c.job.circuits[1].ref = text("4");
  c.job.circuits.push_back(c.job.circuits[0]);
  c.job.circuits[2].ref = text("5");
  checks::Finding again = c.report.findings[0];
  again.circuit = 1;
  c.report.findings.push_back(again);
  const View view = c.view();
  const View* limits = view.at("basis.limits");
  REQUIRE(limits);
  REQUIRE(limits->items.size() == 2);
  CHECK(at(limits->items[0], "circuits") ==
        "CU1\u00A0/\u00A0"
        "3, 4");
  again.circuit = 2;
  c.report.findings.push_back(again);
  CHECK(!c.view().at("basis.limits")->items[0].find("circuits")->present());  // it is all of them
}

TEST_CASE("the certificate never says that an installation is safe") {
  for (const std::string name :
       {"minor-works", "installation", "schedule", "client-page", "handover"}) {
    CAPTURE(name);
    std::string words = read_form(name);
    for (std::size_t i = words.find("safe"); i != std::string::npos;
         i = words.find("safe", i + 1)) {
      const bool safety_unimpaired =
          words.compare(i, 6, "safety") == 0 && words.find("does not impair the safety") == i - 20;
      CHECK(safety_unimpaired);
    }
  }
}

TEST_CASE("what is made when a form asks for it is what would have been made before") {
  Case c = plain_case();
  // Another circuit with other readings: what one row was shown must never stand in the next.
  c.job.circuits.push_back(c.job.circuits[0]);
  c.job.circuits[1].name.value = "Second circuit";
  c.job.circuits[1].live.zs.value =
      Reading<Ohms>{ReadingKind::value, Ohms(*Decimal::parse("7.77")), "7.77", {}};
  const auto texts = [](const Document& d) {
    std::string out;
    for (const Page& page : d.pages)
      for (const Frame& frame : page.frames)
        if (const auto* t = std::get_if<TextFrame>(&frame)) out += t->text + "\n";
    return out;
  };
  const View later = document_view(c.job, c.installer, c.report, c.facts);
  for (const char* name : {"minor-works", "installation", "condition-report", "client-page",
                           "handover", "schedule", "site-sheet"}) {
    CAPTURE(name);
    const auto form = form_from(read_form(name));
    const std::string printed = texts(lay_out_or_fail(form, c.view()));
    CHECK(printed.size() > 100);
    CHECK(texts(lay_out_or_fail(form, later)) == printed);
  }
  const std::string schedule = texts(lay_out_or_fail(form_from(read_form("schedule")), later));
  CHECK(schedule.find("7.77") != std::string::npos);
  CHECK(schedule.find("7.77", schedule.find("7.77") + 4) == std::string::npos);
}
