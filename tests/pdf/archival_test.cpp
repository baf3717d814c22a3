// PDF/A-3 level A (ISO 19005-3:2012) and PDF/UA-1 (ISO 14289-1:2014), rule by rule over the
// objects as qpdf reads them. Clause numbers as in the validation profiles that veraPDF
// publishes for these standards.
#include <doctest/doctest.h>

#include <algorithm>
#include <set>

#include "base/digest.h"
#include "pdf/big_endian.h"
#include "support.h"

using namespace ohmleaf;
using namespace ohmleaf::pdf;
using namespace ohmleaf::pdf::test;
using nlohmann::json;

namespace {

/// Every dictionary inside a value, whatever its depth.
void walk(const json& value, std::vector<json>& found) {
  if (value.is_object()) found.push_back(value);
  if (!value.is_structured()) return;
  for (const json& part : value) walk(part, found);
}

std::vector<json> all_dictionaries(const Pdf& pdf) {
  std::vector<json> found;
  for (const json& object : pdf.objects()) {
    walk(object.contains("stream") ? object.at("stream").at("dict") : object.at("value"), found);
  }
  return found;
}

/// The bytes of the literal string at `at`, which moves to its end (ISO 32000-1, 7.3.4.2).
std::string literal(std::string_view content, std::size_t& at) {
  std::string bytes;
  for (++at; at < content.size() && content[at] != ')'; ++at) {
    char c = content[at];
    if (c == '\\') {
      c = content[++at];
      c = c == 'n' ? '\n' : c == 'r' ? '\r' : c;
    }
    bytes += c;
  }
  return bytes;
}

/// The codes that the text operators of a page show, by font name.
std::vector<std::pair<std::string, unsigned>> codes_shown(std::string_view content) {
  std::vector<std::pair<std::string, unsigned>> codes;
  std::string font;
  for (std::size_t at = 0; at < content.size(); ++at) {
    if (content[at] == '/' && at + 1 < content.size() && content[at + 1] == 'F' &&
        content[at + 2] >= '0' && content[at + 2] <= '9') {
      font = content.substr(at, 3);
    }
    if (content[at] != '(') continue;
    const std::string bytes = literal(content, at);
    for (std::size_t i = 0; i + 2 <= bytes.size(); i += 2) {
      codes.emplace_back(font, static_cast<unsigned char>(bytes[i]) * 256u +
                                   static_cast<unsigned char>(bytes[i + 1]));
    }
  }
  return codes;
}

/// The words of a content stream that are no name, number, string or dictionary.
std::vector<std::string> operators(const std::string& content) {
  std::vector<std::string> words;
  std::string word;
  const std::string text = content + "\n";
  for (std::size_t at = 0; at < text.size(); ++at) {
    const char c = text[at];
    const bool separates = c == ' ' || c == '\n' || c == '<' || c == '>' || c == '(';
    if (!separates) {
      word += c;
      continue;
    }
    if (c == '(') literal(text, at);
    const bool letter =
        !word.empty() && ((word[0] >= 'a' && word[0] <= 'z') || (word[0] >= 'A' && word[0] <= 'Z'));
    if (letter) words.push_back(word);
    word.clear();
  }
  return words;
}

std::size_t table_offset(const std::string& file, const std::string& tag) {
  const std::size_t entry = file.find(tag, 12);
  REQUIRE(entry != std::string::npos);
  return BigEndian(file).u32(entry + 8);
}

}  // namespace

TEST_CASE("ISO 19005-3, 6.1.2: header at byte zero, then a comment of four high bytes") {
  CHECK(subject().starts_with("%PDF-1.7\n%"));
  for (std::size_t i = 10; i < 14; ++i) CHECK(static_cast<unsigned char>(subject()[i]) > 127);
}

TEST_CASE("ISO 19005-3, 6.1.3: two equal identifiers, no encryption, nothing after the end") {
  const json trailer = subject_pdf().trailer();
  REQUIRE(trailer.at("/ID").size() == 2);
  const auto id = trailer.at("/ID").at(0).get<std::string>();
  if (subject_is_sample())
    CHECK(id == "b:" + sha256_hex(sample_meta().id_seed).substr(0, 32));
  CHECK(id.size() >= 16);
  CHECK(trailer.at("/ID").at(1) == id);
  CHECK_FALSE(trailer.contains("/Encrypt"));
  CHECK(subject().ends_with("%%EOF\n"));
  CHECK(count(subject(), "%%EOF") == 1);
}

TEST_CASE("ISO 19005-3, 6.1.7: streams stand in the file and are not LZW") {
  for (const json& object : subject_pdf().objects()) {
    if (!object.contains("stream")) continue;
    const json& dict = object.at("stream").at("dict");
    for (const char* key : {"/F", "/FFilter", "/FDecodeParms"}) CHECK_FALSE(dict.contains(key));
    const json filter = dict.value("/Filter", json::array());
    CHECK((filter.empty() || filter == json::array({"/FlateDecode"}) || filter == "/FlateDecode"));
  }
}

TEST_CASE("ISO 19005-3, 6.1.13: names of at most 127 bytes, pages of 3 to 14400 units") {
  for (const json& dict : all_dictionaries(subject_pdf())) {
    for (const auto& [key, value] : dict.items()) {
      CHECK(key.size() <= 128);
      if (value.is_string()) CHECK(value.get<std::string>().size() < 32767);
    }
  }
  for (const json& page : subject_pdf().pages()) {
    // A4 in points (ISO 216: 210 mm × 297 mm), upright or lying; the library writes single precision.
    const double wide = page.at("/MediaBox").at(2).get<double>();
    const double high = page.at("/MediaBox").at(3).get<double>();
    CHECK(std::min(wide, high) == doctest::Approx(210 / 25.4 * 72).epsilon(1e-5));
    CHECK(std::max(wide, high) == doctest::Approx(297 / 25.4 * 72).epsilon(1e-5));
  }
}

TEST_CASE("ISO 19005-3, 6.2.2: every page has its own resources, and no operator is unknown") {
  const std::set<std::string> known = {"BT", "ET", "Tf", "Td", "Tm", "Tj", "BDC", "BMC", "EMC",
                                       "rg", "g",  "RG", "G",  "w",  "re", "m",   "l",   "c",
                                       "h",  "f",  "S",  "B",  "q",  "Q",  "cm",  "Do"};
  for (const json& page : subject_pdf().pages()) {
    CHECK(subject_pdf().value(page.at("/Resources")).contains("/Font"));
    for (const std::string& word : operators(subject_pdf().stream(page.at("/Contents")))) {
      CAPTURE(word);
      CHECK(known.contains(word));
    }
  }
  CHECK(operators("/F1 8 Tf (\\)A Tj)Tj /P <</MCID 0>>BDC") ==
        std::vector<std::string>{"Tf", "Tj", "BDC"});
}

TEST_CASE("ISO 19005-3, 6.2.3 and 6.2.4.3: one output intent, RGB, that grey and RGB refer to") {
  const json intents = subject_pdf().catalog().at("/OutputIntents");
  REQUIRE(intents.size() == 1);
  const json intent = subject_pdf().value(intents.at(0));
  CHECK(intent.at("/S") == "/GTS_PDFA1");
  CHECK(subject_pdf().value(intent.at("/DestOutputProfile")).at("/N") == 3);
  const std::string profile = subject_pdf().stream(intent.at("/DestOutputProfile"));
  CHECK(profile.substr(12, 4) == "mntr");
  CHECK(profile.substr(16, 4) == "RGB ");
  CHECK(profile[8] < 5);
  for (const json& image : subject_pdf().of_type("/XObject")) {
    if (image.at("/Subtype") == "/Form") continue;  // of the signature field: see 6.3 below
    const json space = image.at("/ColorSpace");
    CHECK((space == "/DeviceRGB" || space == "/DeviceGray"));
    CHECK_FALSE(image.contains("/Interpolate"));  // 6.2.8
    CHECK_FALSE(image.contains("/Alternates"));
  }
  if (subject_is_sample()) CHECK(subject_pdf().of_type("/XObject").size() == 3);
}

TEST_CASE("ISO 19005-3, 6.2.11.3 and 6.2.11.4: composite fonts, Identity-H, embedded as subsets") {
  int composite = 0;
  for (const json& font : subject_pdf().of_type("/Font")) {
    if (font.at("/Subtype") != "/Type0") continue;
    ++composite;
    CHECK(font.at("/Encoding") == "/Identity-H");
    const json cid = subject_pdf().value(font.at("/DescendantFonts").at(0));
    CHECK(cid.at("/Subtype") == "/CIDFontType2");
    CHECK(cid.at("/BaseFont") == font.at("/BaseFont"));
    CHECK(cid.at("/CIDToGIDMap") == "/Identity");
    const json descriptor = subject_pdf().value(cid.at("/FontDescriptor"));
    CHECK(descriptor.at("/FontName") == font.at("/BaseFont"));
    CHECK(descriptor.contains("/FontFile2"));
    CHECK_FALSE(descriptor.contains("/CIDSet"));
    const auto name = font.at("/BaseFont").get<std::string>();
    CHECK(name.substr(7, 1) == "+");
  }
  CHECK((subject_is_sample() ? composite == 3 : composite > 0));
}

TEST_CASE("ISO 19005-3, 6.2.11.5: widths in the dictionary and in the font program agree") {
  for (const json& font : subject_pdf().of_type("/Font")) {
    if (font.at("/Subtype") != "/CIDFontType2") continue;
    const json descriptor = subject_pdf().value(font.at("/FontDescriptor"));
    const std::string file = subject_pdf().stream(descriptor.at("/FontFile2"));
    CHECK(subject_pdf().value(descriptor.at("/FontFile2")).at("/Length1") == file.size());
    BigEndian in(file);
    CHECK(in.u16(table_offset(file, "head") + 18) == 1000);
    const json widths = font.at("/W");
    REQUIRE(widths.size() == 2);
    CHECK(widths.at(0) == 1);
    const std::size_t metrics = table_offset(file, "hmtx");
    CHECK(in.u16(table_offset(file, "maxp") + 4) == widths.at(1).size() + 1);
    for (std::size_t i = 0; i < widths.at(1).size(); ++i) {
      CHECK(widths.at(1).at(i) == in.u16(metrics + 4 * (i + 1)));
    }
  }
}

TEST_CASE("ISO 19005-3, 6.2.11.7 and 6.2.11.8: no glyph 0, every code has its Unicode value") {
  std::size_t shown = 0;
  for (const json& page : subject_pdf().pages()) {
    const json fonts = subject_pdf().value(subject_pdf().value(page.at("/Resources")).at("/Font"));
    for (const auto& [name, code] : codes_shown(subject_pdf().stream(page.at("/Contents")))) {
      CAPTURE(name);
      CAPTURE(code);
      ++shown;
      CHECK(code != 0);
      const json font = subject_pdf().value(fonts.at(name));
      const json cid = subject_pdf().value(font.at("/DescendantFonts").at(0));
      CHECK(code <= cid.at("/W").at(1).size());
      const std::string map = subject_pdf().stream(font.at("/ToUnicode"));
      CHECK_FALSE(has(map, "begincidrange"));
      bool mapped = false;
      for (std::size_t at = map.find("beginbfrange\n");
           (at = map.find("\n<", at)) != std::string::npos; ++at) {
        const auto number = [&](std::size_t place) {
          return std::stoul(map.substr(at + place, 4), nullptr, 16);
        };
        if (code < number(2) || code > number(9)) continue;
        const unsigned long value = number(16) + code - number(2);
        mapped = value >= 0x20 && value != 0xFEFF && value != 0xFFFE &&
                 (value < 0xE000 || value > 0xF8FF);
      }
      CHECK(mapped);
    }
  }
  CHECK(shown > 400);
}

TEST_CASE("ISO 19005-3, 6.3 to 6.5 and 6.9: no annotation, form, action or optional content") {
  std::size_t annotations = 0;
  for (const json& page : subject_pdf().pages()) {
    annotations += page.value("/Annots", json::array()).size();
    CHECK_FALSE(page.contains("/AA"));
  }
  // The one field that there may be is that of a signature.
  CHECK(annotations == (subject_is_signed() ? 1 : 0));
  CHECK(subject_pdf().of_type("/Annot").size() == annotations);
  CHECK(subject_pdf().catalog().contains("/AcroForm") == subject_is_signed());
  for (const char* key : {"/AA", "/OpenAction", "/OCProperties", "/Requirements",
                          "/NeedsRendering", "/Perms"}) {
    CHECK_FALSE(subject_pdf().catalog().contains(key));
  }
}

TEST_CASE("ISO 19005-3, 6.3.2 to 6.4.3: the field of a signature, and what it is over") {
  if (!subject_is_signed()) return;
  const json form = subject_pdf().value(subject_pdf().catalog().at("/AcroForm"));
  CHECK(form.size() == 2);
  CHECK(form.at("/SigFlags") == 3);
  REQUIRE(form.at("/Fields").size() == 1);
  const json field = subject_pdf().value(form.at("/Fields").at(0));
  CHECK(field.at("/FT") == "/Sig");
  CHECK(field.at("/Subtype") == "/Widget");
  CHECK(field.at("/F") == 4);  // printed, neither hidden nor out of view
  for (const char* key : {"/A", "/AA", "/Kids", "/MK"}) CHECK_FALSE(field.contains(key));
  // ISO 14289-1, 7.18.1 and 7.18.4: described, and in the structure as a form.
  CHECK_FALSE(plain(field.at("/TU")).empty());
  const json numbers = subject_pdf().value(
      subject_pdf().value(subject_pdf().catalog().at("/StructTreeRoot")).at("/ParentTree"));
  const json owners = numbers.at("/Nums");
  json element;
  for (std::size_t i = 0; i + 1 < owners.size(); i += 2)
    if (owners.at(i) == field.at("/StructParent")) element = subject_pdf().value(owners.at(i + 1));
  REQUIRE(element.is_object());
  CHECK(element.at("/S") == "/Form");
  CHECK(element.at("/K").at("/Type") == "/OBJR");
  CHECK(element.at("/K").at("/Obj") == form.at("/Fields").at(0));
  const json appearance = subject_pdf().value(field.at("/AP"));
  CHECK(appearance.size() == 1);
  CHECK(subject_pdf().stream(appearance.at("/N")).empty());  // the line is part of the page
  const json page = subject_pdf().value(field.at("/P"));
  CHECK(page.at("/Annots") == form.at("/Fields"));
  const json box = field.at("/Rect"), paper = page.at("/MediaBox");
  for (const int i : {0, 1}) {
    CHECK(box.at(static_cast<std::size_t>(i)) >= 0);
    CHECK(box.at(static_cast<std::size_t>(i)) < box.at(static_cast<std::size_t>(i + 2)));
    CHECK(box.at(static_cast<std::size_t>(i + 2)) <= paper.at(static_cast<std::size_t>(i + 2)));
  }

  const json seal = subject_pdf().value(field.at("/V"));
  CHECK(seal.at("/Type") == "/Sig");
  CHECK(seal.at("/SubFilter") == "/ETSI.CAdES.detached");  // ETSI EN 319 142-1, 6.3
  CHECK_FALSE(seal.contains("/Cert"));
  CHECK(seal.at("/M") == subject_pdf().value(subject_pdf().trailer().at("/Info")).at("/ModDate"));
  const json ranges = seal.at("/ByteRange");
  REQUIRE(ranges.size() == 4);
  const auto begin = ranges.at(1).get<std::size_t>(), end = ranges.at(2).get<std::size_t>();
  CHECK(ranges.at(0) == 0);
  CHECK(end + ranges.at(3).get<std::size_t>() == subject().size());
  CHECK(subject()[begin] == '<');
  CHECK(subject()[end - 1] == '>');
  CHECK("b:" + subject().substr(begin + 1, end - begin - 2) == seal.at("/Contents"));
  CHECK(end - begin <= 32767);  // 6.1.13
}

TEST_CASE("ISO 14289-1, 7.1 and 7.2: title shown, language given, no suspects") {
  const json catalog = subject_pdf().catalog();
  CHECK(catalog.at("/ViewerPreferences").at("/DisplayDocTitle") == true);
  const std::string language = plain(catalog.at("/Lang"));
  CHECK((subject_is_sample() ? language == "en-GB" : language == "en-GB" || language == "cy"));
  CHECK(catalog.at("/MarkInfo") == json({{"/Marked", true}}));  // ISO 19005-3, 6.7.2
  for (const json& page : subject_pdf().pages()) CHECK(page.at("/Tabs") == "/S");
}
