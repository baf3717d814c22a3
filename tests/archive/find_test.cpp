#include <doctest/doctest.h>

#include "archive/sample.h"

using namespace sample;

namespace {

std::vector<std::string> numbers(const Folder& folder, const std::vector<std::string>& words) {
  Diagnostics out;
  std::vector<std::string> found;
  for (const Record& r : open(folder.archive()).find(words, out)) found.push_back(r.number);
  CHECK(out.empty());
  return found;
}

}  // namespace

TEST_CASE("archive: find takes parts of any fact, accents and case aside, newest first") {
  const Folder folder;
  Diagnostics out;
  IssueRequest a = request("workshop");
  IssueRequest b = request("kitchen");
  b.facts = {{"premises", "Ty Ŵyn, Heol Ddŵr, Pen-y-Bryn"}, {"client", "Zoë Ångström"}};
  REQUIRE(open(folder.archive()).issue(a, render(), out).state == IssueState::issued);
  REQUIRE(open(folder.archive()).issue(b, render(), out).state == IssueState::issued);
  using List = std::vector<std::string>;
  CHECK(numbers(folder, {}) == List{"SP-0002", "SP-0001"});
  CHECK(numbers(folder, {"tallow"}) == List{"SP-0001"});
  CHECK(numbers(folder, {"TALLOW", "okonjo"}) == List{"SP-0001"});
  CHECK(numbers(folder, {"tallow", "angstrom"}).empty());
  CHECK(numbers(folder, {"zoe"}) == List{"SP-0002"});
  CHECK(numbers(folder, {"ANGSTRO"}) == List{"SP-0002"});
  CHECK(numbers(folder, {"wyn", "ddwr"}) == List{"SP-0002"});
  CHECK(numbers(folder, {"sp-0001"}) == List{"SP-0001"});
  CHECK(numbers(folder, {"kitchen"}) == List{"SP-0002"});
  // A word does not match over the edge of two facts.
  CHECK(numbers(folder, {"bryn zoe"}).empty());
}
