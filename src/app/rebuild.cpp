#include "app/rebuild.h"

#include <stdlib.h>

#include <system_error>

#include "app/attachments.h"
#include "app/documents.h"
#include "app/redact.h"
#include "app/signature.h"
#include "base/files.h"
#include "base/json.h"
#include "base/text.h"
#include "checks/check.h"

namespace ohmleaf::app {
namespace {

namespace fs = std::filesystem;

/// A folder of our own that goes when we are done.
class Scratch {
 public:
  explicit Scratch(const fs::path& parent) {
    if (const auto made = make_scratch_folder(parent, "ohmleaf-rebuild-")) path_ = *made;
  }
  ~Scratch() {
    std::error_code ec;
    if (!path_.empty()) fs::remove_all(path_, ec);
  }
  Scratch(const Scratch&) = delete;
  Scratch& operator=(const Scratch&) = delete;
  const fs::path& path() const { return path_; }

 private:
  fs::path path_;
};

std::nullopt_t not_ours(const std::string& why, Diagnostics& out) {
  out.error("no-certificate-data", {}, "the PDF cannot be made again: " + why,
            {"Only an issued certificate carries all of its own data. A draft, a copy that was "
             "printed to PDF again, or one issued by an early version does not."});
  return std::nullopt;
}

/// What the certificate says of itself.
struct Said {
  layout::IssueFacts facts;
  Instant issued;
  std::string job, theme, language;
  std::optional<pdf::SealSpace> seal;
  std::vector<std::string> documents, images;
};

std::vector<std::string> texts(const Json& record, std::string_view key) {
  std::vector<std::string> out;
  const Json* list = record.find(key);
  if (list == nullptr || list->as_array() == nullptr) return out;
  for (const Json& one : *list->as_array())
    if (const std::string* text = one.as_string()) out.push_back(*text);
  return out;
}

/// The place that was left for an electronic signature, as the certificate says.
std::optional<pdf::SealSpace> seal_in(const Json& record) {
  const Json* found = record.find("signed");
  const Json* room = found != nullptr ? found->find("room") : nullptr;
  const std::int64_t* bytes = room != nullptr ? room->as_int() : nullptr;
  if (bytes == nullptr || *bytes < 1) return std::nullopt;
  return pdf::SealSpace{found->text("by"), static_cast<std::size_t>(*bytes)};
}

std::optional<Said> said_by(const std::string& bytes, Diagnostics& out) {
  std::string error;
  const auto record = parse_json(bytes, error);
  if (!record) return not_ours("its own record does not read: " + error, out);
  const auto issued = Instant::parse(record->text("issued"));
  const Json* revision = record->find("revision");
  const std::int64_t* number = revision != nullptr ? revision->as_int() : nullptr;
  Said s;
  s.job = record->text("job");
  s.language = record->text("language");
  s.documents = texts(*record, "documents");
  s.images = texts(*record, "images");
  s.theme = record->text("theme");
  s.seal = seal_in(*record);
  if (!issued || number == nullptr || *number < 1 || *number > 1'000'000 || s.job.empty() ||
      s.documents.empty())
    return not_ours("its own record leaves out what is needed", out);
  s.issued = *issued;
  s.facts.number = record->text("number");
  s.facts.revision = static_cast<int>(*number);
  s.facts.replaces = record->text("replaces");
  s.facts.chain_head = record->text("chain_head");
  s.facts.issued = s.issued.iso();
  s.facts.draft = false;
  s.facts.program = record->text("program");
  return s;
}

/// A path that stays where it is put: relative, and never upwards.
bool stays_below(const fs::path& path) {
  if (path.empty() || path.is_absolute()) return false;
  for (const fs::path& part : path)
    if (part == "..") return false;
  return true;
}

bool put(const fs::path& file, const std::string& bytes, Diagnostics& out) {
  std::error_code ec;
  fs::create_directories(file.parent_path(), ec);
  return write_file(file, bytes, out);
}

/// Lays the embedded files out as they would lie beside an installer.toml.
bool unpack(const std::vector<Attachment>& files, const Said& said, const fs::path& folder,
            Diagnostics& out) {
  for (const Attachment& a : files) {
    fs::path to;
    if (a.name == "job.toml") to = folder / "jobs" / said.job / a.name;
    if (a.name == "installer.toml") to = folder / a.name;
    if (a.name.starts_with("form-")) to = folder / "forms" / a.name.substr(5);
    if (a.name.starts_with("words-") || a.name.starts_with("theme-"))
      to = folder / "forms" / a.name;
    for (std::size_t i = 0; i < said.images.size(); ++i)
      if (a.name == image_file_name(i) && stays_below(said.images[i])) to = folder / said.images[i];
    if (!to.empty() && !put(to, a.bytes, out)) return false;
  }
  return true;
}

/// What is needed to make it again.
struct Carried {
  std::vector<Attachment> files;
  Said said;
};

std::optional<Carried> carried_by(std::string_view pdf, Diagnostics& out) {
  auto files = attachments_of(pdf, out);
  if (!files) return std::nullopt;
  const Attachment* record = find_attachment(*files, kCertificateRecord);
  if (record == nullptr || find_attachment(*files, "job.toml") == nullptr ||
      find_attachment(*files, "installer.toml") == nullptr)
    return not_ours("it does not carry its own record, job and profile", out);
  auto said = said_by(record->bytes, out);
  if (!said) return std::nullopt;
  if (!stays_below(said->job) || fs::path(said->job).has_parent_path())
    return not_ours("its own record names a job that cannot be", out);
  return Carried{std::move(*files), std::move(*said)};
}

std::optional<std::string> make_again(const Carried& c, const fs::path& scratch, Sources& sources,
                                      Diagnostics& out) {
  const Scratch folder(scratch);
  if (folder.path().empty()) {
    out.system_error("no-scratch", "no folder can be made in " + visible(scratch.string()),
                     {"Free some space there, or set TMPDIR to a folder that may be written."});
    return std::nullopt;
  }
  if (!unpack(c.files, c.said, folder.path(), out)) return std::nullopt;
  Places places;
  places.installer = folder.path() / "installer.toml";
  places.language = c.said.language.empty() ? kEnglish : c.said.language;
  places.data_folder = folder.path() / "none";  // nothing but what the certificate carries
  places.theme = c.said.theme.empty() ? "plain" : c.said.theme;
  const auto w = load(folder.path() / "jobs" / c.said.job, places, sources, out);
  if (!w) return std::nullopt;
  const auto stationery = load_stationery(*w, c.said.documents, sources, out);
  if (!stationery) return std::nullopt;
  return render(*w, checks::check(w->job, w->installer), *stationery, c.said.facts, c.said.issued,
                sources, out, c.said.seal);
}

}  // namespace

std::optional<Rebuilt> rebuild(std::string_view filed, const fs::path& scratch, Sources& sources,
                               Diagnostics& out) {
  const auto carried = carried_by(filed, out);
  auto bytes = carried ? make_again(*carried, scratch, sources, out) : std::nullopt;
  if (!bytes) return std::nullopt;

  Rebuilt r;
  const std::string pdf = carried->said.seal ? without_signature(filed) : std::string(filed);
  if (carried->said.seal) r.signed_by = carried->said.seal->signer;
  r.number = carried->said.facts.number;
  r.revision = carried->said.facts.revision;
  r.program = carried->said.facts.program;
  r.same_bytes = *bytes == pdf;
  const auto now = r.same_bytes ? std::nullopt : plain_content(*bytes);
  r.same_content = r.same_bytes || (now && now == plain_content(pdf));
  r.bytes = std::move(*bytes);
  return r;
}

std::optional<std::string> redacted_copy(std::string_view pdf, const fs::path& scratch,
                                         Sources& sources, Diagnostics& out) {
  auto carried = carried_by(pdf, out);
  if (!carried) return std::nullopt;
  for (Attachment& a : carried->files) {
    if (a.name != "job.toml") continue;
    auto redacted = redacted_job(a.bytes, out);
    if (!redacted) return std::nullopt;
    a.bytes = std::move(*redacted);
  }
  carried->said.facts.redacted = true;
  carried->said.seal.reset();  // what was signed is not what is left
  carried->said.job = "redacted";  // the job's id is often the name of its client
  return make_again(*carried, scratch, sources, out);
}

}  // namespace ohmleaf::app
