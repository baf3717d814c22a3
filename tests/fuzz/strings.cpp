// Any texts as the strings and names of a PDF, separated by 0x1E: title, author, subject, keywords,
// program, bookmark, description of a figure, name and description of an attachment, its bytes.
// What is not refused comes out as it went in, by libqpdf and, from the metadata, by expat.
#include "fuzz/read_pdf.h"
#include "fuzz/read_xml.h"
#include "pdf/pdf.h"
#include "pdf/text_check.h"

using namespace ohmleaf;

namespace {

struct Input {
  layout::Document document;
  pdf::Meta meta;

  explicit Input(const std::vector<std::string_view>& parts) {
    std::size_t next = 0;
    const auto text = [&] { return std::string(next < parts.size() ? parts[next++] : ""); };
    for (std::string* to :
         {&meta.title, &meta.author, &meta.subject, &meta.keywords, &meta.creator})
      *to = text();
    const layout::Pt side = layout::operator""_pt(100ULL);
    document.title = "Untitled";
    document.pages.push_back({side, side, {}});
    document.nodes.push_back({layout::Role::document, layout::kArtifact, "", layout::Scope::none});
    document.bookmarks.push_back({text(), 0, {}, 0});
    if (std::string alt = text(); !alt.empty()) {
      document.nodes.push_back({layout::Role::figure, 0, alt, layout::Scope::none});
      document.pages[0].frames.push_back(
          layout::RectFrame{{}, {}, side, side, layout::Color{}, {}, {}, {}, 1});
    }
    if (next >= parts.size()) return;
    pdf::Attachment file;
    file.name = text();
    file.description = text();
    file.media_type = "text/plain";
    file.bytes = text();
    meta.attachments.push_back(std::move(file));
  }
};

void read_back(const std::string& pdf, const Input& in) {
  fuzz::PdfReader qpdf(pdf);
  const auto line = [](const std::string& text) { return pdf::one_line(text); };
  const std::string title = line(in.meta.title.empty() ? in.document.title : in.meta.title);
  fuzz::promise(qpdf.info("/Title") == title && qpdf.info("/Author") == line(in.meta.author) &&
                    qpdf.info("/Subject") == line(in.meta.subject) &&
                    qpdf.info("/Keywords") == line(in.meta.keywords) &&
                    qpdf.info("/Creator") == line(in.meta.creator),
                "what describes the file is in it as it went in");
  fuzz::Xml xmp = fuzz::read_xml(qpdf.metadata());
  fuzz::promise(xmp.well_formed, "the metadata is XML");
  fuzz::promise(xmp.texts["dc:title"] == title && xmp.texts["dc:creator"] == line(in.meta.author) &&
                    xmp.texts["dc:description"] == line(in.meta.subject) &&
                    xmp.texts["pdf:Keywords"] == line(in.meta.keywords) &&
                    xmp.texts["xmp:CreatorTool"] == line(in.meta.creator),
                "the metadata says the same");
  const auto bookmarks = qpdf.bookmarks();
  fuzz::promise(bookmarks.size() == 1 && bookmarks[0] == line(in.document.bookmarks[0].title),
                "a bookmark has its title");
  if (in.document.nodes.size() > 1)
    fuzz::promise(qpdf.figure() == line(in.document.nodes[1].alt), "a figure has its description");
  const auto files = qpdf.files();
  fuzz::promise(files.size() == in.meta.attachments.size(), "what is attached is there");
  for (const fuzz::PdfFile& file : files) {
    const pdf::Attachment& from = in.meta.attachments[0];
    fuzz::promise(file.name == from.name && file.description == line(from.description) &&
                      file.bytes == from.bytes && !file.old_name.empty(),
                  "an attachment has its names, its description and its bytes");
  }
  qpdf.quiet();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const Input in(split(fuzz::text_of(data, size), '\x1e'));
  Diagnostics found;
  const auto pdf = pdf::render(in.document, in.meta, found);
  fuzz::promise(pdf.has_value() == found.ok(), "a PDF is made, or there is an error");
  fuzz::hold(found, {});
  if (pdf) read_back(*pdf, in);
  return 0;
}
