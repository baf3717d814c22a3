#include <doctest/doctest.h>
#include <stdlib.h>

#include <fstream>
#include <iterator>

#include "base/digest.h"
#include "base/text.h"
#include "pdf/paths.h"
#include "pdf/deflate.h"
#include "pdf/subset.h"
#include "support.h"

using namespace ohmleaf;
using namespace ohmleaf::layout;
using namespace ohmleaf::pdf;
using namespace ohmleaf::pdf::test;

namespace {

Document with_text(const std::string& text, Face face = Face::regular) {
  Maker make;
  make.text(50, 70, text, make.node(Role::paragraph, 0), face);
  return make.document;
}

std::string file_bytes(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

}  // namespace

TEST_CASE("a document with every kind of frame is a sound PDF to other tools") {
  const std::string pdf = rendered_sample();
  CHECK(has(look("qpdf --check {}", pdf), "No syntax or stream encoding errors found"));
  const std::string info = look("pdfinfo {}", pdf);
  CHECK(has(info, "PDF version:     1.7"));
  CHECK(has(info, "Tagged:          yes"));
  CHECK(has(info, "Pages:           2"));
  CHECK(has(info, "(A4)"));
  CHECK_FALSE(has(look("mutool draw -F trace {}", pdf), "error"));
}

TEST_CASE("the same input gives the same bytes, in any zone and locale") {
  const std::string first = rendered_sample();
  CHECK(rendered_sample() == first);
  setenv("TZ", "Asia/Tokyo", 1);
  setenv("LC_ALL", "de_DE.UTF-8", 1);
  CHECK(rendered_sample() == first);
  unsetenv("TZ");
  unsetenv("LC_ALL");
}

TEST_CASE("another seed, date or title gives another file") {
  const std::string first = rendered_sample();
  Meta meta = sample_meta();
  meta.id_seed += ".";
  CHECK(rendered(sample_document(), meta) != first);
  meta = sample_meta();
  meta.created.unix_seconds += 1;
  CHECK(rendered(sample_document(), meta) != first);
}

TEST_CASE("text comes out as it went in, by two unrelated readers") {
  const std::string pdf = rendered_sample();
  for (const char* command : {"pdftotext -enc UTF-8 {} -", "mutool draw -F txt {}"}) {
    const std::string text = look(command, pdf);
    CAPTURE(command);
    CHECK(has(text, "Minor works certificate"));
    CHECK(has(text, "Zs 0.43 Ω ≤ 1.37 Ω, IΔn = 30 mA, 45 °C, 2.5 mm², ½ ± × ÷ ≈ √ → ✓"));
    CHECK(has(text, "Ŵyn Ŷ ŵŷ Ẁ Ẃ Ẅ Ỳ; ḃċḋḟġṁṗṡṫ; Łódź, zażółć gęślą jaźń; “a” ‘b’ – — …"));
    CHECK(has(text, "In italic: from memory."));
    CHECK(has(text, "goes on overleaf."));
  }
}

TEST_CASE("every character of the faces survives the way through a page") {
  for (const Face face : {Face::regular, Face::bold, Face::italic}) {
    Maker make;
    std::string all;
    int y = 20;
    for (char32_t first = 0x21; first < 0x3000; first += 32) {
      std::u32string line;
      for (char32_t c = first; c < first + 32; ++c) {
        const bool letter = c != 0xA0 && c != 0x2126 && !is_forbidden_in_text(c) &&
                            !(c >= 0x2000 && c <= 0x200A) && c != 0x202F;
        if (letter && font_metrics().has_glyph(face, c)) line += c;
      }
      if (line.empty()) continue;
      std::string text;
      for (const char32_t c : line) append_utf8(text, c);
      make.text(20, y, text, make.node(Role::paragraph, 0), face);
      all += text;
      y += 12;
    }
    std::string out =
        look("pdftotext -enc UTF-8 -raw {} -", rendered(make.document, sample_meta()));
    std::erase_if(out, [](char c) { return c == '\n' || c == '\f' || c == ' '; });
    CHECK(out == all);
  }
}

TEST_CASE("fonts are embedded, subset, and have a map to Unicode") {
  const std::string fonts = look("pdffonts {}", rendered_sample());
  for (const char* name : {"+OhmleafSans-Regular", "+OhmleafSans-Bold", "+OhmleafSans-Italic"}) {
    CAPTURE(name);
    const std::string line = between(fonts, name, "\n");
    CHECK(has(line, "CID TrueType      Identity-H       yes yes yes"));
  }
  CHECK(count(fonts, "Ohmleaf") == 3);
}

TEST_CASE("a document pays only for the faces and characters it uses") {
  const std::string small = rendered(with_text("0.43 Ω"), Meta{});
  CHECK(count(look("pdffonts {}", small), "Ohmleaf") == 1);
  CHECK(small.size() < 9000);
}

TEST_CASE("what was embedded before changes nothing in the documents that follow") {
  const auto of = [](const std::string& text, Face face) {
    return rendered(with_text(text, face), Meta{});
  };
  std::vector<std::string> texts;  // more than are kept, each with characters of its own
  for (char c = 'a'; c <= 'z'; ++c) texts.push_back(std::string("0.43 ") + c);
  std::vector<std::string> first;
  for (const std::string& text : texts) first.push_back(of(text, Face::regular));
  for (const Face face : {Face::bold, Face::italic}) {  // the same glyphs of another face
    Subset subset(face);
    for (const char c : texts.back()) REQUIRE(subset.use(static_cast<char32_t>(c)));
    const Pdf pdf(of(texts.back(), face));
    const auto descriptors = pdf.of_type("/FontDescriptor");
    REQUIRE(descriptors.size() == 1);
    CHECK((pdf.stream(descriptors[0].at("/FontFile2")) == subset.file()));
  }
  for (std::size_t i = texts.size(); i-- > 0;) {
    CAPTURE(texts[i]);
    CHECK((of(texts[i], Face::regular) == first[i]));
  }
  for (const std::size_t i : {std::size_t{0}, texts.size() - 1})
    CHECK(has(look("pdftotext {} -", first[i]), texts[i]));
}

TEST_CASE("attachments come back byte for byte") {
  const TemporaryFile file(rendered_sample());
  const Output out = run("cd '" + file.folder() + "' && pdfdetach -saveall test.pdf");
  REQUIRE(out.status == 0);
  for (const Attachment& attachment : sample_meta().attachments) {
    CAPTURE(attachment.name);
    CHECK(file_bytes(file.folder() + "/" + attachment.name) == attachment.bytes);
  }
}

TEST_CASE("an attachment that was compressed before gives the same file") {
  Meta meta = sample_meta();
  std::vector<std::string> kept;  // what the views show
  kept.reserve(2 * meta.attachments.size());
  Deflater deflated;
  for (Attachment& a : meta.attachments) {
    kept.push_back(deflated(a.bytes));
    kept.push_back(md5_raw(a.bytes));
    a.ready = Attachment::Ready{kept[kept.size() - 2], kept.back()};
  }
  CHECK(meta.attachments.size() > 1);
  CHECK((rendered(sample_document(), meta) == rendered_sample()));
  meta.attachments[0].ready->deflated = kept[2];  // the control
  CHECK((rendered(sample_document(), meta) != rendered_sample()));
}

TEST_CASE("bookmarks keep their order, depth and page") {
  const std::string outline = look("mutool show {} outline", rendered_sample());
  const std::size_t first = outline.find("\"Certificate\"");
  const std::size_t second = outline.find("\t\"Circuit 1: Ω\"");
  const std::size_t third = outline.find("\t\"Circuit 2\"");
  const std::size_t fourth = outline.find("\"Overleaf\"");
  CHECK(first < second);
  CHECK(second < third);
  CHECK(third < fourth);
  CHECK(fourth != std::string::npos);
  CHECK(has(outline, "#page=2"));
}

TEST_CASE("a glyph that the font lacks is an error that shows the character") {
  const auto messages = refusals(with_text("Zs 漢 0.43", Face::bold), sample_meta());
  REQUIRE(messages.size() == 1);
  CHECK(messages[0] == "pdf-glyph: the font OhmleafSans-Bold has no glyph for \"漢\" (U+6F22)");
}

TEST_CASE("every missing character is reported, each once") {
  const auto messages = refusals(with_text("漢字漢字😀"), sample_meta());
  REQUIRE(messages.size() == 3);
  CHECK(has(messages[0], "(U+6F22)"));
  CHECK(has(messages[1], "(U+5B57)"));
  CHECK(has(messages[2], "(U+1F600)"));
}

TEST_CASE("text that is not valid, or cannot be printed, is refused") {
  CHECK(has(refusals(with_text("ab\xC3"), sample_meta()).at(0),
            "the text of a page is not valid UTF-8 at byte 2"));
  CHECK(has(refusals(with_text("ab\xED\xA0\x80"), sample_meta()).at(0), "not valid UTF-8"));
  CHECK(has(refusals(with_text("a\tb"), sample_meta()).at(0), "holds the character U+0009"));
  CHECK(has(refusals(with_text("a\nb"), sample_meta()).at(0), "holds the character U+000A"));
  CHECK(has(refusals(with_text("a\u202Eb"), sample_meta()).at(0), "holds the character U+202E"));
  Meta meta = sample_meta();
  meta.author = "R. Hallow\x1B[31m";
  CHECK(has(refusals(sample_document(), meta).at(0), "the author holds the character U+001B"));
  meta = sample_meta();
  meta.title = std::string(16001, 'a');
  CHECK(has(refusals(sample_document(), meta).at(0), "the title has 16001 characters"));
}

TEST_CASE("attachments with no name, a path, a twin or no media type are refused") {
  const auto with = [](std::string name, std::string type) {
    Meta meta = sample_meta();
    meta.attachments.push_back({std::move(name), std::move(type), "", "x"});
    return refusals(sample_document(), meta).at(0);
  };
  CHECK(has(with("", "text/plain"), "is named \"\""));
  CHECK(has(with("../job.toml", "text/plain"), "has no slash"));
  CHECK(has(with("job.toml", "text/plain"), "two attachments are named \"job.toml\""));
  CHECK(has(with("a.txt", "text"), "has the media type \"text\""));
  CHECK(has(with("a.txt", "text/"), "has the media type \"text/\""));
}

TEST_CASE("pages, images and bookmarks that do not fit together are refused") {
  Document document = sample_document();
  document.pages[1].height = 2_pt;
  CHECK(has(refusals(document, sample_meta()).at(0), "pdf-page-size"));
  document = sample_document();
  document.images[0].pixels.pop_back();
  CHECK(has(refusals(document, sample_meta()).at(0), "pdf-image"));
  document = sample_document();
  document.images[0].alpha.pop_back();
  CHECK(has(refusals(document, sample_meta()).at(0), "pdf-image"));
  document = sample_document();
  document.bookmarks[1].level = 2;
  CHECK(has(refusals(document, sample_meta()).at(0), "pdf-bookmark"));
  document = sample_document();
  document.bookmarks[1].page = 2;
  CHECK(has(refusals(document, sample_meta()).at(0), "pdf-bookmark"));
  document = sample_document();
  document.pages.clear();
  CHECK(has(refusals(document, sample_meta()).at(0), "pdf-pages"));
}

TEST_CASE("a refused document is a matter of input for text, of the program for structure") {
  Diagnostics text;
  CHECK_FALSE(render(with_text("漢"), sample_meta(), text).has_value());
  CHECK(text.trouble() == Trouble::input);
  Document document = sample_document();
  document.nodes.clear();
  Diagnostics structure;
  CHECK_FALSE(render(document, sample_meta(), structure).has_value());
  CHECK(structure.trouble() == Trouble::system);
}

TEST_CASE("lengths are written exactly, without a needless nought") {
  const auto written = [](std::int64_t value) {
    std::string out;
    append_thousandths(out, value);
    return out;
  };
  CHECK(written(0) == "0");
  CHECK(written(1) == "0.001");
  CHECK(written(-1500) == "-1.5");
  CHECK(written(595276) == "595.276");
  CHECK(written(12000) == "12");
  for (const std::int64_t whole : {0, 1, 9, 10, 99, 100, 999, 1000, 123456789})
    for (const std::int64_t rest : {0, 1, 10, 100, 120, 123, 999, 990, 900})
      for (const std::int64_t sign : {-1, 1}) {
        std::string expected = fmt::format("{}.{:03}", whole, rest);
        while (expected.back() == '0') expected.pop_back();
        if (expected.back() == '.') expected.pop_back();
        if (sign < 0 && whole + rest > 0) expected.insert(0, "-");
        CHECK(written(sign * (whole * 1000 + rest)) == expected);
      }
}

/// A page as poppler draws it at 72 dpi, where a point is a pixel.
class Drawn {
 public:
  Drawn(const layout::Document& document, int page) {
    const TemporaryFile file(rendered(document, sample_meta()));
    const Output out = run("cd '" + file.folder() + "' && pdftoppm -r 72 -gray test.pdf out && cat out-" +
                           std::to_string(page) + ".pgm");
    REQUIRE(out.status == 0);
    text_ = out.text;
    begin_ = text_.find("255\n") + 4;
    width_ = std::stoi(between(text_, "P5\n", " "));
  }
  int pixel(int x, int y) const {
    return static_cast<unsigned char>(text_.at(begin_ + static_cast<std::size_t>(y * width_ + x)));
  }

 private:
  std::string text_;
  std::size_t begin_ = 0;
  int width_ = 0;
};

TEST_CASE("frames are drawn where layout put them, counted from the top of the page") {
  // Rendered at 72 dpi a point is a pixel: the dark square must cover (100, 200) to (140, 240).
  Maker make;
  make.frame(RectFrame{100_pt, 200_pt, 40_pt, 40_pt, Color{0, 0, 0}, {}, {}, {}});
  make.node(Role::paragraph, 0);
  const Drawn page(make.document, 1);
  const auto pixel = [&](int x, int y) { return page.pixel(x, y); };
  CHECK(pixel(120, 220) == 0);
  CHECK(pixel(101, 202) == 0);
  CHECK(pixel(138, 237) == 0);
  CHECK(pixel(97, 220) == 255);
  CHECK(pixel(143, 220) == 255);
  CHECK(pixel(120, 197) == 255);
  CHECK(pixel(120, 244) == 255);
}

TEST_CASE("each symbol is drawn as itself, on whichever page it is met first") {
  // One is the upper half of its square, black; the other the lower half, grey.
  const auto half = [](Pt top, Color color) {
    PolygonFrame p;
    p.points = {{{}, top}, {1_pt, top}, {1_pt, top + 1_pt / 2}, {{}, top + 1_pt / 2}};
    p.fill = color;
    return std::make_shared<const Symbol>(Symbol{{p}});
  };
  const auto upper = half({}, Color{0, 0, 0}), lower = half(1_pt / 2, Color{128, 128, 128});
  Maker make;
  make.node(Role::paragraph, 0);
  make.document.pages.push_back(make.document.pages.front());
  const auto place = [&](std::size_t page, Pt x, const std::shared_ptr<const Symbol>& symbol) {
    make.document.pages[page].frames.emplace_back(SymbolFrame{x, 200_pt, 40_pt, symbol});
  };
  place(0, 100_pt, upper);
  place(1, 100_pt, lower);
  place(1, 160_pt, upper);
  const Drawn first(make.document, 1), second(make.document, 2);
  CHECK(first.pixel(120, 210) == 0);
  CHECK(first.pixel(120, 230) == 255);
  CHECK(second.pixel(120, 210) == 255);
  CHECK(second.pixel(120, 230) == 128);
  CHECK(second.pixel(180, 210) == 0);
  CHECK(second.pixel(180, 230) == 255);
  CHECK(second.pixel(97, 230) == 255);
  CHECK(second.pixel(143, 230) == 255);
}

