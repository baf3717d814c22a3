// The whole path, from a job's bytes to a PDF's: read, judged, laid out, drawn; then qpdf, which
// knows nothing of us, reads it back, with its strings and what is embedded, and expat its
// metadata.
#include <algorithm>

#include "app/documents.h"
#include "checks/check.h"
#include "fuzz/job.h"
#include "fuzz/read_pdf.h"
#include "fuzz/read_xml.h"
#include "pdf/text_check.h"

using namespace ohmleaf;

namespace {

struct Bench {
  Sources sources;
  app::Workspace workspace;
  app::Stationery stationery;

  Bench() {
    Diagnostics found;
    workspace.installer_bytes = fuzz::file("samples/installer.toml");
    const SourceId profile = sources.add("installer.toml", workspace.installer_bytes);
    workspace.installer = *record::read_installer(sources, profile, found);
    workspace.job_path = "job/job.toml";
    workspace.installer_path = "installer.toml";
    workspace.form_folders = {std::string(source_root()) + "/forms"};
    workspace.language = app::kEnglish;
    auto forms = app::load_forms(workspace, {"minor-works"}, {}, sources, found);
    fuzz::promise(forms.has_value(), "the forms can be read");
    stationery.forms = std::move(*forms);
  }
};

void read_back(const std::string& pdf, const app::Workspace& workspace) {
  fuzz::PdfReader qpdf(pdf);
  const std::string title = qpdf.info("/Title"), author = *workspace.installer.firm.name,
                    subject = pdf::one_line(workspace.job.work.value_or(""));
  fuzz::promise(
      !title.empty() && qpdf.info("/Author") == author && qpdf.info("/Subject") == subject,
      "title, author and subject are in the file as they went in");
  fuzz::Xml xmp = fuzz::read_xml(qpdf.metadata());
  fuzz::promise(xmp.well_formed, "the metadata is XML");
  fuzz::promise(xmp.texts["dc:title"] == title && xmp.texts["dc:creator"] == author &&
                    xmp.texts["dc:description"] == subject,
                "the metadata says the same as the Info dictionary");
  const auto files = qpdf.files();
  const auto job = std::find_if(files.begin(), files.end(),
                                [](const fuzz::PdfFile& f) { return f.name == "job.toml"; });
  fuzz::promise(files.size() >= 3 && job != files.end() && job->bytes == workspace.job_bytes,
                "job, profile and form are embedded, the job as it was");
  qpdf.quiet();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const Bench bench;
  Sources sources = bench.sources;
  Diagnostics found;
  app::Workspace workspace = bench.workspace;
  workspace.job_bytes = fuzz::text_of(data, size);
  auto job = fuzz::read_job(workspace.job_bytes, sources, found);
  if (!job) return 0;
  workspace.job = std::move(*job);
  const checks::Report report = checks::check(workspace.job, workspace.installer);
  layout::IssueFacts facts;
  facts.program = "ohmleaf";
  const auto pdf = app::render(workspace, report, bench.stationery, facts, {}, sources, found);
  fuzz::promise(pdf.has_value() == found.ok(), "a PDF is made, or there is an error");
  fuzz::hold(found, sources);
  if (pdf) read_back(*pdf, workspace);
  return 0;
}
