#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "app/workspace.h"

namespace ohmleaf::app {

/// A form, a theme or a words file that can be found.
struct StationeryFile {
  std::string name;            ///< as it is asked for: "minor-works", "clay", "cymraeg"
  std::string title;           ///< of a document; what a language calls itself
  std::string language;        ///< "en-GB", "cy"; empty for a theme
  std::filesystem::path path;  ///< empty: built in
  bool own = false;            ///< beside the installer's own profile
  bool broken = false;         ///< it does not load
};

struct StationeryList {
  std::vector<StationeryFile> documents, themes, languages;
};

/// Everything there is to print with, sorted by name; the installer's own file stands for ours of
/// the same name. Without an installer.toml at hand, ours alone.
StationeryList list_stationery(const Places& places);

enum class StationeryKind { form, theme, words };

struct CheckedFile {
  StationeryKind kind = StationeryKind::form;
  /// Of a words file: texts of the forms at hand that have no line in it.
  std::vector<std::string> untranslated;
};

/// Reads one file as loading would, with the same messages. Which kind it is shows from its keys.
/// Nothing where it has an error.
std::optional<CheckedFile> check_stationery(const std::filesystem::path& file, const Places& places,
                                            Sources& sources, Diagnostics& out);

}  // namespace ohmleaf::app
