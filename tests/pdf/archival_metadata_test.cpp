// The same standards as in archival_test.cpp, for what a file says of itself and carries.
#include <doctest/doctest.h>

#include <algorithm>

#include "base/digest.h"
#include "support.h"

using namespace ohmleaf;
using namespace ohmleaf::pdf;
using namespace ohmleaf::pdf::test;
using nlohmann::json;

namespace {

std::string xmp() {
  return subject_pdf().stream(subject_pdf().catalog().at("/Metadata"));
}

/// Whether every element that opens also closes, in order: enough to catch a missed escape.
bool well_formed(std::string_view xml) {
  std::vector<std::string> open;
  for (std::size_t at = xml.find('<'); at != std::string_view::npos; at = xml.find('<', at + 1)) {
    const std::size_t end = xml.find('>', at);
    if (end == std::string_view::npos) return false;
    const std::string tag(xml.substr(at + 1, end - at - 1));
    if (tag.starts_with("?")) continue;
    const std::string name = tag.substr(0, tag.find_first_of(" \n/", 1));
    if (tag.starts_with("/")) {
      if (open.empty() || "/" + open.back() != tag) return false;
      open.pop_back();
    } else if (!tag.ends_with("/")) {
      open.push_back(name);
    }
  }
  return open.empty();
}

}  // namespace

TEST_CASE("ISO 19005-3, 6.6.2.1: the metadata stream is plain, UTF-8 and well formed") {
  const json metadata = subject_pdf().value(subject_pdf().catalog().at("/Metadata"));
  CHECK(metadata.at("/Type") == "/Metadata");
  CHECK(metadata.at("/Subtype") == "/XML");
  CHECK_FALSE(metadata.contains("/Filter"));
  CHECK(xmp().starts_with("<?xpacket begin=\"\xEF\xBB\xBF\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>"));
  CHECK(has(xmp(), "<?xpacket end=\"w\"?>"));
  CHECK(well_formed(xmp()));
  CHECK_FALSE(well_formed("<a><b></a></b>"));
}

TEST_CASE("ISO 19005-3, 6.6.2.3: the PDF/UA property is described in an extension schema") {
  const std::string schema = between(xmp(), "<pdfaExtension:schemas>", "</pdfaExtension:schemas>");
  CHECK(has(schema,
            "<pdfaSchema:namespaceURI>http://www.aiim.org/pdfua/ns/id/</pdfaSchema:namespaceURI>"));
  CHECK(has(schema, "<pdfaSchema:prefix>pdfuaid</pdfaSchema:prefix>"));
  CHECK(has(schema, "<pdfaProperty:name>part</pdfaProperty:name>"));
  CHECK(has(schema, "<pdfaProperty:valueType>Integer</pdfaProperty:valueType>"));
  CHECK(has(schema, "<pdfaProperty:category>internal</pdfaProperty:category>"));
}

TEST_CASE("ISO 19005-3, 6.6.4 and ISO 14289-1, 5: the file says which standards it follows") {
  CHECK(has(xmp(), "<pdfaid:part>3</pdfaid:part>"));
  CHECK(has(xmp(), "<pdfaid:conformance>A</pdfaid:conformance>"));
  CHECK(has(xmp(), "<pdfuaid:part>1</pdfuaid:part>"));
}

TEST_CASE("the Info dictionary and the metadata say the same") {
  const json info = subject_pdf().value(subject_pdf().trailer().at("/Info"));
  const auto escaped = [](std::string text) {
    for (const auto& [sign, name] : {std::pair{"&", "&amp;"}, {"<", "&lt;"}, {">", "&gt;"}}) {
      for (std::size_t at = 0; (at = text.find(sign, at)) != std::string::npos; at += 4) {
        text.replace(at, 1, name);
      }
    }
    return text;
  };
  const auto in = [](std::string_view element) {
    const std::string outer =
        between(xmp(), "<" + std::string(element) + ">", "</" + std::string(element) + ">");
    if (!has(outer, "<rdf:li")) return outer;
    const std::string item = between(outer, "<rdf:li", "</rdf:li>");
    return item.substr(item.find('>') + 1);
  };
  CHECK(in("dc:title") == escaped(plain(info.at("/Title"))));
  CHECK(in("dc:creator") == escaped(plain(info.at("/Author"))));
  CHECK(in("dc:description") == escaped(plain(info.at("/Subject"))));
  CHECK(in("pdf:Keywords") == escaped(plain(info.value("/Keywords", json("u:")))));
  CHECK(in("xmp:CreatorTool") == plain(info.at("/Creator")));
  CHECK(in("pdf:Producer") == plain(info.at("/Producer")));
  const std::string created = in("xmp:CreateDate");  // 2026-11-20T09:12:00Z
  REQUIRE(created.size() == 20);
  const std::string digits = created.substr(0, 4) + created.substr(5, 2) + created.substr(8, 2) +
                             created.substr(11, 2) + created.substr(14, 2) + created.substr(17, 2);
  CHECK(plain(info.at("/CreationDate")) == "D:" + digits + "Z");
  CHECK(info.at("/ModDate") == info.at("/CreationDate"));
  CHECK(in("xmp:ModifyDate") == created);
  if (!subject_is_sample()) return;
  CHECK(plain(info.at("/Title")) == sample_meta().title);
  CHECK(created == "2026-11-20T09:12:00Z");
  CHECK(info.size() == 8);
}

TEST_CASE("what is empty in the input is absent from Info and metadata alike") {
  Meta meta;
  meta.title = "Only a title";
  const Pdf pdf(rendered(sample_document(), meta));
  const json info = pdf.value(pdf.trailer().at("/Info"));
  CHECK(info.size() == 3);
  const std::string packet = pdf.stream(pdf.catalog().at("/Metadata"));
  for (const char* absent :
       {"dc:creator", "dc:description", "pdf:Keywords", "pdf:Producer", "CreatorTool"}) {
    CHECK_FALSE(has(packet, absent));
  }
}

TEST_CASE("ISO 19005-3, 6.8: whatever is embedded is an associated file with all its entries") {
  const json catalog = subject_pdf().catalog();
  const json names = subject_pdf().value(catalog.at("/Names")).at("/EmbeddedFiles").at("/Names");
  REQUIRE(names.size() == 2 * catalog.at("/AF").size());
  CHECK(catalog.at("/AF").size() >= 2);
  for (std::size_t i = 0; i < names.size(); i += 2) {
    const json specification = subject_pdf().value(names.at(i + 1));
    CAPTURE(plain(names.at(i)));
    CHECK(std::count(catalog.at("/AF").begin(), catalog.at("/AF").end(), names.at(i + 1)) == 1);
    for (const char* key : {"/F", "/UF", "/Desc", "/AFRelationship"})
      CHECK(specification.contains(key));
    const std::string bytes = subject_pdf().stream(specification.at("/EF").at("/F"));
    const json dict = subject_pdf().value(specification.at("/EF").at("/F"));
    const std::string type = dict.at("/Subtype");
    CHECK((type == "/application/toml" || type == "/application/json" || type == "/image/png"));
    CHECK(dict.at("/Params").at("/Size") == bytes.size());
    CHECK(dict.at("/Params").contains("/ModDate"));
    const auto sum = dict.at("/Params").at("/CheckSum").get<std::string>();
    CHECK((sum == "b:" + to_hex(md5_raw(bytes)) || sum == "u:" + md5_raw(bytes)));
  }
}

TEST_CASE("the sample's embedded files stand in it as they were given") {
  if (!subject_is_sample()) return;
  const json catalog = subject_pdf().catalog();
  const json names = subject_pdf().value(catalog.at("/Names")).at("/EmbeddedFiles").at("/Names");
  REQUIRE(catalog.at("/AF").size() == sample_meta().attachments.size());
  REQUIRE(names.size() == 2 * sample_meta().attachments.size());
  std::vector<std::string> order;
  for (std::size_t i = 0; i < names.size(); i += 2) order.push_back(plain(names.at(i)));
  CHECK(order == std::vector<std::string>{"form.toml", "job.toml", "logo-é.png"});
  const char* relations[] = {"/Source", "/Supplement", "/Data"};
  for (std::size_t i = 0; i < catalog.at("/AF").size(); ++i) {
    const Attachment attachment = sample_meta().attachments[i];
    CAPTURE(attachment.name);
    const json reference = catalog.at("/AF").at(i);
    CHECK(std::count(names.begin(), names.end(), reference) == 1);
    const json specification = subject_pdf().value(reference);
    CHECK(specification.at("/Type") == "/Filespec");
    CHECK(plain(specification.at("/UF")) == attachment.name);
    CHECK(plain(specification.at("/F")).size() >= attachment.name.size());
    CHECK(plain(specification.at("/Desc")) == attachment.description);
    CHECK(specification.at("/AFRelationship") == relations[i]);
    const json file = specification.at("/EF").at("/F");
    CHECK(specification.at("/EF").at("/UF") == file);
    const json dict = subject_pdf().value(file);
    CHECK(dict.at("/Type") == "/EmbeddedFile");
    CHECK(dict.at("/Subtype") == "/" + attachment.media_type);
    CHECK(subject_pdf().stream(file) == attachment.bytes);
    const json params = dict.at("/Params");
    CHECK(params.at("/Size") == attachment.bytes.size());
    CHECK(plain(params.at("/ModDate")) == "D:20261120091200Z");
    // Bytes that happen to be text are shown as text by qpdf.
    const auto sum = params.at("/CheckSum").get<std::string>();
    const bool same =
        sum == "b:" + to_hex(md5_raw(attachment.bytes)) || sum == "u:" + md5_raw(attachment.bytes);
    CHECK(same);
  }
  CHECK(has(subject(), "/Subtype /application#2Ftoml"));
}
