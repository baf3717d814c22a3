#include "app/words.h"

#include <algorithm>
#include <system_error>

#include "base/files.h"
#include "base/text.h"
#include "shipped/shipped.h"

namespace ohmleaf::app {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t kMaxWordsBytes = 1u << 20;
constexpr std::string_view kPrefix = "words-";

bool plain_name(std::string_view name) {
  return !name.empty() && name.size() <= 64 &&
         name.find_first_not_of("abcdefghijklmnopqrstuvwxyz0123456789-") == std::string_view::npos;
}

}  // namespace

std::string words_file_name(std::string_view language) {
  return std::string(kPrefix) + std::string(language) + ".toml";
}

std::vector<std::string> languages_in(const std::vector<fs::path>& folders) {
  std::vector<std::string> out;
  for (const fs::path& folder : folders) {
    std::error_code ec;
    for (fs::directory_iterator it(folder, ec), end; !ec && it != end; it.increment(ec)) {
      const std::string stem = it->path().stem().string();
      if (it->path().extension() == ".toml" && stem.starts_with(kPrefix))
        out.push_back(stem.substr(kPrefix.size()));
    }
  }
  std::sort(out.begin(), out.end());
  out.erase(std::unique(out.begin(), out.end()), out.end());
  return out;
}

std::optional<LoadedWords> read_words(const std::string& language, const std::string& shown_path,
                                      std::string bytes, Sources& sources, Diagnostics& out) {
  const SourceId source = sources.add(shown_path, bytes, shipped::tree(bytes));
  auto translation = layout::load_translation(sources, source, out);
  if (!translation) return std::nullopt;
  return LoadedWords{language, std::move(bytes),
                     std::make_shared<const layout::Translation>(std::move(*translation))};
}

std::optional<LoadedWords> load_words(const Workspace& w, Sources& sources, Diagnostics& out) {
  std::error_code ec;
  if (plain_name(w.language))
    for (const fs::path& folder : w.form_folders) {
      const fs::path path = folder / words_file_name(w.language);
      if (!fs::exists(path, ec)) continue;
      auto bytes = read_file(path, kMaxWordsBytes, out);
      if (!bytes) return std::nullopt;
      return read_words(w.language, path.string(), std::move(*bytes), sources, out);
    }
  std::vector<std::string> at_hand = languages_in(w.form_folders);
  at_hand.insert(at_hand.begin(), kEnglish);
  const auto near = nearest(w.language, {at_hand.begin(), at_hand.end()});
  out.error("no-such-language", w.language_span,
            "there are no words for the language \"" + visible(w.language) + "\"",
            {near ? "Did you mean \"" + *near + "\"?"
                  : "The languages at hand are: " + join(at_hand, ", ") + "."});
  return std::nullopt;
}

}  // namespace ohmleaf::app
