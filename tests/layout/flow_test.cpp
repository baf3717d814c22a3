#include <array>

#include "layout/support.h"
#include "layout/text_flow.h"
#include "layout/theme.h"

using namespace ohmleaf;
using namespace ohmleaf::layout;
using namespace ohmleaf::layout::test;

namespace {

/// Lines of a text where a line holds `characters` characters.
std::vector<std::string> broken(std::string text, int characters) {
  const Rich rich{{std::move(text), Face::regular, {}}};
  std::vector<std::string> out;
  for (const TextLine& line : break_lines(rich, 10_pt, 5_pt * characters, FixedMetrics())) {
    std::string joined;
    for (const Fragment& f : line.fragments) joined += f.text;
    out.push_back(joined);
  }
  return out;
}

using Lines = std::vector<std::string>;

}  // namespace

TEST_CASE("text breaks at spaces") {
  CHECK(broken("one two three", 7) == Lines{"one two", "three"});
  CHECK(broken("one two three", 13) == Lines{"one two three"});
  CHECK(broken("one two three", 12) == Lines{"one two", "three"});
  CHECK(broken("  two   spaces ", 20) == Lines{"two spaces"});
  CHECK(broken("", 5) == Lines{""});
}

TEST_CASE("text breaks after hyphens and slashes of long words, not of short ones") {
  CHECK(broken("socket-outlets", 10) == Lines{"socket-", "outlets"});
  CHECK(broken("at N/A and", 5) == Lines{"at", "N/A", "and"});
  CHECK(broken("L-N test", 6) == Lines{"L-N", "test"});
}

TEST_CASE("a word longer than the line is broken where it must be, never lost") {
  CHECK(broken("abcdefghij", 4) == Lines{"abcd", "efgh", "ij"});
  CHECK(broken("ab abcdefgh", 4) == Lines{"ab", "abcd", "efgh"});
  CHECK(broken("żółtyźródło", 5) == Lines{"żółty", "źródł", "o"});
}

TEST_CASE("line feeds start lines; a space that may not break does not") {
  CHECK(broken("one\ntwo three", 20) == Lines{"one", "two three"});
  CHECK(broken("six 6\u00A0kA", 7) == Lines{"six", "6\u00A0kA"});
}

TEST_CASE("a word made of several chunks stays whole") {
  const Rich rich{
      {"(see ", Face::regular, {}}, {"Table", Face::bold, {}}, {")", Face::regular, {}}};
  const auto lines = break_lines(rich, 10_pt, 45_pt, FixedMetrics());
  REQUIRE(lines.size() == 2);
  CHECK(lines[1].fragments.size() == 2);
  CHECK(lines[1].width == 30_pt);
}

TEST_CASE("what a text asks for is what breaking it comes to") {
  const FixedMetrics metrics;
  const std::array<const char*, 10> parts{"one", "zwölf", " ", "  ", "\n", "\n\n", "-", "0.42",
                                         "socket-outlets", "6\u00A0kA"};
  unsigned random = 20261126;
  const auto next = [&](unsigned below) {
    random = random * 1664525u + 1013904223u;
    return (random >> 16) % below;
  };
  int whole_lines = 0;
  for (int round = 0; round < 5'000; ++round) {
    Rich rich;
    for (unsigned chunk = 0, chunks = 1 + next(3); chunk < chunks; ++chunk) {
      rich.push_back({"", next(2) == 0 ? Face::regular : Face::bold, {}});
      for (unsigned n = next(6); n > 0; --n) rich.back().text += parts[next(parts.size())];
    }
    const TextExtent extent = text_extent(rich, 10_pt, metrics);
    const auto lines = break_lines(rich, 10_pt, extent.natural, metrics);
    Pt widest;
    for (const TextLine& line : lines) widest = std::max(widest, line.width);
    CAPTURE(round);
    REQUIRE(extent.lines == static_cast<int>(lines.size()));
    const Pt width = 1_pt * (1 + static_cast<int>(next(80)));
    REQUIRE(count_lines(rich, 10_pt, width, metrics) ==
            static_cast<int>(break_lines(rich, 10_pt, width, metrics).size()));
    REQUIRE(extent.natural == widest);
    if (const auto whole = whole_line(rich, extent)) {
      ++whole_lines;
      REQUIRE(lines.size() == 1);
      REQUIRE(lines[0].fragments.size() == 1);
      CHECK(whole->width == lines[0].width);
      CHECK(whole->fragments[0].text == lines[0].fragments[0].text);
      CHECK(whole->fragments[0].x == lines[0].fragments[0].x);
      CHECK(whole->fragments[0].face == lines[0].fragments[0].face);
    }
    REQUIRE(break_lines(rich, 10_pt, 20'000_pt, metrics).size() == lines.size());
    if (extent.natural > 5_pt) {  // of more than one character: with less room something gives way
      const auto closer = break_lines(rich, 10_pt, extent.natural - 1_pt, metrics);
      REQUIRE(closer.size() > lines.size());
    }
  }
  CHECK(whole_lines > 400);
}

TEST_CASE("what may not be printed does not reach the page") {
  CHECK(printable("a\tb\x01"
                  "c\u202E"
                  "d") ==
        "a b"
        "cd");
  CHECK(printable("e\u0301") == "\u00E9");
}

// WCAG 2.1, definitions of relative luminance and contrast ratio: black on white is 21:1.
TEST_CASE("contrast is that of WCAG") {
  CHECK(contrast({0, 0, 0}, {255, 255, 255}) == 2100);
  CHECK(contrast({255, 255, 255}, {0, 0, 0}) == 2100);
  CHECK(contrast({12, 34, 56}, {12, 34, 56}) == 100);
  // #767676 is the lightest grey that keeps 4.5:1 on white, from memory.
  CHECK(contrast({0x76, 0x76, 0x76}, {255, 255, 255}) >= 450);
  CHECK(contrast({0x77, 0x77, 0x77}, {255, 255, 255}) < 450);
}

TEST_CASE("every theme of ours loads, and its text can be read") {
  for (const std::string name : {"theme-harbour", "theme-clay", "theme-large"}) {
    CAPTURE(name);
    Sources sources;
    Diagnostics found;
    const SourceId id = sources.add(name, read_form(name));
    const auto theme = load_theme(sources, id, found);
    for (const std::string& line : described(sources, found)) FAIL_CHECK(line);
    REQUIRE(theme);
    const SourceId form_id = sources.add("schedule.toml", read_form("schedule"));
    const auto form = load_form(sources, form_id, found, *theme);
    REQUIRE(form);
    CHECK(form->theme.accent == theme->accent);
    const Document d = lay_out_or_fail(*form, random_case(3, 5).view());
    for (const std::string& fault : faults_of(d, form->page)) FAIL_CHECK(fault);
  }
}

TEST_CASE("an accent too light to be read is printed darker, with a warning") {
  Case c = plain_case();
  c.installer.look.accent = text("#9FE0C8");
  Diagnostics found;
  const Form form = form_from(read_form("minor-works"));
  REQUIRE(lay_out(form, c.view(), FixedMetrics(), {}, found));
  REQUIRE(found.all().size() == 1);
  CHECK(found.all()[0].severity == Severity::warning);
  const Theme theme;
  const Color darker = readable({0x9F, 0xE0, 0xC8}, theme);
  CHECK(contrast(darker, theme.paper) >= 450);
  CHECK(contrast(darker, theme.ground) >= 450);
  CHECK(readable(theme.accent, theme) == theme.accent);
}
