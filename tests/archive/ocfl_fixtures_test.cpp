#include <doctest/doctest.h>

#include <algorithm>

#include "archive/fs.h"
#include "archive/ocfl.h"
#include "archive/sample.h"
#include "base/text.h"
#include "places.h"

// The judges are the OCFL community's own fixtures for OCFL 1.1 (github.com/OCFL/fixtures, folder
// 1.1, CC BY 4.0; see data/archive/README.txt). The name of a bad or doubtful object says which of
// the specification's codes (https://ocfl.io/1.1/spec/validation-codes.html) it earns.

using namespace sample;

namespace {

struct Fixtures {
  Folder folder;
  Fixtures() {
    const std::string packed = std::string(test_data()) + "/archive/ocfl-fixtures-1.1.tar.xz";
    REQUIRE(shell("tar -xJf \"" + packed + "\" -C \"" + folder.path().string() + "\""));
  }
  std::vector<stdfs::path> objects(const char* kind) const {
    std::vector<stdfs::path> all;
    for (const auto& e : stdfs::directory_iterator(folder.path() / kind)) all.push_back(e.path());
    std::sort(all.begin(), all.end());
    return all;
  }
};

ocfl::Findings check(const stdfs::path& object) {
  FsError error;
  const Fd folder = open_folder(object, error);
  REQUIRE(folder.valid());
  return ocfl::check_object(folder.get()).findings;
}

std::vector<std::string> codes_in_name(const std::string& name) {
  std::vector<std::string> codes;
  for (const std::string_view part : split(name, '_')) {
    if (part.size() == 4 && (part[0] == 'E' || part[0] == 'W') && part[1] >= '0' &&
        part[1] <= '9') {
      codes.emplace_back(part);
    }
  }
  return codes;
}

std::string listed(const ocfl::Findings& findings) {
  std::string text;
  for (const ocfl::Finding& f : findings) text += f.code + " " + f.file + ": " + f.what + "\n";
  return text;
}

bool has(const ocfl::Findings& findings, const std::string& code) {
  return std::any_of(findings.begin(), findings.end(),
                     [&](const ocfl::Finding& f) { return f.code == code; });
}

bool any_error(const ocfl::Findings& findings) {
  return std::any_of(findings.begin(), findings.end(),
                     [](const ocfl::Finding& f) { return f.is_error(); });
}

}  // namespace

TEST_CASE("archive: the 12 good OCFL fixtures are accepted without a word") {
  const Fixtures fixtures;
  const auto objects = fixtures.objects("good-objects");
  REQUIRE(objects.size() == 12);
  for (const stdfs::path& object : objects) {
    CAPTURE(object.filename());
    const ocfl::Findings findings = check(object);
    INFO(listed(findings));
    CHECK(findings.empty());
  }
}

TEST_CASE("archive: the 55 bad OCFL fixtures are refused, each by the codes in its name") {
  const Fixtures fixtures;
  const auto objects = fixtures.objects("bad-objects");
  REQUIRE(objects.size() == 55);
  for (const stdfs::path& object : objects) {
    const std::string name = object.filename();
    CAPTURE(name);
    const ocfl::Findings findings = check(object);
    INFO(listed(findings));
    CHECK(any_error(findings));
    for (const std::string& code : codes_in_name(name)) {
      CAPTURE(code);
      CHECK(has(findings, code));
    }
  }
}

TEST_CASE("archive: the 13 doubtful OCFL fixtures earn their warnings and no error") {
  const Fixtures fixtures;
  const auto objects = fixtures.objects("warn-objects");
  REQUIRE(objects.size() == 13);
  for (const stdfs::path& object : objects) {
    const std::string name = object.filename();
    CAPTURE(name);
    const ocfl::Findings findings = check(object);
    INFO(listed(findings));
    CHECK_FALSE(any_error(findings));
    for (const std::string& code : codes_in_name(name)) {
      CAPTURE(code);
      CHECK(has(findings, code));
    }
  }
}
