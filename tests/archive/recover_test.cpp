#include <doctest/doctest.h>

#include "archive/sample.h"

using namespace sample;

namespace {

/// An archive whose one certificate was revised, and the root inventory as it was before.
struct Revised {
  Folder folder;
  stdfs::path object = folder.archive() / "sp-0001";
  std::string old_inventory, old_sidecar, new_inventory, new_sidecar;

  Revised() {
    REQUIRE(issue(folder.archive(), "workshop").state == IssueState::issued);
    old_inventory = slurp(object / "inventory.json");
    old_sidecar = slurp(object / "inventory.json.sha512");
    REQUIRE(revise(folder.archive(), "workshop", "SP-0001", "slip").revision == 2);
    new_inventory = slurp(object / "inventory.json");
    new_sidecar = slurp(object / "inventory.json.sha512");
    // What a killed command leaves beside the archive.
    stdfs::create_directory(folder.path() / "archive.work/staging/sp-0001.0123456789abcdef");
  }
};

}  // namespace

TEST_CASE("archive: a revision killed before the inventory was copied up is finished") {
  const Revised r;
  spill(r.object / "inventory.json", r.old_inventory);
  spill(r.object / "inventory.json.sha512", r.old_sidecar);
  Diagnostics out;
  REQUIRE(Archive::open(r.folder.archive(), out));
  REQUIRE(out.all().size() == 2);
  CHECK(out.all()[0].severity == Severity::note);
  CHECK(out.all()[0].message == "finished v2 of sp-0001, which an interrupted command had filed");
  CHECK(slurp(r.object / "inventory.json") == r.new_inventory);
  CHECK(slurp(r.object / "inventory.json.sha512") == r.new_sidecar);
  CHECK(verify(r.folder.archive()).problems.empty());
  CHECK(stdfs::is_empty(r.folder.path() / "archive.work/staging"));
}

TEST_CASE("archive: a revision killed before the sidecar was copied up is finished") {
  const Revised r;
  spill(r.object / "inventory.json.sha512", r.old_sidecar);
  open(r.folder.archive());
  CHECK(slurp(r.object / "inventory.json.sha512") == r.new_sidecar);
  CHECK(verify(r.folder.archive()).problems.empty());
}

TEST_CASE("archive: a version that is not whole is moved aside, not deleted") {
  const Revised r;
  spill(r.object / "inventory.json", r.old_inventory);
  spill(r.object / "inventory.json.sha512", r.old_sidecar);
  const std::string pdf = slurp(r.object / "v2/content/certificate.pdf");
  spill(r.object / "v2/content/certificate.pdf", pdf.substr(0, 5));
  stdfs::remove(r.folder.path() / "archive.work/latest.json");  // it was never acknowledged
  Diagnostics out;
  REQUIRE(Archive::open(r.folder.archive(), out));
  CHECK_FALSE(stdfs::exists(r.object / "v2"));
  std::size_t kept = 0;
  for (const auto& e :
       stdfs::recursive_directory_iterator(r.folder.path() / "archive.work/aside")) {
    if (e.path().filename() == "certificate.pdf") ++kept;
  }
  CHECK(kept == 1);
  CHECK(verify(r.folder.archive()).problems.empty());
  CHECK(revise(r.folder.archive(), "workshop", "SP-0001", "slip").revision == 2);
}

TEST_CASE("archive: damage that no kill can leave is not repaired in silence") {
  const Revised r;
  spill(r.object / "inventory.json", r.new_inventory + " ");
  Diagnostics out;
  REQUIRE(Archive::open(r.folder.archive(), out));
  CHECK(slurp(r.object / "inventory.json") == r.new_inventory + " ");
  CHECK(names(verify(r.folder.archive()), "sp-0001/inventory.json"));
  // Nor is a damaged version set aside that was in force.
  spill(r.object / "inventory.json", r.new_inventory);
  spill(r.object / "v2/content/certificate.pdf", "%PDF");
  stdfs::create_directory(r.folder.path() / "archive.work/staging/x");
  open(r.folder.archive());
  CHECK(stdfs::exists(r.object / "v2"));
  CHECK(names(verify(r.folder.archive()), "sp-0001/v2/content/certificate.pdf"));
}

TEST_CASE("archive: what an interrupted issue left beside the archive is cleared by the next") {
  const Folder folder;
  REQUIRE(issue(folder.archive(), "a").state == IssueState::issued);
  const stdfs::path left = folder.path() / "archive.work/staging/sp-0002.0011223344556677";
  stdfs::create_directories(left / "v1/content");
  spill(left / "v1/content/certificate.pdf", "half");
  const IssueResult r = issue(folder.archive(), "b");
  CHECK(r.number == "SP-0002");
  CHECK(stdfs::is_empty(folder.path() / "archive.work/staging"));
  CHECK(verify(folder.archive()).problems.empty());
}

TEST_CASE("archive: a version that cannot be read for now is neither finished nor moved aside") {
  const Revised r;
  spill(r.object / "inventory.json", r.old_inventory);
  spill(r.object / "inventory.json.sha512", r.old_sidecar);
  // Not a permission, which root would not feel: a file that is larger than any may be.
  const stdfs::path file = r.object / "v2/content/certificate.pdf";
  const std::string pdf = slurp(file);
  stdfs::resize_file(file, (std::uintmax_t{512} << 20) + 1);
  Diagnostics out;
  REQUIRE(Archive::open(r.folder.archive(), out));
  CHECK(stdfs::exists(r.object / "v2"));
  CHECK(slurp(r.object / "inventory.json") == r.old_inventory);
  CHECK_FALSE(stdfs::is_empty(r.folder.path() / "archive.work/staging"));  // asked again next time
  spill(file, pdf);
  REQUIRE(Archive::open(r.folder.archive(), out));
  CHECK(slurp(r.object / "inventory.json") == r.new_inventory);
  CHECK(verify(r.folder.archive()).problems.empty());
}
