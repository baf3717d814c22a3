#include "app/look.h"

#include <algorithm>
#include <system_error>

#include "base/files.h"
#include "base/text.h"
#include "shipped/shipped.h"

namespace ohmleaf::app {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMaxThemeBytes = 1u << 16;
constexpr std::string_view kOurs = "plain", kBefore = "theme-";

bool is_name(std::string_view text) {
  return !text.empty() && text.size() <= 64 &&
         text.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-") == std::string_view::npos;
}

std::string themes_at_hand(const Workspace& w) {
  std::vector<std::string> names{std::string(kOurs)};
  for (const fs::path& folder : w.form_folders) {
    std::error_code ec;
    for (fs::directory_iterator it(folder, ec), end; !ec && it != end; it.increment(ec)) {
      const std::string stem = it->path().stem().string();
      if (it->path().extension() == ".toml" && stem.starts_with(kBefore))
        names.push_back(stem.substr(kBefore.size()));
    }
  }
  std::sort(names.begin(), names.end());
  names.erase(std::unique(names.begin(), names.end()), names.end());
  return join(names, ", ");
}

std::optional<fs::path> find_theme(const Workspace& w, const std::string& wanted) {
  std::error_code ec;
  if (is_name(wanted))
    for (const fs::path& folder : w.form_folders) {
      const fs::path file = folder / (std::string(kBefore) + wanted + ".toml");
      if (fs::exists(file, ec)) return file;
    }
  const fs::path file = w.installer_path.parent_path() / wanted;
  if (wanted.ends_with(".toml") && fs::exists(file, ec)) return file;
  return std::nullopt;
}

/// "my/theme-dusk.toml" is "dusk"; what stands in a file name of the archive.
std::string name_of(const fs::path& file) {
  std::string stem = ascii_lower(file.stem().string());
  if (stem.starts_with(kBefore)) stem.erase(0, kBefore.size());
  return is_name(stem) ? stem : "own";
}

}  // namespace

std::optional<Look> load_look(const Workspace& w, Sources& sources, Diagnostics& out) {
  Look look;
  const record::Text& chosen = w.installer.look.theme;
  const std::string wanted = w.theme.value_or(chosen.value_or(""));
  if (!wanted.empty() && wanted != kOurs) {
    const auto file = find_theme(w, wanted);
    if (!file) {
      out.error("no-such-theme", w.theme ? Span{} : chosen.span,
                "there is no theme \"" + visible(wanted) + "\"",
                {"The themes at hand are: " + themes_at_hand(w) + "."});
      return std::nullopt;
    }
    auto bytes = read_file(*file, kMaxThemeBytes, out);
    if (!bytes) return std::nullopt;
    const SourceId source = sources.add(file->string(), *bytes, shipped::tree(*bytes));
    const auto theme = layout::load_theme(sources, source, out);
    if (!theme) return std::nullopt;
    look = {name_of(*file), std::move(*bytes), *theme};
  }
  return look;
}

}  // namespace ohmleaf::app
