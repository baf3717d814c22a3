// Any texts in the record, laid out with each of our forms: the first byte chooses the form, the
// rest are the texts, separated by 0x1E. A page either is in order or there is an error.
#include "checks/check.h"
#include "fuzz/target.h"
#include "layout/support.h"
#include "record/read.h"

using namespace ohmleaf;

namespace {

struct Bench {
  record::Job job;
  record::Installer installer;
  checks::Report report;
  Sources sources;
  std::vector<layout::Form> forms;

  Bench() {
    Diagnostics found;
    const SourceId profile = sources.add("installer.toml", fuzz::file("samples/installer.toml"));
    const SourceId text = sources.add("job.toml", fuzz::file("samples/tt-cottage/job.toml"));
    installer = *record::read_installer(sources, profile, found);
    job = *record::read_job(sources, text, "fuzz", found);
    report = checks::check(job, installer);
    for (const char* name : {"minor-works", "client-page", "danger-notice", "handover"}) {
      const SourceId form = sources.add(name, fuzz::file(std::string("forms/") + name + ".toml"));
      forms.push_back(*layout::load_form(sources, form, found));
    }
    fuzz::promise(found.ok(), "the samples can be read");
  }
};

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const Bench bench;
  if (size == 0) return 0;
  const std::string_view text = fuzz::text_of(data + 1, size - 1);
  if (first_invalid_utf8(text)) return 0;  // no record holds such text: the readers refuse it
  const auto parts = split(text, '\x1e');
  record::Job job = bench.job;
  std::size_t next = 0;
  const auto put = [&](record::Text& field) {
    if (next < parts.size()) field.value = std::string(parts[next++]);
  };
  for (record::Text* field :
       {&job.premises, &job.client, &job.work, &job.existing, &job.client_contact})
    put(*field);
  for (auto& circuit : job.circuits) {
    for (record::Text* field : {&circuit.name, &circuit.ref, &circuit.board}) put(*field);
    for (auto& accessory : circuit.accessories) put(accessory.where);
  }
  const layout::Form& form = bench.forms[data[0] % bench.forms.size()];
  layout::IssueFacts facts;
  facts.program = "ohmleaf";
  Diagnostics found;
  const layout::test::FixedMetrics metrics;
  const auto document = layout::lay_out(
      form, layout::document_view(job, bench.installer, bench.report, facts), metrics, {}, found);
  fuzz::promise(document.has_value() == found.ok(), "pages are made, or there is an error");
  if (!document) return 0;
  const auto faults = layout::test::faults_of(*document, form.page);
  if (!faults.empty()) std::fprintf(stderr, "%s\n", faults.front().c_str());
  fuzz::promise(faults.empty(), "nothing lies over anything, or off the page");
  return 0;
}
