#include <algorithm>
#include <cstdlib>
#include <set>

#include "archive/ocfl.h"
#include "base/digest.h"
#include "base/json.h"
#include "base/text.h"

namespace ohmleaf::archive::ocfl {
namespace {

bool all_digits(std::string_view text) {
  return !text.empty() &&
         std::all_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
}

/// Collects findings of one file.
struct Report {
  const std::string& file;
  Findings& out;
  void operator()(const char* code, std::string what) const {
    out.push_back({code, Damage::malformed, file, std::move(what)});
  }
};

/// RFC 3339 with seconds and a zone: the shape, and ranges a calendar allows.
bool is_timestamp(std::string_view t) {
  if (t.size() < 20 || t[4] != '-' || t[7] != '-' || (t[10] != 'T' && t[10] != 't') ||
      t[13] != ':' || t[16] != ':') {
    return false;
  }
  for (std::size_t at : {0, 1, 2, 3, 5, 6, 8, 9, 11, 12, 14, 15, 17, 18}) {
    if (t[at] < '0' || t[at] > '9') return false;
  }
  const auto two = [&](std::size_t at) { return (t[at] - '0') * 10 + (t[at + 1] - '0'); };
  if (!Date::parse(t.substr(0, 10)) || two(11) > 23 || two(14) > 59 || two(17) > 60) return false;
  std::string_view rest = t.substr(19);
  if (rest.front() == '.') {
    const std::size_t end = rest.find_first_not_of("0123456789", 1);
    if (end == std::string_view::npos || end == 1) return false;
    rest.remove_prefix(end);
  }
  if (rest == "Z" || rest == "z") return true;
  return rest.size() == 6 && (rest[0] == '+' || rest[0] == '-') && rest[3] == ':' &&
         all_digits(rest.substr(1, 2)) && all_digits(rest.substr(4, 2));
}

bool is_uri(std::string_view text) {
  const std::size_t colon = text.find(':');
  if (colon == std::string_view::npos || colon == 0 || colon + 1 == text.size()) return false;
  const std::string_view scheme = text.substr(0, colon);
  const auto letter = [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); };
  return letter(scheme.front()) && std::all_of(scheme.begin(), scheme.end(), [&](char c) {
           return letter(c) || (c >= '0' && c <= '9') || c == '+' || c == '-' || c == '.';
         });
}

bool has_bad_element(std::string_view path) {
  const std::vector<std::string_view> parts = split(path, '/');
  return std::any_of(parts.begin(), parts.end(),
                     [](std::string_view p) { return p.empty() || p == "." || p == ".."; });
}

/// Paths must not repeat, nor be a folder of one another.
std::vector<std::string> path_conflicts(const PathsByDigest& entries) {
  std::vector<std::string> all;
  for (const auto& [digest, paths] : entries) all.insert(all.end(), paths.begin(), paths.end());
  const std::set<std::string> known(all.begin(), all.end());
  std::set<std::string> seen;
  std::vector<std::string> bad;
  for (const std::string& path : all) {
    bool conflict = !seen.insert(path).second;
    for (std::size_t at = path.find('/'); at != std::string::npos && !conflict;
         at = path.find('/', at + 1)) {
      conflict = known.contains(path.substr(0, at));
    }
    if (conflict) bad.push_back(path);
  }
  return bad;
}

struct PathCodes {
  const char* shape;      ///< not an array of strings
  const char* duplicate;  ///< the same digest twice but for case; null where not forbidden
  const char* ends;       ///< begins or ends with a slash
  const char* element;    ///< empty, "." or ".."
  const char* conflict;   ///< null where not forbidden
};

PathsByDigest read_paths(const Json::Object& object, const PathCodes& codes,
                         const std::string& where, const Report& report) {
  PathsByDigest entries;
  std::set<std::string> digests;
  for (const auto& [key, value] : object) {
    if (!digests.insert(ascii_lower(key)).second && codes.duplicate) {
      report(codes.duplicate, where + " names the digest " + key.substr(0, 16) + "… twice");
    }
    const Json::Array* array = value.as_array();
    std::vector<std::string> paths;
    for (const Json& item : array ? *array : Json::Array{}) {
      const std::string* path = item.as_string();
      if (!path) {
        report(codes.shape, where + " has a path that is not text");
        continue;
      }
      if (path->starts_with('/') || path->ends_with('/')) {
        report(codes.ends, where + " has the path \"" + *path + "\"");
      }
      if (has_bad_element(*path)) {
        report(codes.element, where + " has the path \"" + *path + "\"");
      }
      paths.push_back(*path);
    }
    if (!array || array->empty()) {
      report(codes.shape,
             where + " has no list of paths for the digest " + key.substr(0, 16) + "…");
    }
    entries.emplace_back(key, std::move(paths));
  }
  if (codes.conflict) {
    for (const std::string& path : path_conflicts(entries)) {
      report(codes.conflict, where + " has a second or nested use of the path \"" + path + "\"");
    }
  }
  return entries;
}

void read_user(const Json* user, Version& version, const Report& report) {
  if (!user || !user->find("name")) {
    report(user ? "E054" : "W007", version.name + " does not say who made it");
    return;
  }
  const std::string* name = user->find("name")->as_string();
  if (!name || name->empty()) {
    report("E054", version.name + " has a user without a name");
    return;
  }
  version.user_name = *name;
  version.user_address = user->text("address");
  if (version.user_address.empty()) {
    report("W008", version.name + " has a user without an address");
  } else if (!is_uri(version.user_address)) {
    report("W009", version.name + " has a user whose address is not a URI");
  }
}

Version read_version(const std::string& name, const Json& block, const Report& report) {
  Version version;
  version.name = name;
  if (!block.as_object()) {
    report("E047", name + " is not a block of values");
    return version;
  }
  const Json* created = block.find("created");
  if (!created) {
    report("E048", name + " does not say when it was made");
  } else if (!created->as_string() || !is_timestamp(*created->as_string())) {
    report("E049", name + " has a time that is not complete");
  } else {
    version.created = *created->as_string();
  }
  const Json* message = block.find("message");
  if (message && !message->as_string()) report("E094", name + " has a message that is not text");
  if (!message) report("W007", name + " has no message");
  version.message = block.text("message");
  const Json* user = block.find("user");
  if (user && !user->as_object()) {
    report("E054", name + " has a user that is not a block of values");
  } else {
    read_user(user, version, report);
  }
  const Json* state = block.find("state");
  if (!state) {
    report("E048", name + " has no state");
  } else if (!state->as_object()) {
    report("E050", name + " has a state that is not a block of values");
  } else {
    version.state = read_paths(*state->as_object(), {"E051", "E050", "E053", "E052", "E095"},
                               name + "'s state", report);
  }
  return version;
}

void check_version_names(const std::vector<Version>& versions, const Report& report) {
  int expected = 1;
  std::size_t width = 0;
  for (const Version& v : versions) {
    if (*version_number(v.name) != expected) {
      report("E010", "v" + std::to_string(expected) + " is missing in the sequence of versions");
      expected = *version_number(v.name);
    }
    ++expected;
    const bool padded = v.name[1] == '0';
    if (&v == &versions.front()) {
      width = padded ? v.name.size() : 0;
      if (padded) report("W001", "version numbers are padded with zeros");
    } else if (width != 0 ? (v.name.size() != width || !padded) : padded) {
      report("E011", v.name + " is not padded as the versions before it");
      report("E012", v.name + " is not padded as the versions before it");
      report("E013", v.name + " is not padded as the versions before it");
    }
  }
}

void check_cross_references(const Inventory& inventory, const Report& report) {
  std::set<std::string> manifest, used;
  for (const auto& [digest, paths] : inventory.manifest) manifest.insert(digest);
  for (const Version& v : inventory.versions) {
    for (const auto& [digest, paths] : v.state) {
      used.insert(ascii_lower(digest));
      // Exactly as written: a digest in another case is found nowhere by a plain look-up.
      if (!manifest.contains(digest)) {
        report("E050", v.name + " uses a digest that the manifest does not have");
      }
    }
  }
  for (const auto& [digest, paths] : inventory.manifest) {
    if (!used.contains(ascii_lower(digest))) {
      report("E107", "the manifest has a digest that no version uses");
    }
  }
}

void read_head_keys(const Json& json, Inventory& inventory, const Report& report) {
  for (const char* key : {"id", "type", "digestAlgorithm", "head"}) {
    const Json* value = json.find(key);
    if (!value || !value->as_string() || value->as_string()->empty()) {
      report(value && std::string_view(key) == "head" ? "E040" : "E036",
             std::string("has no text under \"") + key + "\"");
    }
  }
  inventory.id = json.text("id");
  inventory.type = json.text("type");
  inventory.algorithm = json.text("digestAlgorithm");
  inventory.head = json.text("head");
  if (!inventory.id.empty() && !is_uri(inventory.id)) report("W005", "the id is not a URI");
  if (!inventory.type.empty() && inventory.type != kType &&
      inventory.type != "https://ocfl.io/1.0/spec/#inventory") {
    report("E038", "the type is not that of OCFL 1.1");
  }
  if (inventory.algorithm == "sha256") report("W004", "uses sha256, not sha512");
  if (inventory.algorithm != "sha512" && inventory.algorithm != "sha256" &&
      !inventory.algorithm.empty()) {
    report("E025", "uses neither sha512 nor sha256");
  }
  const Json* directory = json.find("contentDirectory");
  if (!directory) return;
  inventory.content_directory = json.text("contentDirectory");
  const std::string& name = inventory.content_directory;
  if (name == "." || name == "..") report("E018", "the content folder is \"" + name + "\"");
  if (name.empty() || name.find('/') != std::string::npos) {
    report("E017", "the content folder is \"" + name + "\"");
  }
}

void read_fixity(const Json& json, Inventory& inventory, const Report& report) {
  const Json* fixity = json.find("fixity");
  if (!fixity) return;
  if (!fixity->as_object()) {
    report("E111", "the fixity block is not a block of values");
    return;
  }
  for (const auto& [algorithm, block] : *fixity->as_object()) {
    if (!block.as_object()) {
      report("E057", "the fixity block of " + algorithm + " is not a block of values");
      continue;
    }
    inventory.fixity.emplace_back(
        algorithm, read_paths(*block.as_object(), {"E057", "E097", "E100", "E099", nullptr},
                              "the fixity block of " + algorithm, report));
  }
}

bool read_versions(const Json& json, Inventory& inventory, const Report& report) {
  const Json* versions = json.find("versions");
  if (!versions || !versions->as_object()) {
    report(versions ? "E044" : "E043", "has no block of versions");
    return false;
  }
  for (const auto& [name, block] : *versions->as_object()) {
    if (!version_number(name)) {
      report("E046", "has a version called \"" + name + "\"");
      continue;
    }
    inventory.versions.push_back(read_version(name, block, report));
  }
  std::sort(inventory.versions.begin(), inventory.versions.end(),
            [](const Version& a, const Version& b) {
              return *version_number(a.name) < *version_number(b.name);
            });
  if (inventory.versions.empty()) {
    report("E008", "has no version");
    return true;
  }
  check_version_names(inventory.versions, report);
  if (!inventory.head.empty() && inventory.head != inventory.versions.back().name) {
    report("E040", "the head is \"" + inventory.head + "\", the newest version " +
                       inventory.versions.back().name);
  }
  return true;
}

}  // namespace

std::optional<int> version_number(std::string_view name) {
  if (name.size() < 2 || name.size() > 9 || name[0] != 'v' || !all_digits(name.substr(1))) {
    return std::nullopt;
  }
  const int number = std::atoi(std::string(name.substr(1)).c_str());
  if (number == 0) return std::nullopt;
  return number;
}

std::optional<Inventory> parse(std::string_view bytes, const std::string& file, Findings& out) {
  const Report report{file, out};
  std::string why;
  const std::optional<Json> json = parse_json(bytes, why);
  if (!json || !json->as_object()) {
    report("E033", json ? "is not a JSON object" : "is not valid JSON: " + why);
    return std::nullopt;
  }
  static constexpr std::string_view kKeys[] = {"id",       "type",     "digestAlgorithm",
                                               "head",     "manifest", "contentDirectory",
                                               "versions", "fixity"};
  for (const auto& [key, value] : *json->as_object()) {
    if (std::find(std::begin(kKeys), std::end(kKeys), key) == std::end(kKeys)) {
      report("E102", "has the unknown key \"" + key + "\"");
    }
  }
  Inventory inventory;
  read_head_keys(*json, inventory, report);
  const Json* manifest = json->find("manifest");
  if (!manifest) {
    report("E041", "has no manifest");
  } else if (!manifest->as_object()) {
    report("E106", "the manifest is not a block of values");
  } else {
    inventory.manifest = read_paths(
        *manifest->as_object(), {"E092", "E096", "E100", "E099", "E101"}, "the manifest", report);
  }
  if (!read_versions(*json, inventory, report)) return std::nullopt;
  read_fixity(*json, inventory, report);
  if (manifest) check_cross_references(inventory, report);
  return inventory;
}

std::string encode(const Inventory& inventory) {
  const auto paths_json = [](const PathsByDigest& entries) {
    Json block = Json::object();
    for (const auto& [digest, paths] : entries) {
      Json list = Json::array();
      for (const std::string& path : paths) list.push(path);
      block.set(digest, std::move(list));
    }
    return block;
  };
  Json versions = Json::object();
  for (const Version& v : inventory.versions) {
    Json user = Json::object();
    user.set("name", v.user_name);
    if (!v.user_address.empty()) user.set("address", v.user_address);
    Json block = Json::object();
    block.set("created", v.created).set("message", v.message).set("user", std::move(user));
    block.set("state", paths_json(v.state));
    versions.set(v.name, std::move(block));
  }
  Json json = Json::object();
  json.set("id", inventory.id).set("type", inventory.type);
  json.set("digestAlgorithm", inventory.algorithm).set("head", inventory.head);
  if (!inventory.content_directory.empty()) {
    json.set("contentDirectory", inventory.content_directory);
  }
  json.set("manifest", paths_json(inventory.manifest)).set("versions", std::move(versions));
  return json.dump(2) + "\n";
}

std::string sidecar(std::string_view inventory_bytes) {
  return sha512_hex(inventory_bytes) + "  " + std::string(kInventory) + "\n";
}

std::string digest(std::string_view algorithm, std::string_view bytes) {
  if (algorithm == "sha512") return sha512_hex(bytes);
  if (algorithm == "sha256") return sha256_hex(bytes);
  if (algorithm == "md5") return to_hex(md5_raw(bytes));
  return {};
}

}  // namespace ohmleaf::archive::ocfl
