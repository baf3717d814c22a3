#include "archive/bag.h"

#include <algorithm>
#include <map>

#include "archive/issue_record.h"
#include "base/digest.h"
#include "base/text.h"

namespace ohmleaf::archive {
namespace {

bool refuse(FsError& error, std::string what) {
  error = {0, std::move(what)};
  return false;
}

const Package::Item* item_of(const Package& package, std::string_view name) {
  const auto at = std::find_if(package.items().begin(), package.items().end(),
                               [&](const Package::Item& i) { return i.name == name; });
  return at == package.items().end() ? nullptr : &*at;
}

/// Name to digest, each name once.
std::optional<std::map<std::string, std::string>> read_manifest(Package& package,
                                                                std::string_view name,
                                                                FsError& error) {
  const Package::Item* item = item_of(package, name);
  if (item == nullptr) {
    refuse(error, "it has no " + std::string(name) + ": it is no package of ohmleaf");
    return std::nullopt;
  }
  const auto bytes = package.read(*item, error);
  if (!bytes) return std::nullopt;
  const auto lines = parse_manifest(*bytes);
  std::map<std::string, std::string> digests;
  for (const ManifestLine& line : lines.value_or(std::vector<ManifestLine>{}))
    digests.emplace(line.name, line.digest);
  if (!lines || digests.size() != lines->size()) {
    refuse(error, std::string(name) + " is damaged");
    return std::nullopt;
  }
  return digests;
}

}  // namespace

bool write_deep(int folder, const std::string& name, const std::string& bytes, FsError& error) {
  const std::size_t slash = name.find('/');
  if (slash == std::string::npos) return write_new(folder, name, bytes, error);
  const std::string first = name.substr(0, slash);
  const Fd inner = exists_in(folder, first) ? open_folder_beneath(folder, first, error)
                                            : make_folder(folder, first, error);
  return inner.valid() && write_deep(inner.get(), name.substr(slash + 1), bytes, error);
}

std::string manifest_text(std::vector<ManifestLine> lines) {
  std::sort(lines.begin(), lines.end(),
            [](const ManifestLine& a, const ManifestLine& b) { return a.name < b.name; });
  std::string text;
  for (const ManifestLine& line : lines) text += line.digest + "  " + line.name + "\n";
  return text;
}

std::optional<std::vector<ManifestLine>> parse_manifest(std::string_view text) {
  std::vector<ManifestLine> lines;
  for (std::string_view line : split(text, '\n')) {
    if (line.ends_with('\r')) line.remove_suffix(1);
    if (line.empty()) continue;
    const std::size_t name = line.find_first_not_of(" \t", 128);
    if (line.size() < 130 || name == std::string_view::npos || name == 128) return std::nullopt;
    ManifestLine one{ascii_lower(line.substr(0, 128)), std::string(line.substr(name))};
    if (!is_hex(one.digest, 128) || !is_package_name(one.name)) return std::nullopt;
    lines.push_back(std::move(one));
  }
  return lines;
}

bool check_bag(Package& package, const OnPayload& on_payload, FsError& error) {
  const Package::Item* declaration = item_of(package, "bagit.txt");
  if (declaration == nullptr)
    return refuse(error, "it has no bagit.txt: it is no package of ohmleaf");
  const auto declared = package.read(*declaration, error);
  if (!declared) return false;
  if (*declared != kBagDeclaration)
    return refuse(error, "bagit.txt is not that of a bag, version 1.0");
  auto payload = read_manifest(package, kManifest, error);
  auto tags = payload ? read_manifest(package, kTagManifest, error) : std::nullopt;
  if (!tags) return false;
  for (const Package::Item& item : package.items()) {
    if (item.name == kTagManifest) continue;
    auto& known = item.name.starts_with("data/") ? *payload : *tags;
    const auto line = known.find(item.name);
    if (line == known.end()) return refuse(error, "\"" + item.name + "\" is in no manifest");
    const auto bytes = package.read(item, error);
    if (!bytes) return false;
    if (sha512_hex(*bytes) != line->second)
      return refuse(error, "\"" + item.name + "\" is not what its manifest says");
    known.erase(line);
    if (on_payload && item.name.starts_with("data/") &&
        !on_payload(item.name.substr(5), *bytes, error))
      return false;
  }
  for (const auto* left : {&*payload, &*tags})
    if (!left->empty()) return refuse(error, "\"" + left->begin()->first + "\" is missing in it");
  return true;
}

}  // namespace ohmleaf::archive
