#pragma once
#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "archive/archive.h"

/// The Oxford Common File Layout, version 1.1 (https://ocfl.io/1.1/spec/): inventories as values,
/// and the check of a whole object. Knows nothing of certificates.
namespace ohmleaf::archive::ocfl {

/// One departure from the specification. `code` is the specification's own: E… must, W… should.
struct Finding {
  std::string code;
  Damage damage = Damage::malformed;
  std::string file;  ///< relative to the object
  std::string what;  ///< one sentence without a full stop

  bool is_error() const { return code.starts_with('E'); }
};
using Findings = std::vector<Finding>;

/// Digest (as written) to the paths that have it.
using PathsByDigest = std::vector<std::pair<std::string, std::vector<std::string>>>;

struct Version {
  std::string name;  ///< "v1"
  std::string created;
  std::string message;
  std::string user_name;
  std::string user_address;
  PathsByDigest state;
};

struct Inventory {
  std::string id;
  std::string type;
  std::string algorithm = "sha512";
  std::string head;
  std::string content_directory;  ///< empty where the inventory leaves it at "content"
  PathsByDigest manifest;
  std::vector<Version> versions;  ///< by number
  std::vector<std::pair<std::string, PathsByDigest>> fixity;

  std::string_view content() const {
    return content_directory.empty() ? std::string_view("content") : content_directory;
  }
};

inline constexpr std::string_view kType = "https://ocfl.io/1.1/spec/#inventory";
inline constexpr std::string_view kObjectDeclaration = "0=ocfl_object_1.1";
inline constexpr std::string_view kInventory = "inventory.json";
inline constexpr std::string_view kSidecar = "inventory.json.sha512";

/// The number in "v12" or "v0012"; nothing for any other text.
std::optional<int> version_number(std::string_view name);

/// Our own form of an inventory, with a line feed at its end.
std::string encode(const Inventory& inventory);
/// "DIGEST  inventory.json" and a line feed: what sha512sum -c reads.
std::string sidecar(std::string_view inventory_bytes);

/// Reads an inventory and reports all that is wrong inside it, as `file`. Nothing where it is not
/// even a JSON object with versions.
std::optional<Inventory> parse(std::string_view bytes, const std::string& file, Findings& out);

/// Lower-case hex digest by OCFL's name of the algorithm; empty for one that we do not compute.
std::string digest(std::string_view algorithm, std::string_view bytes);

/// Where `old`, read from `file`, describes a version otherwise than `root` does.
Findings differing_versions(const std::string& file, const Inventory& old, const Inventory& root);

struct ObjectCheck {
  Findings findings;
  std::optional<Inventory> inventory;  ///< the root's, where it could be read
  std::size_t files = 0;
  std::uint64_t bytes = 0;
};

/// Sees every content file once, with its path in the object.
using OnContent = std::function<void(const std::string& path, const std::string& bytes)>;

/// Checks structure and every digest of the object in `folder`. Reads each content file once.
ObjectCheck check_object(int folder, const OnContent& on_content = {});

}  // namespace ohmleaf::archive::ocfl
