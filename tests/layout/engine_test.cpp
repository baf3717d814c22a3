#include <algorithm>
#include <set>

#include "layout/eval.h"
#include "layout/support.h"

// What the engine promises of columns, breaks and grids, each without a PDF.

using namespace ohmleaf;
using namespace ohmleaf::layout;
using namespace ohmleaf::layout::test;

namespace {

constexpr const char* kHead = "format = 1\ntitle = \"A form\"\n";

Case many(int circuits) {
  Case c = plain_case();
  const record::Circuit one = c.job.circuits.front();
  c.job.circuits.assign(static_cast<std::size_t>(circuits), one);
  for (int i = 0; i < circuits; ++i)
    c.job.circuits[static_cast<std::size_t>(i)].ref = text("way" + std::to_string(i + 1));
  return c;
}

Document table(const std::string& columns, const Case& c, const std::string& more = "") {
  return lay_out_or_fail(form_from(std::string(kHead) +
                                   "[[block]]\ntype = \"table\"\nrepeat = "
                                   "\"circuits\"\n" +
                                   more + "columns = [ " + columns + " ]\n"),
                         c.view());
}

const TextFrame& text_at(const Document& d, std::string_view words) {
  for (const Page& p : d.pages)
    for (const Frame& f : p.frames)
      if (const auto* t = std::get_if<TextFrame>(&f); t && t->text == words) return *t;
  FAIL("nothing says " << words);
  std::abort();
}

/// The page (from 0) on which a text stands; -1 where none.
int page_of(const Document& d, std::string_view words) {
  for (std::size_t i = 0; i < d.pages.size(); ++i)
    if (page_says(d.pages[i], words)) return static_cast<int>(i);
  return -1;
}

std::string filler(int paragraphs) {
  std::string out;
  for (int i = 0; i < paragraphs; ++i)
    out += "[[block]]\ntype = \"paragraph\"\ntext = \"filler\"\n";
  return out;
}

}  // namespace

TEST_CASE("a column is never narrower than its minimum, nor asks for more than its maximum") {
  // Ten millimetres are 28.3 points; a cell has 3 points of air at each side.
  const Document wide = table(
      "{ heading = \"A\", path = \".ref\", min = 50 }, { heading = \"B\", path = \".ref\" }, "
      "{ heading = \"C\", path = \".ref\" }",
      many(2));
  CHECK(text_at(wide, "B").x - text_at(wide, "A").x >= 141_pt);
  const std::string often = "long words again and again ";
  Case c = many(2);
  c.job.circuits[0].name = text(often + often + often);
  const Document narrow = table(
      "{ heading = \"A\", path = \".name\", max = 30 }, { heading = \"B\", path = \".ref\" }", c);
  CHECK(text_at(narrow, "B").x - text_at(narrow, "A").x <= 92_pt);
  CHECK(page_says(narrow.pages[0], "again and"));  // wrapped, not cut
}

TEST_CASE("a word too long for its column is broken inside it, and no letter is lost") {
  Case c = many(1);
  std::string word;
  for (int i = 0; i < 60; ++i) word += static_cast<char>('a' + i % 26);
  c.job.circuits[0].name = text(word);
  const Document d = table(
      "{ heading = \"A\", path = \".name\", max = 20 }, { heading = \"B\", path = \".ref\" }", c);
  const Pt left = text_at(d, "A").x, right = text_at(d, "B").x;
  std::string joined;
  const FixedMetrics metrics;
  for (const Frame& f : d.pages[0].frames)
    if (const auto* t = std::get_if<TextFrame>(&f); t && t->x == left && t->text != "A") {
      joined += t->text;
      CHECK(t->x + metrics.width(t->face, t->size, t->text) <= right);
    }
  CHECK(joined == word);
}

TEST_CASE("a row never splits: all its lines stand on one page") {
  Case c = many(40);
  for (std::size_t i = 0; i < c.job.circuits.size(); ++i) {
    std::string words;
    for (int k = 0; k < 9; ++k)
      words += "row" + std::to_string(i) + "word" + std::to_string(k) + " ";
    c.job.circuits[i].name = text(words);
  }
  const Document d = table(
      "{ heading = \"Ref\", path = \".ref\", key = true }, { heading = \"Name\", path = \".name\", "
      "max = 30 }",
      c);
  REQUIRE(d.pages.size() > 2);
  for (std::size_t i = 0; i < c.job.circuits.size(); ++i) {
    std::set<int> pages;
    for (int k = 0; k < 9; ++k)
      pages.insert(page_of(d, "row" + std::to_string(i) + "word" + std::to_string(k)));
    CHECK(pages.size() == 1);
    CHECK(*pages.begin() >= 0);
  }
}

TEST_CASE("a rotated heading reads upwards and takes no more width than its column") {
  const Document d = table(
      "{ heading = \"Ref\", path = \".ref\", key = true }, "
      "{ heading = \"A rather long heading\", path = \".ref\", rotate = true, max = 12 }, "
      "{ heading = \"Last\", path = \".ref\" }",
      many(2));
  const TextFrame& label = text_at(d, "A rather long heading");
  CHECK(label.rotated);
  CHECK_FALSE(text_at(d, "Last").rotated);
  CHECK(text_at(d, "Last").x > label.x);
  const Form form = form_from(std::string(kHead) + "[[block]]\ntype = \"rule\"\n");
  CHECK(faults_of(d, form.page).empty());
}

TEST_CASE("what is kept together stands on one page, wherever it begins") {
  for (int before = 20; before < 60; before += 3) {
    std::string source =
        kHead + filler(before) + "[[block]]\ntype = \"group\"\nkeep_together = true\n";
    for (const char* words : {"first", "second", "third", "fourth"})
      source += std::string("  [[block.block]]\n  type = \"paragraph\"\n  text = \"the ") + words +
                "\"\n";
    const Document d = lay_out_or_fail(form_from(source), plain_case().view());
    CHECK(page_of(d, "the first") == page_of(d, "the fourth"));
  }
}

TEST_CASE("a page break begins a page, and makes no empty one") {
  const std::string source =
      std::string(kHead) + "[[block]]\ntype = \"page_break\"\n" + filler(1) +
      "[[block]]\ntype = \"page_break\"\n[[block]]\ntype = \"page_break\"\n" +
      "[[block]]\ntype = \"paragraph\"\ntext = \"after\"\n";
  const Document d = lay_out_or_fail(form_from(source), plain_case().view());
  REQUIRE(d.pages.size() == 2);
  CHECK(page_of(d, "filler") == 0);
  CHECK(page_of(d, "after") == 1);
}

TEST_CASE("a block that its condition hides leaves nothing, a list that is empty neither") {
  Case c = plain_case();
  const std::string source =
      std::string(kHead) +
      "[[block]]\ntype = \"paragraph\"\nwhen = \"verdict.blocked\"\ntext = \"hidden\"\n"
      "[[block]]\ntype = \"paragraph\"\nwhen = \"verdict.clear\"\ntext = \"shown\"\n"
      "[[block]]\ntype = \"group\"\nrepeat = \"circuits\"\n"
      "  [[block.block]]\n  type = \"group\"\n  repeat = \".accessories\"\n"
      "    [[block.block.block]]\n    type = \"paragraph\"\n    when = \"..ref\"\n"
      "    text = [ { path = \"..ref\" }, \" has \", { path = \".where\" } ]\n";
  const Document d = lay_out_or_fail(form_from(source), c.view());
  CHECK(page_of(d, "hidden") < 0);
  CHECK(page_of(d, "shown") == 0);
  CHECK(page_of(d, "3 has ") == 0);
  c.job.circuits[0].accessories.clear();
  CHECK(page_of(lay_out_or_fail(form_from(source), c.view()), " has ") < 0);
}

TEST_CASE("text of one step stands on the baseline grid of the theme") {
  std::string source = std::string(kHead) +
                       "[theme]\ngrid = 4\nbody = [9, 12]\nsmall = [8, 12]\n"
                       "tiny = [7, 12]\ntitle = [20, 24]\nsection = [12, 16]\nheading = [10, 12]\n"
                       "lead = [11, 16]\n";
  for (int i = 0; i < 30; ++i)
    source += std::string("[[block]]\ntype = \"") + (i % 5 == 0 ? "heading" : "paragraph") +
              "\"\ntext = \"line " + std::to_string(i) + "\"\n";
  const Document d = lay_out_or_fail(form_from(source), plain_case().view());
  std::optional<std::int32_t> phase;
  for (const Page& p : d.pages)
    for (const Frame& f : p.frames) {
      const auto* t = std::get_if<TextFrame>(&f);
      if (!t || t->size != 9_pt || t->text.rfind("line ", 0) != 0) continue;
      if (!phase) phase = t->baseline.milli % 4000;
      CHECK(t->baseline.milli % 4000 == *phase);
    }
  CHECK(phase);
}

TEST_CASE("a table in a card keeps to its card: in parts rather than on a page of another width") {
  std::string columns = "{ heading = \"Key\", path = \".name\", key = true, min = 20 }";
  for (int i = 0; i < 14; ++i)
    columns += ", { heading = \"Column" + std::to_string(i) + "\", path = \".name\", min = 16 }";
  const Form form = form_from(std::string(kHead) +
                              "[[block]]\ntype = \"group\"\nsurround = \"card\"\n"
                              "  [[block.block]]\n  type = \"table\"\n  repeat = \"circuits\"\n"
                              "  columns = [ " +
                              columns + " ]\n");
  const Document d = lay_out_or_fail(form, many(2).view());
  for (const Page& p : d.pages) CHECK(p.width < p.height);
  CHECK(page_of(d, "Column13") >= 0);
  CHECK(faults_of(d, form.page).empty());
}

TEST_CASE("a table whose every telling column hides is not printed as a list of names") {
  const Document d = table(
      "{ heading = \"Only names\", path = \".ref\", key = true }, "
      "{ heading = \"Fifth\", path = \".rcd_x5_ms\", show = \"reading\", hide_empty = true }",
      many(3));
  CHECK(page_of(d, "Only names") < 0);
}

TEST_CASE("a field of the installer's own is bound by its name") {
  Case c = plain_case();
  c.job.extra.push_back({"van_number", "seven", {}});
  const std::string source =
      std::string(kHead) +
      "[[block]]\ntype = \"paragraph\"\ntext = [ \"Van \", { path = \"extra.van_number\" } ]\n"
      "[[block]]\ntype = \"paragraph\"\nwhen = \"extra.absent\"\ntext = \"never\"\n"
      "[[block]]\ntype = \"paragraph\"\ntext = [ \"Other: \", { path = \"extra.absent\", empty = "
      "\"none\" } ]\n"
      "[[block]]\ntype = \"group\"\nrepeat = \"extras\"\n"
      "  [[block.block]]\n  type = \"paragraph\"\n  text = [ { path = \".key\" }, \" is \", { path "
      "= "
      "\".text\" } ]\n";
  const Document d = lay_out_or_fail(form_from(source), c.view());
  CHECK(page_of(d, "Van seven") == 0);
  CHECK(page_of(d, "never") < 0);
  CHECK(page_of(d, "none") == 0);
  CHECK(page_of(d, "van_number is seven") == 0);
}

TEST_CASE("a number keeps its unit, a limit its sign, a standard its number") {
  const std::string n = "\u00A0";
  for (const auto& [plain, kept] : std::vector<std::pair<std::string, std::string>>{
           {"RCBO B32, 30 mA type A, 6 kA", "RCBO B32, 30" + n + "mA type" + n + "A, 6" + n + "kA"},
           {"≤ 1.37 Ω", "≤" + n + "1.37" + n + "Ω"},
           {"to BS 7671:2018 by hand", "to BS" + n + "7671:2018 by hand"},
           {"type of cable", "type of cable"},
           {"3 A lamps, 4 lamps", "3" + n + "A lamps, 4 lamps"},
           {"", ""}})
    CHECK(glued(plain) == kept);
}

TEST_CASE("a tick that no check judges is still shown as it was given") {
  Case c = many(2);
  c.job.circuits[0].live.phase_sequence.value = true;
  const Document d = table(
      "{ heading = \"Ref\", path = \".ref\", key = true }, { heading = \"Sequence\", path = "
      "\".phase_sequence\", show = \"verdict\" }",
      c);
  CHECK(page_of(d, "yes") == 0);
}
