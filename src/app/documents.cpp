#include "app/documents.h"

#include <algorithm>
#include <system_error>

#include "app/extract.h"
#include "base/digest.h"
#include "base/files.h"
#include "base/json.h"
#include "base/kept.h"
#include "base/memory.h"
#include "base/text.h"
#include "base/version.h"
#include "layout/model_wanted.h"
#include "shipped/shipped.h"

namespace ohmleaf::app {
namespace {

/// What laying out and writing take, as measured: so much for any job, and for each byte of it.
constexpr std::size_t kDrawing = std::size_t{3} << 19, kDrawingEach = 25;

namespace fs = std::filesystem;

constexpr std::size_t kMaxFormBytes = 1u << 20;

/// The keys of everybody who signs, each once, the job's person first.
std::vector<std::string> signers(const record::Job& job) {
  using record::Signing;
  std::vector<std::string> keys;
  const auto add = [&](const record::Text& key) {
    if (key && std::find(keys.begin(), keys.end(), *key) == keys.end()) keys.push_back(*key);
  };
  add(job.person);
  for (const auto role :
       {&Signing::design, &Signing::construction, &Signing::inspection, &Signing::authorised})
    add(job.signing.*role);
  return keys;
}

/// The names of all forms that can be found, for a message.
std::string forms_at_hand(const Workspace& w) {
  std::vector<std::string> names;
  for (const fs::path& folder : w.form_folders) {
    std::error_code ec;
    for (fs::directory_iterator it(folder, ec), end; !ec && it != end; it.increment(ec))
      if (it->path().extension() == ".toml" && !it->path().stem().string().starts_with("theme-") &&
          !it->path().stem().string().starts_with("words-"))
        names.push_back(it->path().stem().string());
  }
  std::sort(names.begin(), names.end());
  names.erase(std::unique(names.begin(), names.end()), names.end());
  return join(names, ", ");
}

bool plain_name(std::string_view name) {
  return !name.empty() && name.size() <= 64 &&
         name.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-") == std::string_view::npos;
}

std::optional<fs::path> find_form(const Workspace& w, const std::string& name, Diagnostics& out) {
  std::error_code ec;
  if (plain_name(name))
    for (const fs::path& folder : w.form_folders)
      if (fs::exists(folder / (name + ".toml"), ec)) return folder / (name + ".toml");
  Span where;
  for (const auto& d : w.job.documents)
    if (d && *d == name) where = d.span;
  out.error("no-such-form", where, "there is no form named \"" + visible(name) + "\"",
            {"The forms at hand are: " + forms_at_hand(w) + "."});
  return std::nullopt;
}

/// A form is the same only if its text is, the theme under it, and the place among the sources that its
/// spans name.
struct FormRead {
  LoadedForm form;
  layout::Theme theme;
};
Kept<FormRead, 16>& forms_read() {
  static Kept<FormRead, 16> forms;
  return forms;
}

/// What a certificate found alone says of itself, for a program: `verify --witness` reads it.
std::string certificate_record(const Workspace& w, const Stationery& stationery,
                               const layout::IssueFacts& facts, Instant created,
                               const std::optional<pdf::SealSpace>& seal) {
  Json documents = Json::array(), images = Json::array();
  for (const LoadedForm& f : stationery.forms) documents.push(f.name);
  for (const LoadedImage& i : stationery.artwork.images) images.push(i.path);
  Json j = Json::object();
  j.set("format", 1).set("number", facts.number).set("revision", facts.revision);
  j.set("replaces", facts.replaces).set("issued", created.iso()).set("program", facts.program);
  j.set("chain_head", facts.chain_head).set("job", w.job.job_id());
  if (stationery.words) j.set("language", stationery.words->name);
  j.set("documents", std::move(documents)).set("images", std::move(images));
  j.set("theme", stationery.look.name);
  if (facts.redacted) j.set("redacted", true);
  if (seal) {
    Json signature = Json::object();
    signature.set("by", seal->signer).set("room", static_cast<std::int64_t>(seal->room));
    j.set("signed", std::move(signature));
  }
  return j.dump() + "\n";
}

pdf::Meta meta_for(const Workspace& w, const Stationery& stationery,
                   const layout::IssueFacts& facts, Instant created, const std::string& title,
                   const std::string& extract, const std::optional<pdf::SealSpace>& seal) {
  using pdf::Attachment;
  pdf::Meta m;
  m.seal = seal;
  m.title = title;
  m.author = w.installer.firm.name.value_or("");
  m.subject = w.job.work.value_or("");
  m.creator = facts.program;
  m.created = created;
  m.attachments.push_back({"job.toml", "application/toml", "The job with its readings, as it was checked",
                           w.job_bytes, Attachment::Relation::source});
  m.attachments.push_back({"installer.toml", "application/toml",
                           "The installer's details that this certificate rests on", extract,
                           Attachment::Relation::data});
  std::string seed = facts.number + "\n" + std::to_string(facts.revision) + "\n" +
                     facts.chain_head + "\n" + created.iso() + "\n" + m.creator + "\n" +
                     sha256_hex(w.job_bytes) + sha256_hex(extract);
  const auto supplement = [&](const std::string& name, const std::string& description,
                              const std::string& bytes) {
    m.attachments.push_back(
        {name, "application/toml", description, bytes, Attachment::Relation::supplement});
    const auto made = shipped::find(bytes);
    if (made) m.attachments.back().ready = Attachment::Ready{made->deflated, made->md5};
    seed += made ? std::string(made->sha256_hex) : sha256_hex(bytes);
  };
  for (const LoadedForm& f : stationery.forms)
    supplement("form-" + f.name + ".toml", "The form \"" + f.name + "\" that the pages follow",
               f.bytes);
  if (const Look& look = stationery.look; !look.name.empty())
    supplement("theme-" + look.name + ".toml", "The theme \"" + look.name + "\" of the pages",
               look.bytes);
  if (stationery.words)
    supplement(words_file_name(stationery.words->name),
               "The words of the language that the pages are in", stationery.words->bytes);
  if (!facts.draft)
    m.attachments.push_back({kCertificateRecord, "application/json",
                             "Number, revision and chain head of this certificate",
                             certificate_record(w, stationery, facts, created, seal),
                             Attachment::Relation::data});
  const auto& images = stationery.artwork.images;
  for (std::size_t i = 0; i < images.size(); ++i) {
    m.attachments.push_back({image_file_name(i), "image/png",
                             "The picture \"" + images[i].path + "\" that the pages show",
                             images[i].bytes, Attachment::Relation::supplement});
    seed += sha256_hex(images[i].bytes);
  }
  if (seal) seed += "signed by " + seal->signer;
  m.id_seed = sha256_hex(seed);
  return m;
}

/// What the pages bind takes memory, and is gone when they are laid out.
std::optional<layout::Document> lay_out(const Workspace& w, const checks::Report& report,
                                        const Stationery& stationery, layout::IssueFacts facts,
                                        Diagnostics& out) {
  facts.logo_image = stationery.artwork.logo;
  facts.signature_image = stationery.artwork.signature;
  facts.signatures = stationery.artwork.signatures;
  expect_memory(kDrawing + kDrawingEach * w.job_bytes.size());
  std::vector<const layout::Form*> pages;
  for (const LoadedForm& f : stationery.forms) pages.push_back(f.form.get());
  const record::View view =
      layout::document_view(w.job, w.installer, report, facts, layout::Wanted(pages));
  std::vector<layout::Image> images;
  for (const LoadedImage& i : stationery.artwork.images) images.push_back(i.pixels);
  return layout::lay_out(pages, view, pdf::font_metrics(), images, out);
}

std::optional<std::string> written(const Workspace& w, const Stationery& stationery,
                                   const layout::IssueFacts& facts, Instant created,
                                   layout::Document&& pages, Sources& sources, Diagnostics& out,
                                   const std::optional<pdf::SealSpace>& seal) {
  const std::string extract = installer_extract(w, sources, out);
  if (extract.empty()) return std::nullopt;
  const pdf::Meta meta = meta_for(w, stationery, facts, created, pages.title, extract, seal);
  return pdf::render(std::move(pages), meta, out);
}

}  // namespace

std::vector<std::string> document_names(const record::Job& job) {
  std::vector<std::string> names;
  for (const auto& d : job.documents)
    if (d) names.push_back(*d);
  if (!names.empty()) return names;
  if (!job.dangers.empty()) names.push_back("danger-notice");
  const auto kind = job.kind.value_or(record::JobKind::minor_works);
  names.push_back(kind == record::JobKind::installation       ? "installation"
                  : kind == record::JobKind::condition_report ? "condition-report"
                                                              : "minor-works");
  names.push_back("client-page");
  return names;
}

std::optional<std::vector<LoadedForm>> load_forms(const Workspace& w,
                                                  const std::vector<std::string>& names,
                                                  const layout::Theme& theme, Sources& sources,
                                                  Diagnostics& out) {
  std::vector<LoadedForm> forms;
  bool whole = true;
  for (const std::string& name : names) {
    const auto path = find_form(w, name, out);
    auto bytes = path ? read_file(*path, kMaxFormBytes, out) : std::nullopt;
    if (!bytes) {
      whole = false;
      continue;
    }
    const SourceId source = sources.add(path->string(), *bytes, shipped::tree(*bytes));
    if (const auto known = forms_read().find([&](const FormRead& f) {
          return f.form.form->source == source && f.form.name == name && f.theme == theme &&
                 f.form.bytes == *bytes;
        })) {
      forms.push_back(known->form);
      continue;
    }
    const std::size_t said = out.all().size();
    auto form = layout::load_form(sources, source, out, theme);
    if (!form) {
      whole = false;
      continue;
    }
    forms.push_back(
        {name, std::move(*bytes), std::make_shared<const layout::Form>(std::move(*form))});
    if (out.all().size() == said)
      forms_read().keep(std::make_shared<const FormRead>(FormRead{forms.back(), theme}));
  }
  if (!whole) return std::nullopt;
  return forms;
}

std::optional<Artwork> load_artwork(const Workspace& w, Diagnostics& out) {
  Artwork art;
  const fs::path folder = w.installer_path.parent_path();
  const auto take = [&](const record::Text& path, int& index) {
    if (!path) return true;
    auto image = load_image(folder, path, out);
    if (!image) return false;
    index = static_cast<int>(art.images.size());
    art.images.push_back(std::move(*image));
    return true;
  };
  bool whole = take(w.installer.look.logo, art.logo);
  for (const std::string& key : signers(w.job)) {
    const auto* person = w.installer.person(key);
    int index = -1;
    whole = (person == nullptr || take(person->signature, index)) && whole;
    if (index < 0) continue;
    art.signatures.emplace_back(key, index);
    if (key == w.job.person.value_or("")) art.signature = index;
  }
  if (!whole) return std::nullopt;
  return art;
}

std::optional<Stationery> load_stationery(const Workspace& w, const std::vector<std::string>& names,
                                          Sources& sources, Diagnostics& out) {
  auto look = load_look(w, sources, out);
  auto forms = load_forms(w, names, look ? look->theme : layout::Theme{}, sources, out);
  auto art = load_artwork(w, out);
  std::optional<LoadedWords> words;
  if (w.language != kEnglish && !(words = load_words(w, sources, out))) return std::nullopt;
  if (!look || !forms || !art) return std::nullopt;
  if (words)
    for (LoadedForm& f : *forms)
      f.form = std::make_shared<const layout::Form>(layout::translated(*f.form, words->translation));
  return Stationery{std::move(*forms), std::move(*art), std::move(*look), std::move(words)};
}

std::optional<std::string> render(const Workspace& w, const checks::Report& report,
                                  const Stationery& stationery, layout::IssueFacts facts,
                                  Instant created, Sources& sources, Diagnostics& out,
                                  const std::optional<pdf::SealSpace>& seal) {
  if (seal) facts.signed_by = seal->signer;
  auto pages = lay_out(w, report, stationery, facts, out);
  return pages ? written(w, stationery, facts, created, std::move(*pages), sources, out, seal)
               : std::nullopt;
}

std::optional<std::string> render(const Workspace& w, checks::Report&& report,
                                  const Stationery& stationery, layout::IssueFacts facts,
                                  Instant created, Sources& sources, Diagnostics& out,
                                  const std::optional<pdf::SealSpace>& seal) {
  if (seal) facts.signed_by = seal->signer;
  auto pages = lay_out(w, report, stationery, facts, out);
  report = {};
  return pages ? written(w, stationery, facts, created, std::move(*pages), sources, out, seal)
               : std::nullopt;
}

}  // namespace ohmleaf::app
