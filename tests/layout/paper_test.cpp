#include <algorithm>

#include "layout/support.h"

// Who signs, dangers, and the condition report: its classes and the outcome that follows.

using namespace ohmleaf;
using namespace ohmleaf::layout;
using namespace ohmleaf::layout::test;
using record::View;

namespace {

std::string at(const View& view, std::string_view path) {
  const View* v = view.at(path);
  return v ? v->text : std::string("(none)");
}

int count_of(const Document& d, std::string_view words) {
  int n = 0;
  for (const Page& p : d.pages)
    for (const std::string& t : texts_of(p))
      if (t.find(words) != std::string::npos) ++n;
  return n;
}

Case with_people() {
  Case c = plain_case();
  record::Person other;
  other.id = "tq";
  other.name = text("Tobiah Quillfeather");
  c.installer.people.push_back(other);
  return c;
}

record::Observation seen(const char* code, const char* what) {
  record::Observation o;
  o.what = text(what);
  if (*code) o.code = text(code);
  return o;
}

checks::Finding failed(const char* check, checks::Verdict verdict) {
  checks::Finding f;
  f.check = check;
  f.verdict = verdict;
  f.circuit = 0;
  f.observation = true;
  f.message = std::string("what ") + check + " says";
  return f;
}

Case report() {
  Case c = plain_case();
  c.job.kind.value = record::JobKind::condition_report;
  return c;
}

}  // namespace

TEST_CASE("one person signs an installation certificate once, several sign each for their part") {
  const Form form = form_from(read_form("installation"));
  Case c = with_people();
  const Document one = lay_out_or_fail(form, c.view());
  CHECK(count_of(one, "Not valid until signed") == 1);
  CHECK(count_of(one, "Signature: design, construction, inspection and testing") == 1);
  c.job.signing.construction = text("tq");
  const Document three = lay_out_or_fail(form, c.view());
  CHECK(count_of(three, "Not valid until signed") == 3);
  CHECK(count_of(three, "Tobiah Quillfeather") == 1);
  CHECK(at(c.view(), "signers.construction.name") == "Tobiah Quillfeather");
  CHECK(at(c.view(), "signers.design.name") == "Rosalind Hobday");  // the job's person
}

TEST_CASE("a signature image stands for whom it belongs to, ink is asked of the others") {
  Case c = with_people();
  c.job.signing.construction = text("tq");
  c.facts.signatures = {{"tq", 0}};
  const View view = c.view();
  CHECK(at(view, "signers.construction.image") == "0");
  CHECK(!view.at("signers.design.image")->present());
  Diagnostics found;
  const std::vector<Image> images{{4, 2, true, std::string(8, '\0'), {}}};
  const auto d = lay_out(form_from(read_form("installation")), view, FixedMetrics(), images, found);
  REQUIRE(d);
  CHECK(count_of(*d, "Not valid until signed") == 2);
}

TEST_CASE("minor works is signed once, a condition report by inspector and authoriser") {
  CHECK(count_of(lay_out_or_fail(form_from(read_form("minor-works")), plain_case().view()),
                 "Not valid until signed") == 1);
  CHECK(count_of(lay_out_or_fail(form_from(read_form("condition-report")), report().view()),
                 "Not valid until signed") == 2);
}

// C1, C2 and FI make a report unsatisfactory, C3 does not: common practice, from memory.
TEST_CASE("the outcome of a condition report follows from its observations") {
  struct Row {
    std::vector<const char*> codes;
    bool satisfactory;
  };
  for (const Row& row : std::vector<Row>{{{}, true},
                                         {{"C3"}, true},
                                         {{"C3", "C3"}, true},
                                         {{"C3", "FI"}, false},
                                         {{"C2"}, false},
                                         {{"C1", "C3"}, false},
                                         {{""}, false}}) {
    Case c = report();
    for (const char* code : row.codes) c.job.observations.push_back(seen(code, "something"));
    CHECK(c.view().at("report.satisfactory")->truthy() == row.satisfactory);
    CHECK(c.view().at("report.unsatisfactory")->truthy() != row.satisfactory);
    const Document d = lay_out_or_fail(form_from(read_form("condition-report")), c.view());
    CHECK(page_says(d.pages[0], row.satisfactory ? "Satisfactory, as far as" : "Unsatisfactory"));
  }
}

TEST_CASE("the gravest observation comes first") {
  Case c = report();
  for (const char* code : {"C3", "FI", "C1", "C2"}) c.job.observations.push_back(seen(code, code));
  std::string order;
  const View view = c.view();
  for (const View& o : view.at("report.observations")->items) order += at(o, "code") + " ";
  CHECK(order == "C1 C2 FI C3 ");
}

TEST_CASE("what the checks found is an observation, classified by the inspector or by default") {
  Case c = report();
  c.report.findings.push_back(failed("zs-overcurrent", checks::Verdict::fail));
  c.report.findings.push_back(failed("rcd-time", checks::Verdict::missing));
  const View before = c.view();
  const View* list = before.at("report.observations");
  REQUIRE(list->items.size() == 2);
  CHECK(at(list->items[0], "code") == "C2");
  CHECK(at(list->items[0], "proposed") == "true");
  CHECK(at(list->items[1], "code") == "FI");
  CHECK(before.at("report.unsatisfactory")->truthy());

  record::Observation mine = seen("C3", "a little over, by an old table");
  mine.check = text("zs-overcurrent");
  mine.circuit = text("3");
  c.job.observations.push_back(mine);
  record::Observation other = mine;
  other.check = text("rcd-time");
  c.job.observations.push_back(other);
  const View after = c.view();
  REQUIRE(after.at("report.observations")->items.size() == 2);
  CHECK(after.at("report.satisfactory")->truthy());
  const View& first = after.at("report.observations")->items[0];
  CHECK(at(first, "what") == "a little over, by an old table");
  CHECK(at(first, "reading") == "what zs-overcurrent says");
  CHECK(at(first, "proposed") == "false");
}

TEST_CASE("a danger comes first on the client's page, and its notice says what was done") {
  Case c = plain_case();
  record::Danger danger;
  danger.what = text("A live terminal could be touched.");
  danger.where = text("kitchen");
  danger.made_safe.value = true;
  danger.how = text("a new cover was fitted");
  danger.told = text("Wilhelmina Ferreday");
  danger.distributor = text("call 4417");
  c.job.dangers.push_back(danger);
  const Document page = lay_out_or_fail(form_from(read_form("client-page")), c.view());
  const auto texts = texts_of(page.pages[0]);
  const auto where = [&](std::string_view words) {
    return std::find_if(texts.begin(), texts.end(),
                        [&](const std::string& t) { return t.find(words) != std::string::npos; });
  };
  CHECK(where("A live terminal") < where("What was done, in plain words"));

  const Form notice = form_from(read_form("danger-notice"));
  const Document safe = lay_out_or_fail(notice, c.view());
  for (const char* words : {"A live terminal", "a new cover was fitted", "Wilhelmina Ferreday",
                            "call 4417", "Received by"})
    CHECK_MESSAGE(count_of(safe, words) > 0, words);
  CHECK(count_of(safe, "Not made safe") == 0);
  c.job.dangers[0].made_safe.value = false;
  CHECK(count_of(lay_out_or_fail(notice, c.view()), "Not made safe") == 1);
}

TEST_CASE(
    "a notice written by hand lists what is wrong with the installation, not with the papers") {
  Case c = plain_case();
  checks::Finding wiring = failed("zs-overcurrent", checks::Verdict::fail);
  checks::Finding meter = failed("calibration", checks::Verdict::fail);
  wiring.cell = "live.zs";
  meter.cell = "instrument.mft-1";
  c.report.findings = {wiring, meter};
  const Document d = lay_out_or_fail(form_from(read_form("danger-notice")), c.view());
  CHECK(count_of(d, "what zs-overcurrent says") == 1);
  CHECK(count_of(d, "what calibration says") == 0);
}

TEST_CASE("what judged a reading is printed: the uncertainty that is declared of an instrument") {
  Case c = plain_case();
  record::Instrument& meter = c.installer.instruments.front();
  meter.loop_percent.value = Percent(Decimal::integer(5));
  meter.loop_ohms.value = Ohms(*Decimal::parse("0.04"));
  meter.insulation_percent.value = Percent(Decimal::integer(10));
  const View view = c.view();
  std::vector<std::string> said;
  view.at("instruments")->each([&](const View& i) { said.push_back(i.at("uncertainty")->text); });
  CHECK(said == std::vector<std::string>{"MΩ ± 10 %; Zs ± (5 % + 0.04 Ω)"});
  for (const char* form : {"minor-works", "installation", "condition-report", "schedule"})
    CHECK(count_of(lay_out_or_fail(form_from(read_form(form)), view), "Uncertainty") == 1);
}

TEST_CASE("a note in its box is not torn apart by a page's end") {
  std::string words;
  for (int i = 0; i < 120; ++i) words += "caution" + std::to_string(i) + " ";
  for (int before = 30; before < 48; before += 2) {
    std::string source = "format = 1\ntitle = \"T\"\n";
    for (int i = 0; i < before; ++i)
      source += "[[block]]\ntype = \"paragraph\"\ntext = \"filler\"\n";
    source += "[[block]]\ntype = \"note\"\ncaption = \"Note\"\ntext = \"" + words + "\"\n";
    const Document d = lay_out_or_fail(form_from(source), plain_case().view());
    for (const Page& p : d.pages) CHECK(page_says(p, "caution0 ") == page_says(p, "caution119"));
  }
}
