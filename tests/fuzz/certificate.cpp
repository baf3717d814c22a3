// The whole path, from a job's bytes to a PDF's: read, judged, laid out, drawn; then qpdf, which
// knows nothing of us, reads it back.
#include <qpdf/qpdf-c.h>

#include "app/documents.h"
#include "checks/check.h"
#include "fuzz/target.h"
#include "record/read.h"

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

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const Bench bench;
  Sources sources = bench.sources;
  app::Workspace workspace = bench.workspace;
  workspace.job_bytes = fuzz::text_of(data, size);
  Diagnostics found;
  const SourceId id = sources.add("job.toml", workspace.job_bytes);
  auto job = record::read_job(sources, id, "fuzz", found);
  if (!job || !record::check_references(*job, workspace.installer, found)) return 0;
  workspace.job = std::move(*job);
  const checks::Report report = checks::check(workspace.job, workspace.installer);
  layout::IssueFacts facts;
  facts.program = "ohmleaf";
  const auto pdf = app::render(workspace, report, bench.stationery, facts, {}, sources, found);
  fuzz::promise(pdf.has_value() == found.ok(), "a PDF is made, or there is an error");
  fuzz::hold(found, sources);
  if (!pdf) return 0;
  qpdf_data reader = qpdf_init();
  qpdf_silence_errors(reader);
  qpdf_set_suppress_warnings(reader, QPDF_TRUE);
  const auto read = qpdf_read_memory(reader, "a.pdf", pdf->data(), pdf->size(), nullptr);
  fuzz::promise((read & QPDF_ERRORS) == 0 && qpdf_get_num_pages(reader) >= 1, "qpdf reads the PDF");
  fuzz::promise(!qpdf_more_warnings(reader), "qpdf has nothing to say of it");
  qpdf_cleanup(&reader);
  return 0;
}
