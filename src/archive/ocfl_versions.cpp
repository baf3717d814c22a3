#include <algorithm>
#include <map>

#include "archive/ocfl.h"
#include "base/text.h"

// What two inventories of one object say of the versions that both describe.

namespace ohmleaf::archive::ocfl {
namespace {

/// Logical path to where its bytes are, and their digest.
struct Content {
  std::string digest;
  std::vector<std::string> paths;
};

std::map<std::string, Content> logical_state(const Inventory& inventory, const Version& version) {
  std::map<std::string, std::vector<std::string>> manifest;
  for (const auto& [digest, paths] : inventory.manifest) {
    auto& all = manifest[ascii_lower(digest)];
    all.insert(all.end(), paths.begin(), paths.end());
  }
  std::map<std::string, Content> state;
  for (const auto& [digest, names] : version.state) {
    const std::string key = ascii_lower(digest);
    for (const std::string& name : names) state[name] = {key, manifest[key]};
  }
  return state;
}

bool same_content(const Content& a, const Content& b, bool same_algorithm) {
  if (same_algorithm) return a.digest == b.digest;
  return std::any_of(a.paths.begin(), a.paths.end(), [&](const std::string& p) {
    return std::find(b.paths.begin(), b.paths.end(), p) != b.paths.end();
  });
}

}  // namespace

Findings differing_versions(const std::string& file, const Inventory& old, const Inventory& root) {
  Findings found;
  const bool same_algorithm = old.algorithm == root.algorithm;
  for (const Version& v : old.versions) {
    const auto now = std::find_if(root.versions.begin(), root.versions.end(),
                                  [&](const Version& w) { return w.name == v.name; });
    if (now == root.versions.end()) continue;
    const auto before = logical_state(old, v), after = logical_state(root, *now);
    const bool same =
        std::equal(before.begin(), before.end(), after.begin(), after.end(),
                   [&](const auto& a, const auto& b) {
                     return a.first == b.first && same_content(a.second, b.second, same_algorithm);
                   });
    if (!same) {
      found.push_back({"E066", Damage::malformed, file,
                       "describes " + v.name + " not as the job's inventory does"});
    }
    if (v.created != now->created || v.message != now->message || v.user_name != now->user_name ||
        v.user_address != now->user_address) {
      found.push_back({"W011", Damage::malformed, file,
                       "says of " + v.name + " other things than the job's inventory"});
    }
  }
  return found;
}

}  // namespace ohmleaf::archive::ocfl
