#include <algorithm>
#include <array>
#include <set>

#include "layout/support.h"

using namespace ohmleaf;
using namespace ohmleaf::layout;
using namespace ohmleaf::layout::test;

namespace {

constexpr const char* kHead = R"(format = 1
title = "A form"
[page]
header_left = [ { path = "issue.number", empty = "Draft" } ]
header_middle = [ { path = "job.premises" } ]
)";

Case many(int circuits) {
  Case c = plain_case();
  const record::Circuit one = c.job.circuits.front();
  c.job.circuits.assign(static_cast<std::size_t>(circuits), one);
  for (int i = 0; i < circuits; ++i)
    c.job.circuits[static_cast<std::size_t>(i)].ref = text("way " + std::to_string(i + 1));
  return c;
}

const TextFrame* find_text(const Page& page, std::string_view words) {
  for (const Frame& f : page.frames)
    if (const auto* t = std::get_if<TextFrame>(&f); t && t->text == words) return t;
  return nullptr;
}

}  // namespace

TEST_CASE("every page names the certificate, the premises and its place among the pages") {
  const Form form = form_from(read_form("schedule"));
  const Document d = lay_out_or_fail(form, many(120).view());
  REQUIRE(d.pages.size() > 3);
  const std::string count = std::to_string(d.pages.size());
  for (std::size_t i = 0; i < d.pages.size(); ++i) {
    CHECK(page_says(d.pages[i], "page " + std::to_string(i + 1) + " of " + count));
    CHECK(page_says(d.pages[i], "HL-0017"));
    CHECK(page_says(d.pages[i], "Tallow Yard"));
  }
}

TEST_CASE("a draft is marked on every page, an issued certificate on none") {
  const Form form = form_from(read_form("minor-works"));
  Case c = many(12);
  c.facts.draft = true;
  c.facts.number.clear();
  const Document draft = lay_out_or_fail(form, c.view());
  REQUIRE(draft.pages.size() > 2);
  for (const Page& p : draft.pages) {
    CHECK(page_says(p, "DRAFT – NOT ISSUED"));
    CHECK(std::any_of(p.frames.begin(), p.frames.end(), [](const Frame& f) {
      const auto* word = std::get_if<SymbolFrame>(&f);
      return word && word->node == kArtifact && word->symbol->shapes.size() > 12 &&
             word->symbol->shapes.front().points.size() == 4;
    }));
  }
  // One of them is text that a screen reader finds.
  const auto texts = draft.pages.front().frames;
  CHECK(std::any_of(texts.begin(), texts.end(), [](const Frame& f) {
    const auto* t = std::get_if<TextFrame>(&f);
    return t && t->text == "DRAFT – NOT ISSUED" && t->node != kArtifact;
  }));
  c.facts.draft = false;
  c.facts.number = "HL-0017";
  for (const Page& p : lay_out_or_fail(form, c.view()).pages) CHECK(!page_says(p, "DRAFT"));
}

TEST_CASE("a form that is no certificate says so on every page, issued or not") {
  const Form form = form_from(read_form("site-sheet"));
  Case c = many(9);
  for (const bool draft : {true, false}) {
    c.facts.draft = draft;
    for (const Page& p : lay_out_or_fail(form, c.view()).pages)
      CHECK(page_says(p, "WORKING PAPER – NO CERTIFICATE"));
  }
}

TEST_CASE("a table that goes on repeats its heading; the repetition is decoration") {
  const Form form = form_from(std::string(kHead) + R"([[block]]
type = "table"
repeat = "circuits"
columns = [ { heading = "Reference", path = ".ref", key = true }, { heading = "Its name", path = ".name" } ]
)");
  const Document d = lay_out_or_fail(form, many(150).view());
  REQUIRE(d.pages.size() > 2);
  for (std::size_t i = 0; i < d.pages.size(); ++i) {
    const TextFrame* heading = find_text(d.pages[i], "Reference");
    REQUIRE(heading);
    CHECK((heading->node == kArtifact) == (i > 0));
  }
  // Every row is on exactly one page.
  std::multiset<std::string> rows;
  for (const Page& p : d.pages)
    for (const std::string& t : texts_of(p))
      if (t.starts_with("way ")) rows.insert(t);
  CHECK(rows.size() == 150);
  CHECK(rows.count("way 77") == 1);
}

TEST_CASE("a heading never stands last on a page") {
  for (int before = 0; before < 60; ++before) {
    std::string source = kHead;
    for (int i = 0; i < before; ++i)
      source += "[[block]]\ntype = \"paragraph\"\ntext = \"filler\"\n";
    source += "[[block]]\ntype = \"heading\"\ntext = \"The heading\"\n";
    source += "[[block]]\ntype = \"paragraph\"\ntext = \"what follows it\"\n";
    const Document d = lay_out_or_fail(form_from(source), plain_case().view());
    for (const Page& p : d.pages)
      CHECK(page_says(p, "The heading") == page_says(p, "what follows it"));
  }
}

TEST_CASE("a paragraph leaves no lonely line at a page's end or start") {
  std::string long_text;
  for (int i = 0; i < 420; ++i) long_text += "word" + std::to_string(i) + " ";
  for (int before = 30; before < 50; ++before) {
    std::string source = kHead;
    for (int i = 0; i < before; ++i)
      source += "[[block]]\ntype = \"paragraph\"\ntext = \"filler\"\n";
    source += "[[block]]\ntype = \"paragraph\"\ntext = \"" + long_text + "\"\n";
    const Document d = lay_out_or_fail(form_from(source), plain_case().view());
    for (const Page& p : d.pages) {
      const auto texts = texts_of(p);
      const auto lines = std::count_if(texts.begin(), texts.end(), [](const std::string& t) {
        return t.find("word") != std::string::npos;
      });
      CHECK(lines != 1);
    }
  }
}

TEST_CASE("a table too wide for the page upright goes to landscape pages, heading and all") {
  std::string columns;
  for (int i = 0; i < 20; ++i)
    columns += "{ heading = \"Column" + std::to_string(i) + "\", path = \".name\", min = 11 }, ";
  const Form form =
      form_from(std::string(kHead) + "[[block]]\ntype = \"heading\"\ntext = \"Wide\"\n" +
                "[[block]]\ntype = \"table\"\nrepeat = \"circuits\"\ncolumns = [ " + columns +
                "]\n[[block]]\ntype = \"paragraph\"\ntext = \"after\"\n");
  const Document d = lay_out_or_fail(form, many(3).view());
  REQUIRE(d.pages.size() == 2);
  CHECK(d.pages[0].width > d.pages[0].height);
  CHECK(page_says(d.pages[0], "Wide"));
  CHECK(d.pages[1].width < d.pages[1].height);
  CHECK(page_says(d.pages[1], "after"));
  CHECK(faults_of(d, form.page).empty());
}

TEST_CASE("a table too wide for any page is split, its key column repeated") {
  std::string columns = "{ heading = \"Key\", path = \".ref\", key = true }, ";
  for (int i = 0; i < 40; ++i)
    columns += "{ heading = \"Column" + std::to_string(i) + "\", path = \".name\", min = 15 }, ";
  const Form form = form_from(std::string(kHead) +
                              "[[block]]\ntype = \"table\"\nrepeat = \"circuits\"\ncolumns = [ " +
                              columns + "]\n");
  Case c = many(2);
  c.job.circuits[0].ref = text("A1");
  const Document d = lay_out_or_fail(form, c.view());
  int keys = 0;
  std::set<std::string> seen;
  for (const Page& p : d.pages)
    for (const std::string& t : texts_of(p)) {
      if (t == "A1") ++keys;
      if (t.starts_with("Column")) seen.insert(t);
    }
  CHECK(keys >= 3);
  CHECK(seen.size() == 40);
  CHECK(faults_of(d, form.page).empty());
}

TEST_CASE("a row that no page has room for is an error that names its block") {
  Case c = many(2);
  std::string huge;
  for (int i = 0; i < 4'000; ++i) huge += "endless ";
  c.job.circuits[1].name = text(huge);
  Sources sources;
  Diagnostics found;
  const SourceId id = sources.add("tall.toml", std::string(kHead) + R"([[block]]
type = "table"
caption = "The tall one"
repeat = "circuits"
columns = [ { heading = "Ref", path = ".ref" }, { heading = "Name", path = ".name", max = 30 } ]
)");
  const auto form = load_form(sources, id, found);
  REQUIRE(form);
  CHECK(!lay_out(*form, c.view(), FixedMetrics(), {}, found));
  const auto lines = described(sources, found);
  REQUIRE(lines.size() == 1);
  CHECK(lines[0].starts_with(
      "tall.toml:6:1 form-too-tall the table at line 6 (\"The tall one\") cannot fit"));
}

TEST_CASE("a character that no face has is an error that shows it") {
  Case c = plain_case();
  c.job.client = text("Client \u6F22");
  Diagnostics found;
  const Form form = form_from(read_form("minor-works"));
  CHECK(!lay_out(form, c.view(), FixedMetrics(), {}, found));
  REQUIRE(found.all().size() == 1);
  CHECK(found.all()[0].id == "no-glyph");
  CHECK(found.all()[0].message.find("(U+6F22)") != std::string::npos);
}

TEST_CASE("several forms make one document, each from a new page, numbered across the whole") {
  const Form first = form_from(read_form("minor-works")),
             second = form_from(read_form("client-page"));
  const std::array<const Form*, 2> both{&first, &second};
  const Case c = plain_case();
  Diagnostics found;
  const auto d = lay_out(both, c.view(), FixedMetrics(), {}, found);
  REQUIRE(d);
  const std::size_t alone = lay_out_or_fail(first, c.view()).pages.size();
  REQUIRE(d->pages.size() > alone);
  CHECK(page_says(d->pages[alone], "What was done, in plain words"));
  const std::string count = std::to_string(d->pages.size());
  CHECK(page_says(d->pages[0], "page 1 of " + count));
  CHECK(page_says(d->pages.back(), "page " + count + " of " + count));
  CHECK(d->title == "Minor works certificate");
}

TEST_CASE("bookmarks name sections and circuits, and no level is skipped") {
  const Document d = lay_out_or_fail(form_from(read_form("minor-works")), many(3).view());
  int level = -1;
  std::set<std::string> titles;
  for (const Bookmark& b : d.bookmarks) {
    CHECK(b.level <= level + 1);
    CHECK(b.page < d.pages.size());
    level = b.level;
    titles.insert(b.title);
  }
  CHECK(titles.count("Minor works certificate") == 1);
  CHECK(titles.count("Circuit CU1\u00A0/\u00A0way 2 · Workshop socket-outlets") == 1);
}

TEST_CASE("the same input gives the same frames") {
  const Form form = form_from(read_form("installation"));
  const Case c = random_case(5, 9);
  const Document a = lay_out_or_fail(form, c.view()), b = lay_out_or_fail(form, c.view());
  REQUIRE(a.pages.size() == b.pages.size());
  for (std::size_t i = 0; i < a.pages.size(); ++i)
    CHECK(texts_of(a.pages[i]) == texts_of(b.pages[i]));
}
