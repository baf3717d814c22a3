#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <vector>

#include "base/json.h"
#include "base/support.h"

// The conformance corpus of TOML 1.0 as Debian packs it (golang-github-burntsushi-toml-dev): valid
// files with the values they hold, and invalid ones. Looked at where it is installed.

namespace ohmleaf {
namespace {

namespace fs = std::filesystem;
const fs::path kCorpus =
    "/usr/share/gocode/src/github.com/BurntSushi/toml/internal/toml-test/tests";

std::string bytes_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return std::string(std::istreambuf_iterator<char>(in), {});
}

std::vector<fs::path> files(const fs::path& under) {
  std::vector<fs::path> out;
  for (const auto& entry : fs::recursive_directory_iterator(under))
    if (entry.path().extension() == ".toml") out.push_back(entry.path());
  std::sort(out.begin(), out.end());
  return out;
}

bool is_scalar(const Json& j) {
  return j.as_object() != nullptr && j.as_object()->size() == 2 && j.find("type") != nullptr &&
         j.find("value") != nullptr && j.find("type")->as_string() != nullptr;
}

bool same_kind(const TomlNode& node, const std::string& type) {
  switch (node.kind) {
    case TomlKind::string:
      return type == "string";
    case TomlKind::integer:
      return type == "integer";
    case TomlKind::floating:
      return type == "float";
    case TomlKind::boolean:
      return type == "bool";
    case TomlKind::date:
      return type == "date-local";
    case TomlKind::time:
      return type == "time-local";
    case TomlKind::date_time:
      return type == "datetime" || type == "datetime-local";
    default:
      return false;
  }
}

bool same(const TomlNode& node, const Json& expected) {
  if (is_scalar(expected)) {
    const std::string type = expected.text("type"), value = expected.text("value");
    if (!same_kind(node, type)) return false;
    return (type != "string" && type != "bool") || node.text == value;
  }
  if (const auto* array = expected.as_array()) {
    if (!node.is_array() || node.children.size() != array->size()) return false;
    for (std::size_t i = 0; i < array->size(); ++i)
      if (!same(node.children[i], (*array)[i])) return false;
    return true;
  }
  const auto* object = expected.as_object();
  if (object == nullptr || !node.is_table() || node.children.size() != object->size()) return false;
  return std::all_of(object->begin(), object->end(), [&](const Json::Member& m) {
    const TomlNode* child = node.find(m.first);
    return child != nullptr && same(*child, m.second);
  });
}

}  // namespace

TEST_CASE("the conformance corpus: valid files give their values") {
  if (!fs::exists(kCorpus)) {
    MESSAGE("skipped: the package golang-github-burntsushi-toml-dev is not installed");
    return;
  }
  std::size_t read = 0, refused_on_purpose = 0;
  for (const fs::path& path : files(kCorpus / "valid")) {
    CAPTURE(path.string());
    const Parsed p = parse(bytes_of(path));
    if (!p.root && !p.out.empty() && p.out.all()[0].id == "not-a-number") {
      ++refused_on_purpose;  // nan and inf: valid TOML, and no reading
      continue;
    }
    if (path.filename() == "escape-esc.toml") {
      CHECK(!p.root);  // the escape \\e came with TOML 1.1
      continue;
    }
    REQUIRE_MESSAGE(p.root, p.all());
    ++read;
    std::string error;
    const auto expected = parse_json(bytes_of(fs::path(path).replace_extension(".json")), error);
    REQUIRE_MESSAGE(expected, error);
    CHECK(same(*p.root, *expected));
  }
  CHECK(read == 98);
  CHECK(refused_on_purpose == 1);
}

TEST_CASE("the conformance corpus: invalid files are refused with a place") {
  if (!fs::exists(kCorpus)) {
    MESSAGE("skipped: the package golang-github-burntsushi-toml-dev is not installed");
    return;
  }
  std::size_t count = 0;
  for (const fs::path& path : files(kCorpus / "invalid")) {
    CAPTURE(path.string());
    ++count;
    for (const Parsed& p : {parse(bytes_of(path)), parse_mending(bytes_of(path))}) {
      CHECK(!p.out.ok());
      for (const Diagnostic& d : p.out.all()) {
        CHECK(d.span.valid());
        CHECK(!d.hints.empty());
      }
    }
    CHECK(!parse(bytes_of(path)).root);
  }
  CHECK(count == 234);
}

}  // namespace ohmleaf
