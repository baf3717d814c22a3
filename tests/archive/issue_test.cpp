#include <doctest/doctest.h>

#include "archive/issue_record.h"
#include "archive/sample.h"
#include "base/digest.h"
#include "base/json.h"

using namespace sample;

TEST_CASE("archive: the first issue makes an OCFL 1.1 root and one whole object") {
  const Folder folder;
  const IssueResult r = issue(folder.archive(), "workshop");
  REQUIRE(r.state == IssueState::issued);
  CHECK(r.number == "SP-0001");
  CHECK(r.revision == 1);
  CHECK(r.notes.empty());
  CHECK(r.folder == stdfs::canonical(folder.archive()) / "sp-0001/v1/content");
  // OCFL 1.1, sections 4.1 and 3.2: names and contents of the declarations.
  CHECK(slurp(folder.archive() / "0=ocfl_1.1") == "ocfl_1.1\n");
  const stdfs::path object = folder.archive() / "sp-0001";
  CHECK(slurp(object / "0=ocfl_object_1.1") == "ocfl_object_1.1\n");
  CHECK(slurp(object / "inventory.json") == slurp(object / "v1/inventory.json"));
  CHECK(slurp(object / "inventory.json.sha512") ==
        sha512_hex(slurp(object / "inventory.json")) + "  inventory.json\n");
  CHECK(slurp(object / "v1/content/job.toml") == request("workshop").job_bytes);
  CHECK(stdfs::exists(object / "v1/content/certificate.pdf"));
  std::string why;
  const auto layout = parse_json(slurp(folder.archive() / "ocfl_layout.json"), why);
  REQUIRE(layout);
  CHECK(layout->text("extension") == "0002-flat-direct-storage-layout");
  const std::string readme = slurp(folder.archive() / "README.txt");
  CHECK(readme.find("sha512sum -c inventory.json.sha512") != std::string::npos);
  CHECK(std::count(readme.begin(), readme.end(), '\n') <= 66);  // one printed page
}

TEST_CASE("archive: only the owner can read what is filed") {
  const Folder folder;
  REQUIRE(issue(folder.archive(), "workshop").state == IssueState::issued);
  for (const auto& e : stdfs::recursive_directory_iterator(folder.path())) {
    CAPTURE(e.path());
    struct stat st {};
    REQUIRE(::lstat(e.path().c_str(), &st) == 0);
    CHECK((st.st_mode & 0777) == (S_ISDIR(st.st_mode) ? 0700u : 0600u));
  }
}

TEST_CASE("archive: numbers are gapless in each prefix, whatever the case of its letters") {
  const Folder folder;
  CHECK(issue(folder.archive(), "a").number == "SP-0001");
  CHECK(issue(folder.archive(), "b").number == "SP-0002");
  CHECK(issue(folder.archive(), "c", "sp").number == "sp-0003");
  CHECK(issue(folder.archive(), "d", "SP-B").number == "SP-B-0001");
  CHECK(issue(folder.archive(), "e").number == "SP-0004");
  CHECK(verify(folder.archive()).problems.empty());
  CHECK(make_number("SP", 12345) == "SP-12345");
  CHECK(parse_number("SP-12345")->sequence == 12345);
  for (const char* bad : {"SP", "SP-1", "SP-00001", "SP-0000", "-0001", "SP-00a1", "S P-0001",
                          "../x-0001", "SP-9999999999999999"}) {
    CAPTURE(bad);
    CHECK_FALSE(parse_number(bad));
  }
}

TEST_CASE("archive: the same job again is already issued, a changed one has changed since") {
  const Folder folder;
  const IssueResult first = issue(folder.archive(), "workshop");
  int rendered = 0;
  const Render counting = [&](const Draw& d) {
    ++rendered;
    return render()(d);
  };
  Diagnostics out;
  const IssueResult again = open(folder.archive()).issue(request("workshop"), counting, out);
  CHECK(again.state == IssueState::already_issued);
  CHECK(again.number == first.number);
  CHECK(again.folder == first.folder);
  IssueRequest changed = request("workshop");
  changed.job_bytes += "# one reading corrected\n";
  const IssueResult since = open(folder.archive()).issue(changed, counting, out);
  CHECK(since.state == IssueState::changed_since);
  CHECK(since.number == first.number);
  // Nor does another prefix give the job a second number.
  IssueRequest elsewhere = request("workshop", "ZZ");
  CHECK(open(folder.archive()).issue(elsewhere, counting, out).number == first.number);
  CHECK(rendered == 0);
  CHECK(out.empty());
  CHECK(verify(folder.archive()).objects == 1);
}

TEST_CASE("archive: nothing is issued, and no number used, when there is nothing to file") {
  const Folder folder;
  Diagnostics out;
  const Render nothing = [](const Draw&) { return std::nullopt; };
  const IssueResult r = open(folder.archive()).issue(request("workshop"), nothing, out);
  CHECK(r.state == IssueState::refused);
  CHECK_FALSE(stdfs::exists(folder.archive()));
  CHECK(issue(folder.archive(), "other").number == "SP-0001");
}

TEST_CASE("archive: each record names the digest of the one before, and the certificate gets it") {
  const Folder folder;
  std::string seen;
  for (const std::string job : {"a", "b", "c"}) {
    const std::string before = seen.empty() ? std::string(128, '0') : seen;
    Draw drawn;
    Diagnostics out;
    const IssueResult r = open(folder.archive())
                              .issue(
                                  request(job),
                                  [&](const Draw& d) {
                                    drawn = d;
                                    return render()(d);
                                  },
                                  out);
    REQUIRE(r.state == IssueState::issued);
    CHECK(drawn.chain_head == before);
    const std::string record = slurp(r.folder / "issue.json");
    std::string why;
    CHECK(parse_json(record, why)->text("previous") == before);
    seen = sha512_hex(record);
  }
  CHECK(verify(folder.archive()).head == seen);
}

TEST_CASE("archive: the record holds keyed digests, facts, salt, and at first the root's files") {
  const Folder folder;
  const IssueResult r = issue(folder.archive(), "workshop");
  std::string why;
  const auto record = parse_record(slurp(r.folder / "issue.json"), why);
  REQUIRE_MESSAGE(record, why);
  CHECK(record->sequence == 1);
  CHECK(record->job_id == "workshop");
  CHECK(record->facts == request("workshop").facts);
  REQUIRE(record->files.size() == 2);
  const std::string job = request("workshop").job_bytes;
  CHECK(find_file(*record, "job.toml")->hmac == hmac_sha512_hex(*from_hex(record->salt), job));
  CHECK(find_file(*record, "job.toml")->hmac != sha512_hex(job));
  CHECK(record->root_files.size() == 3);
  const IssueResult second = issue(folder.archive(), "other");
  const auto next = parse_record(slurp(second.folder / "issue.json"), why);
  REQUIRE(next);
  CHECK(next->root_files.empty());
  CHECK(next->salt != record->salt);
}

TEST_CASE("archive: a revision is the next version, names what it replaces, keeps the old one") {
  const Folder folder;
  const IssueResult first = issue(folder.archive(), "workshop");
  Draw drawn;
  Diagnostics out;
  IssueRequest r = request("workshop");
  r.job_bytes += "# zs corrected\n";
  r.reason = "Zs of circuit 3 was written 3.2 for 0.32";
  const IssueResult second = open(folder.archive())
                                 .revise(
                                     r, "sp-0001",
                                     [&](const Draw& d) {
                                       drawn = d;
                                       return render("%PDF revised")(d);
                                     },
                                     out);
  REQUIRE(second.state == IssueState::issued);
  CHECK(second.number == "SP-0001");
  CHECK(second.revision == 2);
  CHECK(drawn.replaces == "SP-0001 revision 1");
  CHECK(drawn.chain_head == sha512_hex(slurp(first.folder / "issue.json")));
  const stdfs::path object = folder.archive() / "sp-0001";
  CHECK(slurp(object / "inventory.json") == slurp(object / "v2/inventory.json"));
  CHECK(verify(folder.archive()).problems.empty());
  const Archive archive = open(folder.archive());
  CHECK(archive.read("SP-0001", 0, "job.toml", out) == r.job_bytes);
  CHECK(archive.read("SP-0001", 1, "job.toml", out) == request("workshop").job_bytes);
  CHECK(archive.read("SP-0001", 2, "job.toml", out) == r.job_bytes);
  CHECK(out.empty());
  CHECK_FALSE(archive.read("SP-0001", 3, "job.toml", out));
  CHECK_FALSE(out.ok());
  REQUIRE(archive.find({}, out).size() == 1);
  CHECK(archive.find({}, out).front().revision == 2);
}

TEST_CASE("archive: a repeated revision is not made twice, one with a new reason is") {
  const Folder folder;
  REQUIRE(issue(folder.archive(), "workshop").state == IssueState::issued);
  CHECK(revise(folder.archive(), "workshop", "SP-0001", "slip").state == IssueState::issued);
  const IssueResult again = revise(folder.archive(), "workshop", "SP-0001", "slip");
  CHECK(again.state == IssueState::already_issued);
  CHECK(again.revision == 2);
  const IssueResult third = revise(folder.archive(), "workshop", "SP-0001", "second slip");
  CHECK(third.state == IssueState::issued);
  CHECK(third.revision == 3);
  // The revised job, issued again, is what is in force; the first is not any more.
  Diagnostics out;
  CHECK(open(folder.archive()).issue(request("workshop"), render(), out).state ==
        IssueState::changed_since);
  CHECK(verify(folder.archive()).problems.empty());
}

TEST_CASE("archive: a revision without reason, of an unknown number or of another job is refused") {
  const Folder folder;
  REQUIRE(issue(folder.archive(), "workshop").state == IssueState::issued);
  CHECK(revise(folder.archive(), "workshop", "SP-0001", " ").state == IssueState::refused);
  CHECK(revise(folder.archive(), "workshop", "SP-0002", "slip").state == IssueState::refused);
  CHECK(revise(folder.archive(), "garage", "SP-0001", "slip").state == IssueState::refused);
  CHECK(verify(folder.archive()).versions == 1);
}

TEST_CASE("archive: files named to do harm are refused before anything is written") {
  const Folder folder;
  spill(folder.path() / "canary", "untouched");
  for (const std::string name : {"../canary", "/etc/x",     "a/b/c",          "",
                                 ".",         "..",         "a/..",           ".hidden",
                                 "con",       "NUL.txt",    "com1.pdf",       "a b",
                                 "a\nb",      "a\x1b[2J",   "na\u00efve.pdf", "x\u202egnp.exe",
                                 "bad\xff",   "issue.json", "ISSUE.json",     "a\\b",
                                 "a:b",       "trailing.",  "a//b",           "job.toml/x"}) {
    CAPTURE(name);
    Diagnostics out;
    const Render hostile = [&](const Draw&) { return std::vector<File>{{name, "x"}}; };
    CHECK(open(folder.archive()).issue(request("workshop"), hostile, out).state ==
          IssueState::refused);
    CHECK(out.trouble() == Trouble::input);
  }
  Diagnostics out;
  const Render twins = [&](const Draw&) {
    return std::vector<File>{{"Logo.png", "x"}, {"logo.PNG", "y"}};
  };
  CHECK(open(folder.archive()).issue(request("workshop"), twins, out).state == IssueState::refused);
  const Render long_name = [&](const Draw&) {
    return std::vector<File>{{std::string(4096, 'a'), "x"}};
  };
  CHECK(open(folder.archive()).issue(request("workshop"), long_name, out).state ==
        IssueState::refused);
  CHECK_FALSE(stdfs::exists(folder.archive()));
  CHECK(slurp(folder.path() / "canary") == "untouched");
  const Render nested = [&](const Draw&) {
    return std::vector<File>{{"images/logo.png", "x"}, {"images/plan.png", "y"}, {"form.toml", ""}};
  };
  Diagnostics fine;
  CHECK(open(folder.archive()).issue(request("workshop"), nested, fine).state ==
        IssueState::issued);
  CHECK(verify(folder.archive()).problems.empty());
}

TEST_CASE("archive: prefixes and job ids that are not safe names are refused") {
  const Folder folder;
  for (const char* prefix : {"", "-A", "A B", "../x", "ABCDEFGHIJKLMNOPQ", "\u00c9", "A/B", "A."}) {
    CAPTURE(prefix);
    CHECK(issue(folder.archive(), "workshop", prefix).state == IssueState::refused);
  }
  for (const char* job : {"", "Upper", "a b", "../x", ".a", "a/b", "nul", "a."}) {
    CAPTURE(job);
    CHECK(issue(folder.archive(), job).state == IssueState::refused);
  }
  CHECK_FALSE(stdfs::exists(folder.archive()));
}

TEST_CASE("archive: a folder of other things is not taken for an archive, an empty one is") {
  const Folder folder;
  stdfs::create_directory(folder.archive());
  spill(folder.archive() / "holiday.jpg", "x");
  Diagnostics out;
  CHECK_FALSE(Archive::open(folder.archive(), out));
  CHECK(out.trouble() == Trouble::input);
  stdfs::remove(folder.archive() / "holiday.jpg");
  CHECK(issue(folder.archive(), "workshop").state == IssueState::issued);
  // A newer layout is refused, not guessed at.
  stdfs::rename(folder.archive() / "0=ocfl_1.1", folder.archive() / "0=ocfl_2.0");
  Diagnostics newer;
  CHECK_FALSE(Archive::open(folder.archive(), newer));
  CHECK(newer.all().front().id == "archive-format");
}

TEST_CASE("archive: reading makes nothing, not even the folder beside the archive") {
  const Folder folder;
  Diagnostics out;
  CHECK(open(folder.archive()).find({"x"}, out).empty());
  CHECK(out.empty());
  CHECK(stdfs::is_empty(folder.path()));
}
