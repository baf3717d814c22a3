// The tags: what a screen reader meets, and that nothing on a page is left out of them.
#include <doctest/doctest.h>

#include <set>

#include "pdf/structure.h"
#include "support.h"

using namespace ohmleaf;
using namespace ohmleaf::layout;
using namespace ohmleaf::pdf;
using namespace ohmleaf::pdf::test;
using nlohmann::json;

namespace {

std::string fault(const Document& document) {
  return refusals(document, sample_meta()).at(0);
}

/// A table with a head of `columns` cells and one row of `cells`.
Maker table(int columns, int cells) {
  Maker make;
  const NodeId made = make.node(Role::table, 0);
  const NodeId head = make.node(Role::row, make.node(Role::table_head, made));
  for (int i = 0; i < columns; ++i) make.header(head, Scope::column);
  const NodeId row = make.node(Role::row, make.node(Role::table_body, made));
  for (int i = 0; i < cells; ++i) make.node(Role::cell, row);
  return make;
}

}  // namespace

TEST_CASE("the page reads aloud in the order of meaning") {
  const std::string text = look("pdfinfo -struct-text {}", rendered_sample());
  const std::vector<std::string> order = {
      "Document",
      "Sect",
      "H1 (block)",
      "\"Minor works certificate\"",
      "P (block)",
      "\"The first line of a paragraph and its second, on the same page, \"",
      "\"goes on overleaf.\"",
      "P (block)",
      "\"Zs 0.43",
      "H2 (block)",
      "\"Schedule of tests\"",
      "Table (block)",
      "THead",
      "TR",
      "TH",
      "/Scope /Column",
      "\"Circuit\"",
      "\"Zs\"",
      "\"Headroom\"",
      "TBody",
      "TR",
      "TH",
      "/Scope /Row",
      "\"Circuit 1\"",
      "TD",
      "\"0.43 Ω\"",
      "TD",
      "Figure",
      "TR",
      "\"Circuit 2\"",
      "\"0.51 Ω\"",
      "TD",
      "/ColSpan 3",
      "\"Nothing else was tested.\"",
      "Figure",
      "L (block)",
      "LI",
      "Lbl",
      "\"•\"",
      "LBody",
      "\"Spare batteries were left.\"",
      "Note"};
  std::size_t at = 0;
  for (const std::string& next : order) {
    CAPTURE(next);
    const std::size_t found = text.find(next, at);
    REQUIRE(found != std::string::npos);
    at = found + next.size();
  }
  CHECK_FALSE(has(text, "DRAFT"));  // an artifact is not read
  CHECK_FALSE(has(text, "page 2 of 2"));
}

TEST_CASE("ISO 14289-1, 7.3: figures are described, and say where they stand") {
  const Pdf pdf(rendered_sample());
  std::multiset<std::string> descriptions;
  for (const auto& [key, object] : pdf.objects().items()) {
    const json dict = object.value("value", json());
    if (!dict.is_object() || dict.value("/S", "") != "/Figure") continue;
    descriptions.insert(plain(dict.at("/Alt")));
    REQUIRE(dict.at("/A").at("/BBox").size() == 4);  // ISO 32000-1, 14.8.5.4.3
    if (plain(dict.at("/Alt")) != "Logo of the firm") continue;
    CHECK(dict.at("/A").at("/BBox") == json::array({120, 531, 200, 572}));
  }
  CHECK(descriptions == std::multiset<std::string>{"31 % of the limit", "31 % of the limit", "Pass",
                                                   "Logo of the firm", "Signature"});
}

TEST_CASE("ISO 14289-1, 7.9: every note has an identifier, found in the tree of identifiers") {
  const Pdf pdf(rendered_sample());
  const json names = pdf.value(pdf.catalog().at("/StructTreeRoot")).at("/IDTree").at("/Names");
  REQUIRE(names.size() == 2);
  CHECK(pdf.value(names.at(1)).at("/S") == "/Note");
  CHECK(pdf.value(names.at(1)).at("/ID") == names.at(0));
}

TEST_CASE("every sequence on a page belongs to an element that knows it") {
  const Pdf pdf(subject());
  const json root = pdf.value(pdf.catalog().at("/StructTreeRoot"));
  const json numbers = pdf.value(root.at("/ParentTree")).at("/Nums");
  const auto pages = pdf.value(pdf.catalog().at("/Pages")).at("/Kids");
  // The field of a signature has a number of its own after the pages.
  REQUIRE(numbers.size() == 2 * (pages.size() + (subject_is_signed() ? 1 : 0)));
  for (std::size_t i = 0; i < pages.size(); ++i) {
    const json page = pdf.value(pages.at(i));
    CHECK(page.at("/StructParents") == i);
    CHECK(numbers.at(2 * i) == i);
    const json owners = pdf.value(numbers.at(2 * i + 1));
    const std::string content = pdf.stream(page.at("/Contents"));
    CHECK(count(content, "BDC") == owners.size());
    CHECK(count(content, "BDC") + count(content, "BMC") == count(content, "EMC"));
    for (std::size_t mcid = 0; mcid < owners.size(); ++mcid) {
      CAPTURE(mcid);
      const json element = pdf.value(owners.at(mcid));
      CHECK(has(content, element.at("/S").get<std::string>() + " <</MCID " + std::to_string(mcid) +
                             ">>BDC"));
      json kids = element.at("/K");
      if (!kids.is_array()) kids = json::array({kids});
      bool known = false;
      for (const json& kid : kids) {
        const json part =
            kid.is_number() ? json({{"/Pg", element.at("/Pg")}, {"/MCID", kid}}) : pdf.value(kid);
        known = known ||
                (part.value("/Pg", json()) == pages.at(i) && part.value("/MCID", json()) == mcid);
      }
      CHECK(known);
    }
  }
}

TEST_CASE(
    "ISO 14289-1, 7.1: all that is drawn stands inside a sequence, and sequences do not nest") {
  const Pdf pdf(subject());
  for (const json& page : pdf.pages()) {
    int open = 0;
    std::string line;
    for (const char c : pdf.stream(page.at("/Contents"))) {
      if (c != '\n') {
        line += c;
        continue;
      }
      CAPTURE(line);
      const bool opens = line.ends_with("BDC") || line.ends_with("BMC");
      if (opens)
        CHECK(open++ == 0);
      else if (line == "EMC")
        CHECK(open-- == 1);
      else if (!line.empty())
        CHECK(open == 1);
      // No text outside BT … ET, and both on the same line, so inside the sequence.
      CHECK(has(line, "Tj") == has(line, "BT "));
      CHECK(has(line, "BT ") == line.ends_with(" ET"));
      line.clear();
    }
    CHECK(open == 0);
  }
}

TEST_CASE("parents and children point at each other, from the root down") {
  const Pdf pdf(subject());
  const json top = pdf.catalog().at("/StructTreeRoot");
  std::vector<std::pair<json, json>> waiting = {{pdf.value(top).at("/K"), top}};
  std::size_t met = 0;
  while (!waiting.empty()) {
    const auto [reference, parent] = waiting.back();
    waiting.pop_back();
    const json element = pdf.value(reference);
    ++met;
    CHECK(element.at("/P") == parent);
    json kids = element.value("/K", json::array());
    if (!kids.is_array()) kids = json::array({kids});
    for (const json& kid : kids) {
      if (kid.is_string()) waiting.emplace_back(kid, reference);
    }
  }
  CHECK((subject_is_sample() ? met == sample_document().nodes.size() : met > 20));
}

TEST_CASE("words on two lines of a node stay two words, a hyphen joins, artifacts are left alone") {
  Maker make;
  const NodeId paragraph = make.node(Role::paragraph, 0);
  make.text(50, 70, "one", paragraph);
  make.text(50, 80, "two", paragraph);
  make.text(90, 80, "three", paragraph);
  make.text(50, 90, "radio-", paragraph);
  make.text(50, 100, "connected", paragraph);
  make.text(50, 200, "page", kArtifact);
  make.text(50, 210, "foot", kArtifact);
  const std::string pdf = rendered(make.document, sample_meta());
  CHECK(has(look("pdfinfo -struct-text {}", pdf), "\"one two three radio-connected\""));
  const std::string artifacts =
      between(Pdf(pdf).stream(Pdf(pdf).pages()[0].at("/Contents")), "BMC", "EMC");
  CHECK(count(artifacts, "Tj") == 2);
  CHECK(count(between(artifacts, "<", ">"), "0001") == 0);  // glyph 1 is the space
}

TEST_CASE("words of two spans on two lines stay two words, those that touch stay one") {
  Maker make;
  const NodeId paragraph = make.node(Role::paragraph, 0);
  const NodeId upper = make.node(Role::span, paragraph);
  const NodeId lower = make.node(Role::span, paragraph);
  make.text(50, 70, "limit", upper);
  make.text(50, 80, "1.37", lower);
  const int length = font_metrics().width(Face::regular, 8_pt, "1.37").milli;
  make.frame(TextFrame{{50'000 + length}, 80_pt, 8_pt, Face::regular, {}, "Ω", upper, false});
  const std::string text = look("pdfinfo -struct-text {}", rendered(make.document, sample_meta()));
  CHECK(has(text, "\"limit \""));
  CHECK(has(text, "\"1.37\""));
}

TEST_CASE("an element's own text keeps its place among its children") {
  Maker make;
  const NodeId paragraph = make.node(Role::paragraph, 0);
  const NodeId first = make.node(Role::span, paragraph);
  const NodeId second = make.node(Role::span, paragraph);
  make.text(50, 70, "before ", paragraph);
  make.text(80, 70, "first ", first);
  make.text(110, 70, "between ", paragraph);
  make.text(150, 70, "second ", second);
  make.text(190, 70, "after", paragraph);
  const std::string text = look("pdfinfo -struct-text {}", rendered(make.document, sample_meta()));
  std::size_t at = 0;
  for (const char* part : {"before", "first", "between", "second", "after"}) {
    CAPTURE(part);
    const std::size_t found = text.find(part, at);
    CHECK(found != std::string::npos);
    at = found;
  }
}

TEST_CASE("faults of the tree are refused, each with its name") {
  Document document = sample_document();
  document.nodes[1].parent = 5;
  CHECK(has(fault(document), "a node does not stand after its parent"));
  document = sample_document();
  document.nodes.clear();
  CHECK(has(fault(document), "there is no document node"));
  document = sample_document();
  document.nodes[0].role = Role::section;
  CHECK(has(fault(document), "the first node is not the document"));
  document = sample_document();
  document.language = "english (UK)";
  CHECK(has(fault(document), "the language is not a language tag"));
  Maker make;
  make.figure(0, "");
  CHECK(has(fault(make.document), "a figure has no description"));
  Maker lost;
  lost.text(50, 70, "lost", 7);
  CHECK(has(fault(lost.document), "a frame belongs to no node"));
  Maker picture;
  picture.frame(ImageFrame{1_pt, 1_pt, 1_pt, 1_pt, 0, picture.figure(0, "none")});
  CHECK(has(fault(picture.document), "a frame shows no image"));
}

TEST_CASE("ISO 14289-1, 7.2: parts of tables and lists stand only where they belong") {
  const auto inside = [](Role inner, Role outer) {
    Maker make;
    make.node(inner, make.node(outer, 0));
    return fault(make.document);
  };
  CHECK(has(inside(Role::row, Role::section), "TR stands in Sect"));
  CHECK(has(inside(Role::cell, Role::table), "TD stands in Table"));
  CHECK(has(inside(Role::paragraph, Role::table), "P stands in Table"));
  CHECK(has(inside(Role::table_head, Role::section), "THead stands in Sect"));
  CHECK(has(inside(Role::list_item, Role::section), "LI stands in Sect"));
  CHECK(has(inside(Role::list_body, Role::list), "LBody stands in L"));
  CHECK(has(inside(Role::document, Role::section), "Document stands in Sect"));
  Maker make;
  make.text(50, 70, "loose", make.node(Role::list, 0));
  CHECK(has(fault(make.document), "L holds a frame itself"));
}

TEST_CASE("ISO 14289-1, 7.2: the rows of a table fill the same number of columns") {
  CHECK(has(fault(table(3, 2).document), "the rows of a table fill different numbers of columns"));
  Maker wide = table(3, 2);
  wide.document.nodes.back().column_span = 2;
  CHECK_FALSE(rendered(wide.document, sample_meta()).empty());
  Maker deep = table(2, 2);
  deep.document.nodes.back().row_span = 2;
  CHECK(has(fault(deep.document), "different numbers of columns"));
  const NodeId body = deep.document.nodes[deep.document.nodes.size() - 3].parent;
  deep.node(Role::cell, deep.node(Role::row, body));
  CHECK_FALSE(rendered(deep.document, sample_meta()).empty());
  Maker headless = table(2, 2);
  headless.document.nodes.resize(5);
  CHECK(has(fault(headless.document), "a table has a head and no body"));
}

TEST_CASE("ISO 14289-1, 7.4.2: headings begin with H1 and skip no level") {
  const auto with = [](std::vector<Role> roles) {
    Maker make;
    const NodeId section = make.node(Role::section, 0);
    for (const Role role : roles) make.node(role, section);
    return make.document;
  };
  CHECK(has(fault(with({Role::h2})), "H2 comes where H1 is due"));
  CHECK(has(fault(with({Role::h1, Role::h3})), "H3 comes where H2 is due"));
  CHECK_FALSE(
      rendered(with({Role::h1, Role::h2, Role::h3, Role::h1, Role::h2}), sample_meta()).empty());
}
