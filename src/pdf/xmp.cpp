#include "pdf/xmp.h"

#include <fmt/format.h>

#include "base/text.h"

namespace ohmleaf::pdf {
namespace {

/// A property in one language; nothing for an empty value, as in the Info dictionary.
std::string in_default_language(std::string_view name, std::string_view value) {
  if (value.empty()) return {};
  return fmt::format("<{0}><rdf:Alt><rdf:li xml:lang=\"x-default\">{1}</rdf:li></rdf:Alt></{0}>\n",
                     name, xml_text(value));
}

std::string simple(std::string_view name, std::string_view value) {
  if (value.empty()) return {};
  return fmt::format("<{0}>{1}</{0}>\n", name, xml_text(value));
}

// PDF/A knows no property of PDF/UA: the file must describe the one it uses.
constexpr std::string_view kExtension =
    "<pdfaExtension:schemas><rdf:Bag><rdf:li rdf:parseType=\"Resource\">\n"
    "<pdfaSchema:schema>PDF/UA identification schema</pdfaSchema:schema>\n"
    "<pdfaSchema:namespaceURI>http://www.aiim.org/pdfua/ns/id/</pdfaSchema:namespaceURI>\n"
    "<pdfaSchema:prefix>pdfuaid</pdfaSchema:prefix>\n"
    "<pdfaSchema:property><rdf:Seq><rdf:li rdf:parseType=\"Resource\">\n"
    "<pdfaProperty:name>part</pdfaProperty:name>\n"
    "<pdfaProperty:valueType>Integer</pdfaProperty:valueType>\n"
    "<pdfaProperty:category>internal</pdfaProperty:category>\n"
    "<pdfaProperty:description>Part of ISO 14289 that the file follows"
    "</pdfaProperty:description>\n"
    "</rdf:li></rdf:Seq></pdfaSchema:property>\n"
    "</rdf:li></rdf:Bag></pdfaExtension:schemas>\n";

constexpr std::string_view kHead =
    "<?xpacket begin=\"\xEF\xBB\xBF\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n"
    "<x:xmpmeta xmlns:x=\"adobe:ns:meta/\">\n"
    "<rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n"
    "<rdf:Description rdf:about=\"\"\n"
    " xmlns:dc=\"http://purl.org/dc/elements/1.1/\"\n"
    " xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\"\n"
    " xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\"\n"
    " xmlns:pdfaid=\"http://www.aiim.org/pdfa/ns/id/\"\n"
    " xmlns:pdfuaid=\"http://www.aiim.org/pdfua/ns/id/\"\n"
    " xmlns:pdfaExtension=\"http://www.aiim.org/pdfa/ns/extension/\"\n"
    " xmlns:pdfaSchema=\"http://www.aiim.org/pdfa/ns/schema#\"\n"
    " xmlns:pdfaProperty=\"http://www.aiim.org/pdfa/ns/property#\">\n"
    "<pdfaid:part>3</pdfaid:part>\n<pdfaid:conformance>A</pdfaid:conformance>\n"
    "<pdfuaid:part>1</pdfuaid:part>\n"
    "<dc:format>application/pdf</dc:format>\n";

constexpr std::string_view kTail =
    "</rdf:Description>\n</rdf:RDF>\n</x:xmpmeta>\n<?xpacket end=\"w\"?>\n";

}  // namespace

std::string xmp_packet(const Meta& meta, const std::string& language) {
  std::string out(kHead);
  out += fmt::format("<dc:language><rdf:Bag><rdf:li>{}</rdf:li></rdf:Bag></dc:language>\n",
                     xml_text(language));
  out += in_default_language("dc:title", meta.title);
  if (!meta.author.empty()) {
    out += fmt::format("<dc:creator><rdf:Seq><rdf:li>{}</rdf:li></rdf:Seq></dc:creator>\n",
                       xml_text(meta.author));
  }
  out += in_default_language("dc:description", meta.subject);
  out += simple("pdf:Keywords", meta.keywords);
  out += simple("pdf:Producer", meta.creator);
  out += simple("xmp:CreatorTool", meta.creator);
  out += simple("xmp:CreateDate", meta.created.iso());
  out += simple("xmp:ModifyDate", meta.created.iso());
  out += simple("xmp:MetadataDate", meta.created.iso());
  out += kExtension;
  out += kTail;
  return out;
}

std::string pdf_date(Instant instant) {
  std::string out = "D:";
  for (const char c : instant.iso()) {
    if ((c >= '0' && c <= '9') || c == 'Z') out += c;
  }
  return out;
}

}  // namespace ohmleaf::pdf
