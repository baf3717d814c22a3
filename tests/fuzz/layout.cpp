// Any texts in the record, laid out with the blocks of our forms: the first two bytes choose the
// block, the rest are the texts, separated by 0x1E. A page either is in order or there is an error.
#include "checks/check.h"
#include "fuzz/job.h"
#include "layout/model_wanted.h"
#include "layout/support.h"

using namespace ohmleaf;

namespace {

/// A text of the record, in which words of the client's or the installer's stand.
struct Place {
  record::View* view;
  std::string pattern;
};

constexpr std::string_view kMark = "Zq";  // "Zq07": the text numbered 7

/// The record is made once, with a mark where each text is to stand: making it takes longer than
/// laying out a block. Forms of one block each, so that most runs are short.
struct Bench {
  std::vector<std::string> texts;
  record::View view;
  std::vector<Place> places;
  std::vector<layout::Form> forms;

  Bench() {
    record::Job job = fuzz::sample("tt-cottage");
    const checks::Report report = checks::check(job, fuzz::profile());
    for (record::Text* field :
         {&job.premises, &job.client, &job.work, &job.existing, &job.client_contact})
      mark(*field);
    for (auto& circuit : job.circuits) {
      for (record::Text* field : {&circuit.name, &circuit.ref, &circuit.board}) mark(*field);
      for (auto& accessory : circuit.accessories) mark(accessory.where);
    }
    for (const char* name : {"minor-works", "installation", "client-page", "danger-notice",
                             "handover", "schedule", "site-sheet"})
      add_blocks(name);
    std::vector<const layout::Form*> all;
    for (const layout::Form& form : forms) all.push_back(&form);
    layout::IssueFacts facts;
    facts.program = "ohmleaf";
    view = layout::document_view(job, fuzz::profile(), report, facts, layout::Wanted(all)).whole();
    gather(view);
    fuzz::promise(!places.empty(), "the texts stand in the record");
  }

  void put(const std::vector<std::string_view>& parts) {
    for (Place& place : places) {
      std::string& to = place.view->text;
      to.clear();
      std::string_view rest = place.pattern;
      for (auto at = rest.find(kMark); at != std::string_view::npos; at = rest.find(kMark)) {
        const auto digit = [&](std::size_t i) {
          return static_cast<std::size_t>(rest[at + i] - '0');
        };
        const std::size_t number = digit(2) * 10 + digit(3);
        to += rest.substr(0, at);
        to += number < parts.size() ? parts[number] : std::string_view(texts[number]);
        rest.remove_prefix(at + 4);
      }
      to += rest;
    }
  }

 private:
  void mark(record::Text& field) {
    const std::size_t number = texts.size();
    texts.push_back(field.value_or(""));
    field.value = std::string(kMark) + std::to_string(number / 10) + std::to_string(number % 10);
  }
  void gather(record::View& node) {
    if (node.text.find(kMark) != std::string::npos) places.push_back({&node, node.text});
    for (auto& member : node.members) gather(member.second);
    for (auto& item : node.items) gather(item);
  }
  void add_blocks(const std::string& name) {
    Sources sources;
    Diagnostics found;
    const SourceId id = sources.add(name, fuzz::file("forms/" + name + ".toml"));
    const auto form = layout::load_form(sources, id, found);
    fuzz::promise(form.has_value(), "the forms can be read");
    for (const layout::Block& block : form->blocks) {
      forms.push_back(*form);
      forms.back().blocks = {block};
    }
  }
};

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static Bench bench;
  if (size < 2) return 0;
  const std::string_view text = fuzz::text_of(data + 2, size - 2);
  if (first_invalid_utf8(text)) return 0;  // no record holds such text: the readers refuse it
  bench.put(split(text, '\x1e'));
  const layout::Form& form = bench.forms[(data[0] + 256u * data[1]) % bench.forms.size()];
  Diagnostics found;
  const layout::test::FixedMetrics metrics;
  const auto document = layout::lay_out(form, bench.view, metrics, {}, found);
  fuzz::promise(document.has_value() == found.ok(), "pages are made, or there is an error");
  if (!document) return 0;
  const auto faults = layout::test::faults_of(*document, form.page);
  if (!faults.empty()) std::fprintf(stderr, "%s\n", faults.front().c_str());
  fuzz::promise(faults.empty(), "nothing lies over anything, or off the page");
  return 0;
}
