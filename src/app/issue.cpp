#include "app/issue.h"

#include <filesystem>

#include "app/documents.h"
#include "app/extract.h"
#include "app/signature.h"
#include "base/text.h"
#include "base/version.h"
#include "checks/check.h"

namespace ohmleaf::app {
namespace {

void add_fact(archive::Facts& facts, const char* key, const record::Text& text) {
  if (text) facts.emplace_back(key, *text);
}

/// What `find` and `due` can ask for in ten years.
archive::Facts facts_of(const Workspace& w, const checks::Report& report) {
  archive::Facts f;
  const record::Job& job = w.job;
  if (job.kind)
    f.emplace_back("kind", *job.kind == record::JobKind::minor_works    ? "minor works"
                           : *job.kind == record::JobKind::installation ? "installation"
                                                                        : "condition report");
  if (job.date) f.emplace_back("date", job.date->iso());
  add_fact(f, "premises", job.premises);
  add_fact(f, "client", job.client);
  add_fact(f, "work", job.work);
  if (const auto* p = w.installer.person(job.person.value_or(""))) add_fact(f, "person", p->name);
  if (job.next_inspection) f.emplace_back("next inspection", job.next_inspection->iso());
  f.emplace_back("edition", std::string(limits::name(report.edition)));
  f.emplace_back("verdict", std::string(checks::name(report.verdict)));
  for (const auto& c : job.circuits) {
    f.emplace_back("circuit", c.board.value_or("") + "/" + c.ref.value_or("") + " " +
                                  c.name.value_or(""));
    for (const auto& a : c.accessories) {
      add_fact(f, "accessory", a.where);
      add_fact(f, "serial", a.serial);
    }
  }
  for (const auto& c : job.controls) add_fact(f, "serial", c.serial);
  for (const auto& o : job.observations)
    if (o.what) f.emplace_back("observation", (o.code ? *o.code + " " : "") + *o.what);
  return f;
}

archive::IssueRequest request_for(const Workspace& w, const checks::Report& report, Instant now,
                                  const seal::Key* key) {
  archive::IssueRequest r;
  r.prefix = w.installer.numbering.prefix.value_or("C");
  while (r.prefix.ends_with('-')) r.prefix.pop_back();  // the hyphen before the digits is ours
  r.job_id = w.job.job_id();
  r.job_bytes = w.job_bytes;
  r.program = "ohmleaf " + std::string(program_version());
  const auto* person = w.installer.person(w.job.person.value_or(""));
  r.person = person != nullptr ? person->name.value_or(person->id) : w.job.person.value_or("");
  r.now = now;
  r.facts = facts_of(w, report);
  if (key != nullptr) r.facts.emplace_back(kSignedBy, key->holder().who());
  return r;
}

/// Everything that lies beside the certificate, so that the page can be made again from it.
struct Renderer {
  const Workspace& w;
  const checks::Report& report;
  const Stationery& stationery;
  Sources& sources;
  Diagnostics& out;
  std::string& certificate;
  const seal::Key* key;

  std::optional<std::vector<archive::File>> operator()(const archive::Draw& draw) const {
    layout::IssueFacts facts;
    facts.number = draw.number;
    facts.revision = draw.revision;
    facts.replaces = draw.replaces;
    facts.chain_head = draw.chain_head.substr(0, 32);
    facts.issued = draw.issued.iso();
    facts.draft = false;
    facts.program = "ohmleaf " + std::string(program_version());
    auto bytes = render(w, report, stationery, facts, draw.issued, sources, out, space_for(key));
    if (bytes && key != nullptr) bytes = signed_pdf(std::move(*bytes), *key, out);
    if (!bytes) return std::nullopt;
    certificate = *bytes;
    std::vector<archive::File> files;
    files.push_back({"certificate.pdf", std::move(*bytes)});
    files.push_back({"job.toml", w.job_bytes});
    files.push_back({"installer.toml", installer_extract(w, sources, out)});
    for (const LoadedForm& f : stationery.forms)
      files.push_back({"form-" + f.name + ".toml", f.bytes});
    if (const Look& look = stationery.look; !look.name.empty())
      files.push_back({"theme-" + look.name + ".toml", look.bytes});
    if (stationery.words)
      files.push_back({words_file_name(stationery.words->name), stationery.words->bytes});
    const auto& images = stationery.artwork.images;
    for (std::size_t i = 0; i < images.size(); ++i)
      files.push_back({image_file_name(i), images[i].bytes});
    return files;
  }
};

std::string signer_in(const archive::Record& r) {
  for (const auto& [name, value] : r.facts)
    if (name == kSignedBy) return value;
  return {};
}

/// A job that was issued stays issued, even if today's program or profile would judge it otherwise.
bool issued_before(const Workspace& w, IssueOutcome& o, Diagnostics& out) {
  archive::IssueResult& result = o.result;
  std::error_code ec;
  if (!std::filesystem::exists(w.archive_root, ec)) return false;
  const auto store = archive::Archive::open(w.archive_root, out);
  if (!store) return false;
  for (const archive::Record& r : store->find({}, out)) {
    if (r.job_id != w.job.job_id() || r.withdrawn) continue;
    const auto bytes = store->read(r.number, r.revision, "job.toml", out);
    if (!bytes || *bytes != w.job_bytes) continue;
    result.state = archive::IssueState::already_issued;
    result.number = r.number;
    result.revision = r.revision;
    result.issued = r.issued;
    result.folder = r.folder;
    o.signed_by = signer_in(r);
    return true;
  }
  return false;
}

/// The first issue makes the archive: not for pages that cannot be printed.
bool first_can_be_printed(const Workspace& w, const checks::Report& report,
                          const Stationery& stationery, Sources& sources, Diagnostics& out,
                          const seal::Key* key) {
  std::error_code ec;
  if (std::filesystem::exists(w.archive_root, ec)) return true;
  layout::IssueFacts facts;
  facts.program = "ohmleaf " + std::string(program_version());
  return render(w, report, stationery, facts, Instant{}, sources, out, space_for(key)).has_value();
}

/// An archive in the user's own data folder (XDG: …/ohmleaf/archive) has nobody else to make the
/// folder above it; anywhere else, a folder that is missing is a path that was misspelt.
void make_usual_folder(const std::filesystem::path& archive) {
  const std::filesystem::path above = archive.parent_path();
  std::error_code ec;
  if (archive.filename() == "archive" && above.filename() == "ohmleaf")
    std::filesystem::create_directories(above, ec);
}

template <class Act>
std::optional<IssueOutcome> checked(const Workspace& w, Sources& sources, Diagnostics& out,
                                    const seal::Key* key, const Act& act) {
  IssueOutcome o;
  o.report = checks::check(w.job, w.installer);
  if (!o.report.issuable()) {
    o.blocked = !issued_before(w, o, out);
    return o;
  }
  const auto stationery = load_stationery(w, document_names(w.job), sources, out);
  if (!stationery) return std::nullopt;
  if (!first_can_be_printed(w, o.report, *stationery, sources, out, key))
    return std::nullopt;
  make_usual_folder(w.archive_root);
  auto store = archive::Archive::open(w.archive_root, out);
  if (!store) return std::nullopt;
  o.result = act(*store, *stationery, o);
  if (!out.ok()) return std::nullopt;
  Diagnostics quiet;  // what was filed is filed
  if (!o.result.number.empty())
    for (const archive::Record& r : store->history(o.result.number, quiet))
      if (r.revision == o.result.revision) o.signed_by = signer_in(r);
  return o;
}

}  // namespace

std::optional<IssueOutcome> issue(const Workspace& w, Instant now, Sources& sources,
                                  Diagnostics& out, const seal::Key* key) {
  return checked(w, sources, out, key, [&](auto& store, const auto& stationery, IssueOutcome& o) {
    return store.issue(request_for(w, o.report, now, key),
                       Renderer{w, o.report, stationery, sources, out, o.certificate, key}, out);
  });
}

std::optional<IssueOutcome> revise(const Workspace& w, const std::string& number,
                                   const std::string& reason, Instant now, Sources& sources,
                                   Diagnostics& out, const seal::Key* key) {
  return checked(w, sources, out, key, [&](auto& store, const auto& stationery, IssueOutcome& o) {
    auto request = request_for(w, o.report, now, key);
    request.reason = reason;
    return store.revise(request, number,
                        Renderer{w, o.report, stationery, sources, out, o.certificate, key}, out);
  });
}

}  // namespace ohmleaf::app
