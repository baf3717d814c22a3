#include "app/visits.h"

#include <algorithm>
#include <set>

#include "archive/archive.h"
#include "base/files.h"
#include "base/text.h"
#include "base/toml.h"
#include "record/read.h"

namespace ohmleaf::app {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMostFolders = 2000;

/// "9 Tallow Yard,  BX4" and "9 tallow yard bx4" are one place.
std::string place_key(std::string_view premises) {
  std::string out;
  for (const char c : fold_for_search(premises))
    if ((c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || static_cast<unsigned char>(c) >= 0x80)
      out += c;
  return out;
}

std::string fact(const archive::Record& r, std::string_view name) {
  for (const auto& [key, value] : r.facts)
    if (key == name) return value;
  return {};
}

void from_archive(const fs::path& root, std::vector<Visit>& out) {
  std::error_code ec;
  if (!fs::is_directory(root, ec)) return;
  Diagnostics quiet;
  const auto store = archive::Archive::open(root, quiet);
  if (!store) return;
  for (const archive::Record& r : store->find({}, quiet)) {
    if (r.expired) continue;
    out.push_back({fact(r, "premises"),
                   fact(r, "client"),
                   Date::parse(fact(r, "date")).value_or(r.issued.date()),
                   r.number,
                   {},
                   r.number,
                   r.revision});
  }
}

std::optional<LastJob> read_text(const std::string& name, const std::string& bytes,
                                 Diagnostics& out) {
  Sources sources;
  const SourceId source = sources.add(name, bytes);
  auto job = record::read_job(sources, source, "job", out);
  if (!job) return std::nullopt;
  auto root = parse_toml(sources, source, out);
  if (!root) return std::nullopt;
  const Date day = job->date.value_or(Date{});
  return LastJob{std::move(*job), std::move(*root), {}, day};
}

/// Job folders beside the profile, and one folder deeper (a folder for each year).
void from_folders(const fs::path& root, std::vector<Visit>& out) {
  std::error_code ec;
  std::size_t seen = 0;
  auto it =
      fs::recursive_directory_iterator(root, fs::directory_options::skip_permission_denied, ec);
  for (; !ec && it != fs::recursive_directory_iterator(); it.increment(ec)) {
    if (++seen > kMostFolders) return;
    if (!it->is_directory(ec)) continue;
    const std::string name = it->path().filename().string();
    if (it.depth() >= 1 || name == "archive" || name.starts_with('.'))
      it.disable_recursion_pending();
    if (!fs::is_regular_file(it->path() / "job.toml", ec)) continue;
    Diagnostics quiet;
    const auto bytes = read_file(it->path() / "job.toml", kTomlMaxBytes, quiet);
    const auto last = bytes ? read_text(name, *bytes, quiet) : std::nullopt;
    if (last && last->job.date)
      out.push_back({last->job.premises.value_or(""),
                     last->job.client.value_or(""),
                     last->day,
                     name,
                     it->path() / "job.toml",
                     {},
                     0});
  }
}

}  // namespace

std::vector<Visit> visits(const fs::path& profile, const fs::path& archive_root) {
  std::vector<Visit> all;
  from_archive(archive_root, all);
  from_folders(profile.parent_path().empty() ? "." : profile.parent_path(), all);
  std::stable_sort(all.begin(), all.end(),
                   [](const Visit& a, const Visit& b) { return a.day > b.day; });
  return all;
}

std::vector<Visit> latest_of_each(const std::vector<Visit>& visits, std::size_t most) {
  std::set<std::string> known;
  std::vector<Visit> out;
  for (const Visit& v : visits) {
    const std::string key = place_key(v.premises);
    if (out.size() == most) break;
    if (!key.empty() && known.insert(key).second) out.push_back(v);
  }
  return out;
}

std::optional<Visit> visit_named(const std::vector<Visit>& known, const std::string& words) {
  const std::string name = ascii_lower(words), key = place_key(words);
  for (const Visit& v : known)
    if (ascii_lower(v.name) == name || (!key.empty() && place_key(v.premises) == key)) return v;
  return std::nullopt;
}

std::optional<LastJob> job_of(const Visit& visit, const fs::path& archive_root, Diagnostics& out) {
  std::optional<std::string> bytes;
  if (visit.number.empty()) {
    bytes = read_file(visit.file, kTomlMaxBytes, out);
  } else {
    const auto store = archive::Archive::open(archive_root, out);
    if (!store) return std::nullopt;
    bytes = store->read(visit.number, visit.revision, "job.toml", out);
  }
  if (!bytes) return std::nullopt;
  auto last = read_text(visit.name, *bytes, out);
  if (last) last->name = visit.name;
  return last;
}

}  // namespace ohmleaf::app
