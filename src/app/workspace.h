#pragma once
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "base/source.h"
#include "base/toml.h"
#include "record/installer.h"
#include "record/job.h"

namespace ohmleaf::app {

/// The language that needs no words file.
inline constexpr const char* kEnglish = "english";

/// Where a command looks; everything comes from the caller.
struct Places {
  std::optional<std::filesystem::path> installer;  ///< instead of walking up from the job
  std::optional<std::filesystem::path> archive;    ///< instead of beside installer.toml
  std::filesystem::path data_folder;               ///< holds forms/
  std::optional<std::string> theme;                ///< instead of the one in installer.toml
  std::optional<std::string> language;             ///< instead of the job's or the installer's
  /// The user's own folders, by the XDG base directory specification; empty where there are none.
  std::filesystem::path config_home;  ///< ohmleaf/installer.toml in it, where none is found upwards
  std::filesystem::path data_home;    ///< ohmleaf/archive in it is the archive of that profile
};

/// A job read with the profile it belongs to. Immutable once loaded.
struct Workspace {
  std::filesystem::path job_path;
  std::filesystem::path installer_path;
  std::string job_bytes;
  std::string installer_bytes;
  record::Job job;
  record::Installer installer;
  std::shared_ptr<const TomlNode> installer_tree;  ///< of installer_bytes; may be null: not kept
  std::filesystem::path archive_root;
  std::optional<std::string> theme;                 ///< as in Places
  std::vector<std::filesystem::path> form_folders;  ///< the installer's own before ours
  std::string language;  ///< of the pages: the name of a words file, or kEnglish
  Span language_span;    ///< where it was chosen; not valid for the command line
};

/// Reads a job (a file, or a folder that holds job.toml), finds its installer.toml (by walking up,
/// else in the user's own folder), reads that, and checks the references between them. Every error of all three steps goes to `out`.
std::optional<Workspace> load(const std::filesystem::path& job, const Places& places,
                              Sources& sources, Diagnostics& out);

/// Where forms, themes and words files lie, the installer's own folder first. Without an
/// installer.toml, found by walking up from the current folder or named, ours alone.
std::vector<std::filesystem::path> form_folders(const Places& places);

/// The profile that a command without a job works with: the one named, or installer.toml found by
/// walking up from the current folder.
std::optional<std::filesystem::path> installer_path(const Places& places, Diagnostics& out);
/// The same for a job that is to be made in `folder`, which need not be there yet.
std::optional<std::filesystem::path> installer_path_for(const std::filesystem::path& folder,
                                                        const Places& places, Diagnostics& out);
/// The archive that belongs to a profile: the one named, or archive/ beside it.
std::filesystem::path archive_beside(const std::filesystem::path& profile, const Places& places);

/// The archive that a command without a job works on: `--archive`, or archive/ beside the
/// installer.toml found by walking up from the current folder.
std::optional<std::filesystem::path> archive_root(const Places& places, Diagnostics& out);

}  // namespace ohmleaf::app
