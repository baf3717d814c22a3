#include "base/files.h"

#include <doctest/doctest.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <fstream>

#include "base/text.h"

namespace ohmleaf {
namespace {

namespace fs = std::filesystem;

/// A folder of its own that goes when the test ends.
struct Folder {
  fs::path path;
  Folder() {
    path = make_scratch_folder(fs::temp_directory_path(), "ohmleaf-test-").value();
  }
  ~Folder() {
    std::error_code ignored;
    fs::remove_all(path, ignored);
  }
  std::size_t count() const {
    return static_cast<std::size_t>(
        std::distance(fs::directory_iterator(path), fs::directory_iterator()));
  }
};

std::string refused(const fs::path& path, std::size_t most = 100) {
  Diagnostics out;
  CHECK(!read_file(path, most, out));
  REQUIRE(out.all().size() == 1);
  CHECK(out.all()[0].message.starts_with(path.string()));
  return out.all()[0].id;
}

}  // namespace

TEST_CASE("what was written is what is read") {
  const Folder folder;
  const std::string bytes("a\0b\xff\n", 5);
  Diagnostics out;
  const fs::path path = folder.path / "é file";
  REQUIRE(write_file(path, bytes, out));
  CHECK(read_file(path, 100, out) == bytes);
  REQUIRE(write_file(path, "new", out));
  CHECK(read_file(path, 100, out) == "new");
  REQUIRE(write_file(path, "", out));
  CHECK(read_file(path, 100, out) == "");
  CHECK(out.empty());
  CHECK(folder.count() == 1);  // no temporary stays behind
  struct stat st {};
  REQUIRE(::stat(path.c_str(), &st) == 0);
  CHECK((st.st_mode & 0777u) == 0600u);
  REQUIRE(write_file(path, "x", out, 0644));
  REQUIRE(::stat(path.c_str(), &st) == 0);
  CHECK((st.st_mode & 0777u) == 0644u);
}

TEST_CASE("what cannot be read says why") {
  const Folder folder;
  Diagnostics out;
  CHECK(refused(folder.path / "none") == "no-such-file");
  CHECK(refused(folder.path) == "not-a-file");
  REQUIRE(::mkfifo((folder.path / "pipe").c_str(), 0600) == 0);
  CHECK(refused(folder.path / "pipe") == "not-a-file");
  CHECK(refused("/dev/zero") == "not-a-file");
  REQUIRE(write_file(folder.path / "large", std::string(101, 'x'), out));
  CHECK(refused(folder.path / "large", 100) == "file-too-large");
  CHECK(read_file(folder.path / "large", 101, out)->size() == 101);
}

TEST_CASE("what cannot be written leaves nothing behind, and the old bytes stay") {
  const Folder folder;
  Diagnostics out;
  REQUIRE(write_file(folder.path / "a", "old", out));
  CHECK(!write_file(folder.path / "none" / "b", "x", out));
  CHECK(out.trouble() == Trouble::system);
  REQUIRE(out.all().size() == 1);
  CHECK(out.all()[0].message.find("No such file") != std::string::npos);
  Diagnostics more;
  fs::create_directory(folder.path / "d");
  CHECK(!write_file(folder.path / "d", "x", more));  // a folder is not replaced
  CHECK(more.trouble() == Trouble::system);
  CHECK(folder.count() == 2);
  CHECK(read_file(folder.path / "a", 100, out) == "old");
}

TEST_CASE("a scratch folder is new each time, and its owner's alone") {
  const Folder folder;
  const auto one = make_scratch_folder(folder.path, "try-"), two = make_scratch_folder(folder.path, "try-");
  REQUIRE(one);
  REQUIRE(two);
  CHECK(*one != *two);
  CHECK((fs::status(*one).permissions() & fs::perms::mask) == fs::perms::owner_all);
  CHECK_FALSE(make_scratch_folder(folder.path / "nowhere", "try-"));
}

TEST_CASE("walking up") {
  const Folder folder;
  Diagnostics out;
  fs::create_directories(folder.path / "a" / "b" / "c");
  REQUIRE(write_file(folder.path / "a" / "installer.toml", "x", out));
  fs::create_directories(folder.path / "a" / "b" / "installer.toml");  // a folder of that name
  const auto found = find_upwards(folder.path / "a" / "b" / "c", "installer.toml");
  REQUIRE(found);
  CHECK(fs::equivalent(*found, folder.path / "a" / "installer.toml"));
  CHECK(!find_upwards(folder.path / "a", "a-name-that-nobody-has.toml"));
}

TEST_CASE("the program knows where it is, and errors have words") {
  CHECK(fs::exists(program_folder()));
  CHECK(errno_text(ENOSPC) == "No space left on device");
}

TEST_CASE("a file is replaced only while it holds what was read, through a link, in its own mode") {
  Folder f;
  Diagnostics out;
  const fs::path real = f.path / "real.toml", link = f.path / "job.toml";
  REQUIRE(write_file(real, "a = 1\n", out, 0640));
  fs::create_symlink("real.toml", link);
  CHECK(replace_file(link, "a = 1\n", "a = 2\n", out) == Replaced::yes);
  CHECK(out.empty());
  CHECK(fs::is_symlink(link));
  CHECK(read_file(real, 100, out) == "a = 2\n");
  struct stat st {};
  REQUIRE(::stat(real.c_str(), &st) == 0);
  CHECK((st.st_mode & 0777u) == 0640u);
  CHECK(replace_file(link, "a = 1\n", "a = 3\n", out) == Replaced::changed);
  REQUIRE(out.all().size() == 1);
  CHECK(out.all()[0].id == "changed-meanwhile");
  CHECK(out.trouble() == Trouble::input);
  Diagnostics gone;
  CHECK(replace_file(f.path / "none.toml", "", "a", gone) == Replaced::changed);
  CHECK(read_file(real, 100, gone) == "a = 2\n");
  CHECK(f.count() == 2);  // and nothing is left beside them
}

TEST_CASE("a new file never takes the place of one that is there") {
  Folder f;
  Diagnostics out;
  CHECK(write_new_file(f.path / "job.toml", "mine", out));
  CHECK_FALSE(write_new_file(f.path / "job.toml", "other", out));
  REQUIRE(out.all().size() == 1);
  CHECK(out.all()[0].id == "already-there");
  CHECK(out.trouble() == Trouble::input);
  CHECK(read_file(f.path / "job.toml", 100, out) == "mine");
  fs::create_symlink("nowhere", f.path / "link.toml");
  CHECK_FALSE(write_new_file(f.path / "link.toml", "x", out));
  CHECK(f.count() == 2);
}

}  // namespace ohmleaf
