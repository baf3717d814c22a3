#include "app/stationery.h"

#include <algorithm>
#include <map>
#include <set>
#include <system_error>

#include "app/words.h"
#include "base/files.h"
#include "base/toml.h"
#include "layout/form.h"

namespace ohmleaf::app {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMaxBytes = 1u << 20;
constexpr std::string_view kTheme = "theme-", kWords = "words-";

void read_title(StationeryFile& f) {
  Sources sources;
  Diagnostics out;
  auto bytes = read_file(f.path, kMaxBytes, out);
  if (!bytes) {
    f.broken = true;
    return;
  }
  const std::string stem = f.path.stem().string();
  const SourceId id = sources.add(f.path.string(), std::move(*bytes));
  if (stem.starts_with(kTheme)) {
    f.broken = !layout::load_theme(sources, id, out);
  } else if (stem.starts_with(kWords)) {
    const auto words = layout::load_translation(sources, id, out);
    f.broken = !words;
    if (words) f.title = words->title + " (" + words->language + ")";
    if (words) f.language = words->language;
  } else {
    const auto form = layout::load_form(sources, id, out);
    f.broken = !form;
    if (form) f.title = form->title;
    if (form) f.language = form->language;
  }
}

void sort_in(StationeryFile f, StationeryList& out) {
  const std::string stem = f.path.stem().string();
  auto& list = stem.starts_with(kTheme)   ? out.themes
               : stem.starts_with(kWords) ? out.languages
                                          : out.documents;
  f.name = stem;
  if (stem.starts_with(kTheme)) f.name = stem.substr(kTheme.size());
  if (stem.starts_with(kWords)) f.name = stem.substr(kWords.size());
  read_title(f);
  list.push_back(std::move(f));
}

StationeryKind kind_of(const TomlNode& root) {
  const bool form = root.find("block") || root.find("page") || root.find("title");
  if (!form && (root.find("text") || root.find("form") || root.find("words")))
    return StationeryKind::words;
  if (!form && root.find("theme")) return StationeryKind::theme;
  return StationeryKind::form;
}

/// What the forms at hand say and this language has no line for.
std::vector<std::string> untranslated(std::shared_ptr<const layout::Translation> words,
                                      const Places& places) {
  std::vector<std::string> all;
  for (const StationeryFile& f : list_stationery(places).documents) {
    Sources sources;
    Diagnostics out;
    auto bytes = read_file(f.path, kMaxBytes, out);
    if (!bytes) continue;
    const auto form = layout::load_form(sources, sources.add(f.name, std::move(*bytes)), out);
    if (form) layout::translated(*form, words, &all);
  }
  std::set<std::string> seen;
  std::erase_if(all, [&](const std::string& key) { return !seen.insert(key).second; });
  return all;
}

}  // namespace

StationeryList list_stationery(const Places& places) {
  std::map<std::string, StationeryFile> by_stem;
  const auto folders = form_folders(places);
  for (auto folder = folders.rbegin(); folder != folders.rend(); ++folder) {
    std::error_code ec;
    for (fs::directory_iterator it(*folder, ec), end; !ec && it != end; it.increment(ec))
      if (it->path().extension() == ".toml") {
        StationeryFile f;
        f.path = it->path();
        f.own = *folder != places.data_folder / "forms";
        by_stem[f.path.stem().string()] = std::move(f);
      }
  }
  StationeryList out;
  for (auto& [stem, f] : by_stem) sort_in(std::move(f), out);
  out.themes.insert(out.themes.begin(), {.name = "plain", .title = "", .language = "", .path = {}});
  out.languages.insert(out.languages.begin(),
                       {.name = kEnglish, .title = "English", .language = "en-GB", .path = {}});
  return out;
}

std::optional<CheckedFile> check_stationery(const fs::path& file, const Places& places,
                                            Sources& sources, Diagnostics& out) {
  auto bytes = read_file(file, kMaxBytes, out);
  if (!bytes) return std::nullopt;
  const SourceId id = sources.add(file.string(), *bytes);
  CheckedFile checked;
  {
    Diagnostics unseen;  // the loader says it again, with the rest
    const auto root = parse_toml(sources, id, unseen);
    if (root) checked.kind = kind_of(*root);
  }
  switch (checked.kind) {
    case StationeryKind::form:
      if (!layout::load_form(sources, id, out)) return std::nullopt;
      break;
    case StationeryKind::theme:
      if (!layout::load_theme(sources, id, out)) return std::nullopt;
      break;
    case StationeryKind::words: {
      auto words = layout::load_translation(sources, id, out);
      if (!words) return std::nullopt;
      checked.untranslated =
          untranslated(std::make_shared<const layout::Translation>(std::move(*words)), places);
      break;
    }
  }
  return checked;
}

}  // namespace ohmleaf::app
