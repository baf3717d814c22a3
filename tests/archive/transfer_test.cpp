#include <doctest/doctest.h>

#include "archive/sample.h"

using namespace sample;

namespace {

WithdrawRequest act(const std::string& reason) {
  return {"ohmleaf test", "R. Hollins", reason, *Instant::parse("2042-01-05T08:00:00Z")};
}

bool export_to(const stdfs::path& root, const std::vector<std::string>& numbers,
               const stdfs::path& to, Diagnostics& out) {
  return open(root).export_bag({numbers, to, "ohmleaf test", request("a").now, {}}, out);
}

void fill(const stdfs::path& root) {
  for (const char* job : {"a", "b", "c"}) REQUIRE(issue(root, job).state == IssueState::issued);
  REQUIRE(revise(root, "b", "SP-0002", "slip").state == IssueState::issued);
}

const std::vector<std::string> kAll{"SP-0001", "SP-0002", "SP-0003"};

std::string first_error(const Diagnostics& out) {
  for (const Diagnostic& d : out.all())
    if (d.severity == Severity::error) return d.message;
  return {};
}

/// Imports and gives the first error; the target must be as it was.
std::string refused(const stdfs::path& package, const stdfs::path& root) {
  Diagnostics out;
  Archive target = open(root);
  CHECK_FALSE(target.import_bag(package, {}, out));
  CHECK_FALSE(out.ok());
  return first_error(out);
}

}  // namespace

TEST_CASE("archive: a bag is checked by sha512sum alone, as a folder and as a zip") {
  const Folder folder;
  fill(folder.archive());
  Diagnostics out;
  const stdfs::path bag = folder.path() / "bag", zip = folder.path() / "bag.zip";
  REQUIRE(export_to(folder.archive(), kAll, bag, out));
  CHECK(shell("cd " + bag.string() + " && sha512sum --strict -c manifest-sha512.txt"));
  CHECK(shell("cd " + bag.string() + " && sha512sum --strict -c tagmanifest-sha512.txt"));
  CHECK(slurp(bag / "bagit.txt") == "BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n");
  struct stat st {};
  REQUIRE(::stat((bag / "data/sp-0001/v1/content/job.toml").c_str(), &st) == 0);
  CHECK((st.st_mode & 0777) == 0600);
  REQUIRE(export_to(folder.archive(), {"SP-0002"}, zip, out));
  CHECK(out.empty());
  REQUIRE(::stat(zip.c_str(), &st) == 0);
  CHECK((st.st_mode & 0777) == 0600);
  CHECK(shell("cd " + folder.path().string() +
              " && mkdir u && cd u && python3 -m zipfile -e ../bag.zip . && "
              "cd bag && sha512sum --strict -c manifest-sha512.txt && test ! -e data/sp-0001"));
  CHECK_FALSE(export_to(folder.archive(), kAll, bag, out));  // never over something that is there
  CHECK(out.trouble() == Trouble::input);
  for (const auto& e : stdfs::directory_iterator(folder.path()))
    CHECK_FALSE(e.path().filename().string().starts_with(".ohmleaf"));
}

TEST_CASE(
    "archive: an import makes the same archive on another machine, and brings it up to date") {
  const Folder here, there;
  fill(here.archive());
  Diagnostics out;
  const stdfs::path zip = here.path() / "all.zip";
  REQUIRE(export_to(here.archive(), kAll, zip, out));
  const auto first = open(there.archive()).import_bag(zip, {}, out);
  REQUIRE_MESSAGE(first, first_error(out));
  CHECK(first->added == 3);
  CHECK(shell("diff -r " + here.archive().string() + " " + there.archive().string()));
  CHECK(verify(there.archive()).problems.empty());
  const auto again = open(there.archive()).import_bag(zip, {}, out);
  REQUIRE(again);
  CHECK(again->already == 3);
  REQUIRE(revise(here.archive(), "c", "SP-0003", "another slip").revision == 2);
  REQUIRE(issue(here.archive(), "d").number == "SP-0004");
  REQUIRE(open(here.archive()).expire(act("kept long enough"), "SP-0001", out).state ==
          IssueState::issued);
  const stdfs::path bag = here.path() / "later";
  REQUIRE(export_to(here.archive(), {"SP-0001", "SP-0003", "SP-0004"}, bag, out));
  const auto later = open(there.archive()).import_bag(bag, {}, out);
  REQUIRE_MESSAGE(later, first_error(out));
  CHECK(later->added == 1);
  CHECK(later->renewed == 2);
  CHECK(shell("diff -r " + here.archive().string() + " " + there.archive().string()));
  const VerifyReport report = verify(there.archive());
  INFO(all_problems(report));
  CHECK(report.problems.empty());
  CHECK(issue(there.archive(), "e").number == "SP-0005");
  CHECK(stdfs::is_empty(there.path() / "archive.work/staging"));
}

TEST_CASE("archive: an import that does not fit is refused whole") {
  const Folder here, there, other;
  fill(here.archive());
  Diagnostics out;
  const stdfs::path part = here.path() / "part", all = here.path() / "all";
  REQUIRE(export_to(here.archive(), {"SP-0003"}, part, out));
  REQUIRE(export_to(here.archive(), kAll, all, out));
  CHECK(refused(part, there.archive()).find("does not fit the archive here") != std::string::npos);
  CHECK_FALSE(stdfs::exists(there.archive()));
  REQUIRE(issue(other.archive(), "x").number == "SP-0001");
  const std::string before = slurp(other.archive() / "sp-0001/v1/content/issue.json");
  CHECK(refused(all, other.archive()).find("SP-0001 in the package is another certificate") == 0);
  CHECK(slurp(other.archive() / "sp-0001/v1/content/issue.json") == before);
  CHECK_FALSE(stdfs::exists(other.archive() / "sp-0002"));
  CHECK(issue(other.archive(), "y").number == "SP-0002");
}

TEST_CASE("archive: hostile packages are refused, and nothing outside is touched") {
  const Folder here, there;
  fill(here.archive());
  Diagnostics out;
  const stdfs::path bag = here.path() / "bag";
  REQUIRE(export_to(here.archive(), kAll, bag, out));
  const stdfs::path job = bag / "data/sp-0001/v1/content/job.toml";
  SUBCASE("a changed, a missing, an extra file") {
    const std::string good = slurp(job);
    spill(job, good + " ");
    CHECK(refused(bag, there.archive()).find("is not what its manifest says") != std::string::npos);
    stdfs::remove(job);
    CHECK(refused(bag, there.archive()).find("is missing in it") != std::string::npos);
    spill(job, good);
    spill(bag / "data/sp-0001/extra.txt", "x");
    CHECK(refused(bag, there.archive()).find("is in no manifest") != std::string::npos);
  }
  SUBCASE("a file that is changed together with every digest but the record's") {
    spill(job, slurp(job) + " ");
    CHECK(shell("cd " + bag.string() +
                " && find data -type f | sort | xargs sha512sum > manifest-sha512.txt && "
                "sha512sum bagit.txt bag-info.txt manifest-sha512.txt > tagmanifest-sha512.txt"));
    CHECK(refused(bag, there.archive()).find("sp-0001") != std::string::npos);
  }
  SUBCASE("links") {
    stdfs::rename(job, here.path() / "outside");
    stdfs::create_symlink(here.path() / "outside", job);
    CHECK(refused(bag, there.archive()).find("does not belong in a package") != std::string::npos);
  }
  SUBCASE("no bag at all") {
    spill(here.path() / "letter.zip", "Dear Sir");
    CHECK(refused(here.path() / "letter.zip", there.archive()).find("no sound zip file") !=
          std::string::npos);
    CHECK(refused(here.path() / "nothing", there.archive()).find("neither a folder nor a zip") !=
          std::string::npos);
    CHECK(refused(here.archive(), there.archive()).find("bagit.txt") != std::string::npos);
  }
  CHECK_FALSE(stdfs::exists(there.archive()));
}

TEST_CASE("archive: hostile zip files: names that lead elsewhere, links, bombs, twins") {
  const Folder here, there;
  const stdfs::path canary = here.path() / "canary";
  spill(canary, "sings");
  const auto zip = [&](const std::string& body) {
    spill(here.path() / "make.py",
          "import zipfile,sys\nz=zipfile.ZipFile(sys.argv[1],\"w\",zipfile.ZIP_DEFLATED)\n" + body +
              "\nz.close()\n");
    stdfs::remove(here.path() / "x.zip");
    REQUIRE(shell("cd " + here.path().string() + " && python3 -W ignore make.py x.zip"));
    return refused(here.path() / "x.zip", there.archive());
  };
  const std::string strange = "does not belong in a package";
  for (const char* name :
       {"../canary", "bag/../../canary", "/canary", "bag//canary", "bag/./canary", "bag/.hidden",
        "bag/a\\\\..\\\\canary", "bag/a b", "bag/a\\nb", "C:canary", "bag/\\u202egpj"}) {
    CAPTURE(name);
    CHECK(zip(std::string("z.writestr(\"") + name + "\",\"dead\")").find(strange) !=
          std::string::npos);
  }
  CHECK(zip("i=zipfile.ZipInfo(\"bag/data\"); i.create_system=3; i.external_attr=0o120777<<16\n"
            "z.writestr(i,\"../../canary\")")
            .find(strange) != std::string::npos);
  CHECK(zip("z.writestr(\"bag/bagit.txt\",b\"\\0\"*(200<<20))").find("more than a hundred times") !=
        std::string::npos);
  CHECK(zip("z.writestr(\"bag/bagit.txt\",\"a\"); z.writestr(\"bag/BagIt.txt\",\"b\")")
            .find("is there twice") != std::string::npos);
  CHECK(zip("z.writestr(\"bag/bagit.txt\",\"a\"); z.writestr(\"bag/bagit.txt\",\"b\")")
            .find("zip") != std::string::npos);
  CHECK(zip("z.writestr(\"bagit.txt\",\"a\")").find("in a folder of its own") != std::string::npos);
  CHECK(zip("z.writestr(\"a/bagit.txt\",\"a\"); z.writestr(\"b/bagit.txt\",\"a\")")
            .find("in a folder of its own") != std::string::npos);
  CHECK(slurp(canary) == "sings");
  CHECK_FALSE(stdfs::exists(there.archive()));
}
