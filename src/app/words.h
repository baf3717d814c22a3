#pragma once
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "app/workspace.h"
#include "layout/translation.h"

namespace ohmleaf::app {

/// A words file with the text it was read from, which is embedded and archived.
struct LoadedWords {
  std::string name;  ///< "cymraeg"
  std::string bytes;
  std::shared_ptr<const layout::Translation> translation;
};

/// The name of a words file as it is embedded and archived: "words-cymraeg.toml".
std::string words_file_name(std::string_view language);

/// Reads a words file from its text: also for rendering a certificate again from its own data.
std::optional<LoadedWords> read_words(const std::string& language, const std::string& shown_path,
                                      std::string bytes, Sources& sources, Diagnostics& out);

/// Finds the workspace's language in its form folders (the installer's own first) and reads it. A
/// language that is not there is an error that names those that are.
std::optional<LoadedWords> load_words(const Workspace& workspace, Sources& sources,
                                      Diagnostics& out);

/// The languages that these folders hold, sorted: "cymraeg".
std::vector<std::string> languages_in(const std::vector<std::filesystem::path>& folders);

}  // namespace ohmleaf::app
