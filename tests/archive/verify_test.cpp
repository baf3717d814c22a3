#include <doctest/doctest.h>

#include "archive/sample.h"
#include "base/digest.h"

using namespace sample;

namespace {

/// Three certificates, the second revised.
void fill(const Folder& folder) {
  for (const char* job : {"a", "b", "c"}) {
    REQUIRE(issue(folder.archive(), job).state == IssueState::issued);
  }
  REQUIRE(revise(folder.archive(), "b", "SP-0002", "slip").state == IssueState::issued);
}

void copy_whole(const stdfs::path& from, const stdfs::path& to) {
  stdfs::remove_all(to);
  stdfs::copy(from, to, stdfs::copy_options::recursive);
}

}  // namespace

TEST_CASE("archive: a whole archive is found whole, and counted") {
  const Folder folder;
  fill(folder);
  const VerifyReport r = verify(folder.archive());
  INFO(all_problems(r));
  CHECK(r.problems.empty());
  CHECK(r.objects == 3);
  CHECK(r.versions == 4);
  CHECK(r.files == 12);
  CHECK(r.digests_hold);
  CHECK(r.chain_holds);
  CHECK_FALSE(r.witness_holds);
  Diagnostics out;
  const VerifyReport one = open(folder.archive()).verify("SP-0002", std::nullopt, out);
  CHECK(one.objects == 1);
  CHECK(one.problems.empty());
}

TEST_CASE("archive: a change of one bit in any file is named, and nothing else is") {
  const Folder folder;
  fill(folder);
  std::vector<stdfs::path> files;
  for (const auto& e : stdfs::recursive_directory_iterator(folder.archive())) {
    if (e.is_regular_file()) files.push_back(stdfs::relative(e.path(), folder.archive()));
  }
  REQUIRE(files.size() == 3 + 3 * 3 + 4 * 5);
  for (const stdfs::path& file : files) {
    CAPTURE(file);
    const std::string good = slurp(folder.archive() / file);
    for (std::size_t at : {std::size_t{0}, good.size() / 2, good.size() - 1}) {
      std::string bad = good;
      bad[at] = static_cast<char>(bad[at] ^ 1);
      spill(folder.archive() / file, bad);
      Diagnostics out;
      const std::optional<Archive> archive = Archive::open(folder.archive(), out);
      if (file == "0=ocfl_1.1") {
        CHECK_FALSE(archive);
        continue;
      }
      REQUIRE(archive);
      const VerifyReport r = archive->verify(std::nullopt, std::nullopt, out);
      INFO(all_problems(r));
      // A sidecar vouches for its inventory: of the two, either may be the damaged one.
      std::string either = file.string();
      if (either.ends_with(".sha512")) either.resize(either.size() - 7);
      CHECK((names(r, file.string()) || names(r, either)));
      CHECK_FALSE(r.digests_hold);
      for (const Problem& p : r.problems) {
        CHECK_FALSE(p.what.empty());
        CHECK_FALSE(p.remedy.empty());
      }
    }
    spill(folder.archive() / file, good);
  }
  CHECK(verify(folder.archive()).problems.empty());
}

TEST_CASE("archive: a missing, an added or a swapped file is named") {
  const Folder folder;
  fill(folder);
  const stdfs::path root = folder.archive(), keep = folder.path() / "keep";
  copy_whole(root, keep);
  std::vector<stdfs::path> paths;
  for (const auto& e : stdfs::recursive_directory_iterator(root)) {
    paths.push_back(stdfs::relative(e.path(), root));
  }
  for (const stdfs::path& path : paths) {
    if (path == "0=ocfl_1.1") continue;
    CAPTURE(path);
    const bool is_folder = stdfs::is_directory(root / path);
    stdfs::remove_all(root / path);
    VerifyReport r = verify(root);
    CHECK_FALSE(r.problems.empty());
    CHECK_FALSE(r.digests_hold);
    if (!is_folder) {
      INFO(all_problems(r));
      CHECK(names(r, path.string()));
    }
    copy_whole(keep, root);
    if (is_folder) {
      spill(root / path / "notes.txt", "added");
      r = verify(root);
      CHECK(names(r, (path / "notes.txt").string()));
      stdfs::remove(root / path / "notes.txt");
      stdfs::create_directory(root / path / "empty");
      CHECK(names(verify(root), (path / "empty").string()));
      stdfs::remove(root / path / "empty");
    }
  }
  for (const char* extra : {"notes.txt", "Sp-0009", ".hidden", "sp-0001x"}) {
    stdfs::create_directory(root / extra);
    CHECK(names(verify(root), extra));
    stdfs::remove(root / extra);
  }
  const stdfs::path a = root / "sp-0001/v1/content/job.toml";
  const stdfs::path b = root / "sp-0003/v1/content/job.toml";
  const std::string first = slurp(a), third = slurp(b);
  spill(a, third);
  spill(b, first);
  const VerifyReport r = verify(root);
  CHECK(names(r, "sp-0001/v1/content/job.toml"));
  CHECK(names(r, "sp-0003/v1/content/job.toml"));
  copy_whole(keep, root);
  CHECK(verify(root).problems.empty());
}

TEST_CASE("archive: links in the place of files and folders are named and never followed") {
  const Folder folder;
  fill(folder);
  const stdfs::path root = folder.archive(), outside = folder.path() / "outside";
  const stdfs::path job = root / "sp-0001/v1/content/job.toml";
  stdfs::rename(job, outside);
  stdfs::create_symlink(outside, job);
  CHECK(names(verify(root), "sp-0001/v1/content/job.toml"));
  Diagnostics out;
  CHECK_FALSE(open(root).read("SP-0001", 0, "job.toml", out));
  stdfs::remove(job);
  stdfs::create_hard_link(outside, job);
  CHECK(names(verify(root), "sp-0001/v1/content/job.toml"));
  stdfs::remove(outside);
  CHECK(verify(root).problems.empty());
  stdfs::rename(root / "sp-0003", outside);
  stdfs::create_directory_symlink(outside, root / "sp-0003");
  CHECK(names(verify(root), "sp-0003"));
  CHECK_FALSE(open(root).read("SP-0003", 0, "job.toml", out));
}

TEST_CASE("archive: damage stops the next issue, before a record vouches for it") {
  const Folder folder;
  fill(folder);
  const stdfs::path record = folder.archive() / "sp-0002/v2/content/issue.json";
  const std::string good = slurp(record);
  std::string bad = good;
  bad.replace(bad.find("Tallow"), 6, "Tollaw");  // still a well-formed record
  spill(record, bad);
  CHECK(issue(folder.archive(), "d").state == IssueState::refused);
  spill(record, "{}");
  CHECK(issue(folder.archive(), "d").state == IssueState::refused);
  spill(record, good);
  CHECK(issue(folder.archive(), "d").number == "SP-0004");
}

TEST_CASE("archive: a lost newest folder does not give its number away again") {
  const Folder folder;
  for (const char* job : {"a", "b"}) REQUIRE(issue(folder.archive(), job).revision == 1);
  stdfs::remove_all(folder.archive() / "sp-0002");
  CHECK(issue(folder.archive(), "c").state == IssueState::refused);
  CHECK(names(verify(folder.archive()), "sp-0002"));
  // The control: without the folder beside the archive nothing tells that it was there.
  stdfs::remove_all(folder.path() / "archive.work");
  CHECK(verify(folder.archive()).problems.empty());
  CHECK(issue(folder.archive(), "c").number == "SP-0002");
}

TEST_CASE("archive: a witness vouches for what was filed before it") {
  const Folder folder;
  fill(folder);
  std::string heads[4];
  const char* records[] = {"sp-0001/v1", "sp-0002/v1", "sp-0003/v1"};
  for (int i = 0; i < 3; ++i) {
    heads[i + 1] =
        sha512_hex(slurp(folder.archive() / records[i] / "content/issue.json")).substr(0, 32);
  }
  const Archive archive = open(folder.archive());
  const auto holds = [&](const std::string& number, const std::string& head) {
    Diagnostics out;
    return archive.verify(std::nullopt, std::pair{number, head}, out).witness_holds.value_or(false);
  };
  CHECK(holds("SP-0001", std::string(32, '0')));
  CHECK(holds("SP-0002", heads[1]));
  CHECK(holds("sp-0003", heads[2]));
  CHECK(holds("SP-0002", heads[3]));  // printed on revision 2
  CHECK_FALSE(holds("SP-0003", heads[1]));
  CHECK_FALSE(holds("SP-0004", heads[3]));
  Diagnostics out;
  archive.verify(std::nullopt, std::pair<std::string, std::string>{"SP-0002", "12ab"}, out);
  CHECK(out.trouble() == Trouble::input);
  // The PDF itself vouches for its own record too.
  const std::string pdf = slurp(folder.archive() / "sp-0003/v1/content/certificate.pdf");
  Diagnostics fine;
  CHECK(*archive.verify_with(std::nullopt, Witness{"SP-0003", heads[2], sha512_hex(pdf), {}}, fine)
             .witness_holds);
  CHECK_FALSE(
      *archive
           .verify_with(std::nullopt, Witness{"SP-0003", heads[2], sha512_hex(pdf + " "), {}}, fine)
           .witness_holds);
}
