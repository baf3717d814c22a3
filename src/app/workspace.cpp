#include "app/workspace.h"

#include <system_error>

#include "base/files.h"
#include "base/kept.h"
#include "base/memory.h"
#include "base/text.h"
#include "base/toml.h"
#include "record/read.h"

namespace ohmleaf::app {
namespace {

namespace fs = std::filesystem;

constexpr const char* kProfile = "installer.toml";

std::optional<fs::path> job_file(const fs::path& given, Diagnostics& out) {
  std::error_code ec;
  if (!fs::is_directory(given, ec)) return given;
  const fs::path inside = given / "job.toml";
  if (fs::exists(inside, ec)) return inside;
  out.error("no-such-file", {}, given.string() + ": this folder holds no job.toml",
            {"Give the job file itself, or the folder that holds it."});
  return std::nullopt;
}

/// As the user would name it from where they stand, if it lies there; messages show this.
fs::path as_seen(const fs::path& found) {
  std::error_code ec;
  const fs::path near = fs::proximate(found, ec);
  return ec || near.empty() || near.native().size() > found.native().size() ? found : near;
}

/// The profile in the user's own folder; empty where there is no such folder.
fs::path usual_profile(const Places& places) {
  return places.config_home.empty() ? fs::path() : places.config_home / "ohmleaf" / kProfile;
}

std::optional<fs::path> profile_for(const fs::path& folder, const Places& places,
                                    Diagnostics& out) {
  if (places.installer) return *places.installer;
  if (auto found = find_upwards(folder, kProfile)) return as_seen(*found);
  std::error_code ec;
  const fs::path usual = usual_profile(places);
  if (!usual.empty() && fs::exists(usual, ec)) return usual;
  const std::string own_place = usual.empty() ? "" : ", or at " + usual.string();
  out.error("no-installer", {},
            "no installer.toml was found in " + folder.string() + " or in any folder above it",
            {"Put your installer.toml in the folder that holds your jobs" + own_place +
             ", or name it with --installer FILE; `ohmleaf start installer` begins one."});
  return std::nullopt;
}

std::string folder_name_of(const fs::path& job) {
  std::error_code ec;
  const fs::path whole = fs::weakly_canonical(job, ec);
  return (ec ? job : whole).parent_path().filename().string();
}

/// The command line before the job before the profile.
void choose_language(Workspace& w, const Places& places) {
  w.language = kEnglish;
  for (const record::Text& t : {w.installer.look.language, w.job.language})
    if (t) {
      w.language = *t;
      w.language_span = t.span;
    }
  if (places.language) {
    w.language = *places.language;
    w.language_span = {};
  }
}

fs::path beside(const fs::path& profile, const char* name) {
  const fs::path folder = profile.parent_path();
  return folder.empty() ? fs::path(name) : folder / name;
}

/// A file longer than a thousand circuits may be meant to fill the memory: it is looked at first.
constexpr std::size_t kUsualJob = std::size_t{1} << 20;
/// What reading, checking and reporting take, as measured: so much for any job, and for each byte.
constexpr std::size_t kReading = std::size_t{1} << 20, kReadingEach = 35;

struct Profile {
  std::string bytes;
  record::Installer installer;
  TomlNode tree;
};

/// Of many jobs most have the same profile, which is then read once. It is the same only if its text is,
/// and the place among the sources that its spans name.
std::shared_ptr<const Profile> read_profile(const std::string& bytes, const Sources& sources,
                                            SourceId source, Diagnostics& out) {
  static Kept<Profile, 1> last;
  if (auto known = last.find([&](const Profile& p) {
        return p.installer.source == source && p.bytes == bytes;
      }))
    return known;
  const std::size_t said = out.all().size();
  const auto profile = std::make_shared<Profile>();
  auto installer = record::read_installer(sources, source, out, &profile->tree);
  if (!installer) return nullptr;
  profile->bytes = bytes;
  profile->installer = std::move(*installer);
  if (out.all().size() == said) last.keep(profile);
  return profile;
}

}  // namespace

std::optional<Workspace> load(const fs::path& given, const Places& places, Sources& sources,
                              Diagnostics& out) {
  Workspace w;
  const auto path = job_file(given, out);
  if (!path) return std::nullopt;
  w.job_path = *path;
  auto job_bytes = read_file(w.job_path, kTomlMaxBytes, out);
  if (!job_bytes) return std::nullopt;
  w.job_bytes = std::move(*job_bytes);
  if (w.job_bytes.size() <= kUsualJob)
    expect_memory(kReading + kReadingEach * w.job_bytes.size());
  const SourceId job_source = sources.add(w.job_path.string(), w.job_bytes);
  auto job = record::read_job(sources, job_source, folder_name_of(w.job_path), out);

  std::error_code ec;
  const fs::path absolute = fs::absolute(w.job_path, ec);
  const auto profile = profile_for((ec ? w.job_path : absolute).parent_path(), places, out);
  if (!profile) return std::nullopt;
  w.installer_path = *profile;
  auto installer_bytes = read_file(w.installer_path, kTomlMaxBytes, out);
  if (!installer_bytes) return std::nullopt;
  w.installer_bytes = std::move(*installer_bytes);
  const SourceId installer_source = sources.add(w.installer_path.string(), w.installer_bytes);
  const auto profile_read = read_profile(w.installer_bytes, sources, installer_source, out);
  if (!job || !profile_read) return std::nullopt;
  w.job = std::move(*job);
  w.installer = profile_read->installer;
  w.installer_tree = std::shared_ptr<const TomlNode>(profile_read, &profile_read->tree);
  if (!record::check_references(w.job, w.installer, out)) return std::nullopt;

  w.theme = places.theme;
  w.archive_root = archive_beside(w.installer_path, places);
  choose_language(w, places);
  w.form_folders = {beside(w.installer_path, "forms"), places.data_folder / "forms"};
  return w;
}

std::vector<fs::path> form_folders(const Places& places) {
  std::vector<fs::path> out;
  std::error_code ec;
  Diagnostics none;  // no profile is no error here
  if (const auto profile = profile_for(fs::current_path(ec), places, none))
    out.push_back(beside(*profile, "forms"));
  out.push_back(places.data_folder / "forms");
  return out;
}

std::optional<fs::path> installer_path(const Places& places, Diagnostics& out) {
  std::error_code ec;
  return profile_for(fs::current_path(ec), places, out);
}

std::optional<fs::path> installer_path_for(const fs::path& folder, const Places& places,
                                           Diagnostics& out) {
  std::error_code ec;
  fs::path at = fs::absolute(folder, ec).lexically_normal();
  while (at.has_parent_path() && at != at.parent_path() && !fs::is_directory(at, ec))
    at = at.parent_path();
  return profile_for(at, places, out);
}

fs::path archive_beside(const fs::path& profile, const Places& places) {
  if (places.archive) return *places.archive;
  if (!places.data_home.empty() && profile == usual_profile(places))
    return places.data_home / "ohmleaf" / "archive";
  return beside(profile, "archive");
}

std::optional<fs::path> archive_root(const Places& places, Diagnostics& out) {
  if (places.archive) return places.archive;
  const auto profile = installer_path(places, out);
  if (!profile) return std::nullopt;
  return archive_beside(*profile, places);
}

}  // namespace ohmleaf::app
