#include <doctest/doctest.h>

#include <algorithm>
#include <functional>
#include <set>

#include "archive/hostile.h"
#include "archive/sample.h"
#include "base/text.h"

using namespace sample;

namespace {

/// A folder with the archive, and beside it the canary: what nobody may touch or add to.
struct Guarded {
  Folder folder;
  stdfs::path canary = folder.path() / "canary";

  Guarded() {
    stdfs::create_directories(canary / "folder");
    spill(canary / "file", "sings");
    spill(canary / "folder/file", "sings");
  }
  stdfs::path archive() const { return folder.path() / "place/archive"; }
  /// Every path under the folder, but for `own`, which is the archive's.
  std::string outside(const std::string& own = "place") const {
    std::set<std::string> lines;
    for (stdfs::recursive_directory_iterator e(folder.path()), end; e != end; ++e) {
      const std::string path = stdfs::relative(e->path(), folder.path());
      if (path == own) {
        e.disable_recursion_pending();
        continue;
      }
      lines.insert(path + (e->is_regular_file() ? " " + slurp(e->path()) : ""));
    }
    std::string text;
    for (const std::string& l : lines) text += l + "\n";
    return text;
  }
};

/// Every name in the archive is one that any file system takes, and none leads out of it.
bool only_plain_names(const stdfs::path& root) {
  if (!stdfs::exists(root)) return true;
  for (const auto& e : stdfs::recursive_directory_iterator(root)) {
    const std::string name = e.path().filename();
    const bool plain = std::all_of(name.begin(), name.end(), [](char c) {
      return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
             c == '.' || c == '_' || c == '-' || c == '=';
    });
    if (!plain || name.size() > 100 || e.is_symlink()) return false;
  }
  return true;
}

enum class Where { job_id, file_name, prefix, fact };

IssueResult issue_with(const Guarded& g, Where where, const std::string& name, Diagnostics& out) {
  IssueRequest r = request("job");
  std::string file = "certificate.pdf";
  if (where == Where::job_id) r.job_id = name;
  if (where == Where::prefix) r.prefix = name;
  if (where == Where::file_name) file = name;
  if (where == Where::fact) r.facts = {{name, name}};
  return open(g.archive())
      .issue(
          r,
          [&](const Draw&) {
            return std::vector<File>{{file, "%PDF"}};
          },
          out);
}

/// Refused with a reason and nothing filed, or filed and found again under that very name.
std::string trial(const Guarded& g, Where where, const std::string& name, bool& filed) {
  Diagnostics out;
  const IssueResult r = issue_with(g, where, name, out);
  filed = r.state == IssueState::issued;
  if (!only_plain_names(g.archive())) return "a name that is not plain";
  if (!filed) {
    if (out.ok()) return "refused without a word";
    for (const Diagnostic& d : out.all()) {
      if (visible(d.message) != d.message) return "the message shows raw characters";
    }
    return stdfs::exists(g.archive()) && !open(g.archive()).find({}, out).empty()
               ? "refused and filed"
               : "";
  }
  Diagnostics fine;
  const std::vector<Record> found = open(g.archive()).find({}, fine);
  if (found.size() != 1) return "not found again";
  const Record& back = found[0];
  const bool same = where == Where::job_id   ? back.job_id == name
                    : where == Where::prefix ? back.number.starts_with(name + "-")
                    : where == Where::fact
                        ? back.facts == Facts{{name, name}}
                        : open(g.archive()).read(back.number, 0, name, fine) == "%PDF";
  if (!same) return "filed under another name";
  return all_problems(verify(g.archive()));
}

}  // namespace

TEST_CASE("archive: hostile names are refused, or filed and found again as they are") {
  const std::vector<std::string> all = hostile::names();
  CHECK(all.size() >= 200);
  const std::size_t step = few(7, 1);
  const std::vector<std::pair<std::string, Where>> places{{"job ids", Where::job_id},
                                                          {"file names", Where::file_name},
                                                          {"prefixes", Where::prefix},
                                                          {"facts", Where::fact}};
  for (const auto& [what, where] : places) {
    CAPTURE(what);
    int tried = 0, kept = 0;
    for (std::size_t i = 0; i < all.size(); i += step, ++tried) {
      const Guarded g;
      stdfs::create_directory(g.archive().parent_path());
      const std::string before = g.outside();
      bool filed = false;
      CAPTURE(visible(all[i]));
      CHECK(trial(g, where, all[i], filed) == "");
      CHECK(g.outside() == before);
      kept += filed ? 1 : 0;
    }
    row("hostile " + what, tried,
        std::to_string(tried - kept) + " refused, " + std::to_string(kept) + " filed and found");
  }
}

TEST_CASE("archive: the control, a name that is joined to a path unseen, leaves the archive") {
  int killed = 0;
  const std::vector<std::string> all = hostile::names();
  for (const std::string& name : all) {
    const Guarded g;
    stdfs::create_directories(g.archive());
    const std::string before = g.outside("place/archive");
    std::error_code ignored;
    // What a careless program does; only where it stays within the test's own folder.
    const stdfs::path target = (g.archive() / name).lexically_normal();
    if (!target.string().starts_with(g.folder.path().string() + "/")) continue;
    stdfs::create_directories(target.parent_path(), ignored);
    spill(target, "eats");
    killed += g.outside("place/archive") != before ? 1 : 0;
  }
  row("hostile names: control, joined to a path unseen", static_cast<long>(all.size()),
      std::to_string(killed) + " left the archive");
  CHECK(killed > 0);
}

TEST_CASE(
    "archive: names that are twins by case or normalisation are one job or two, never mixed") {
  int pairs = 0;
  for (const auto& [a, b] : hostile::twins()) {
    CAPTURE(visible(a));
    CAPTURE(visible(b));
    const Guarded g;
    stdfs::create_directory(g.archive().parent_path());
    Diagnostics out;
    const auto two_files = [&](const Draw&) {
      return std::vector<File>{{"certificate.pdf", "%PDF"}, {a, "one"}, {b, "two"}};
    };
    CHECK(open(g.archive()).issue(request("job"), two_files, out).state == IssueState::refused);
    CHECK_FALSE(out.ok());
    // As job ids: at most one of the two is a name at all.
    Diagnostics first, second;
    const bool one = issue_with(g, Where::job_id, a, first).state == IssueState::issued;
    const bool two = issue_with(g, Where::job_id, b, second).state == IssueState::issued;
    CHECK_FALSE((one && two));
    ++pairs;
  }
  row("twins by case or normalisation", pairs, "none filed beside the other");
}

TEST_CASE("archive: an archive may lie at a path of any name, and leaves the rest alone") {
  int tried = 0, made = 0;
  const std::vector<std::string> all = hostile::names();
  for (std::size_t i = 0; i < all.size(); i += few(7, 1)) {
    const std::string& name = all[i];
    // An absolute path, or one that leads out, is the user's own word where it stands.
    const Guarded g;
    stdfs::create_directory(g.archive().parent_path());
    const stdfs::path root = g.archive().parent_path() / name;
    const std::string within = g.archive().parent_path().string() + "/";
    if (!root.lexically_normal().string().starts_with(within) ||
        root.lexically_normal() == within) {
      continue;
    }
    CAPTURE(visible(name));
    ++tried;
    const std::string before = g.outside();
    Diagnostics out;
    std::optional<Archive> archive = Archive::open(root, out);
    IssueResult r;
    if (archive) r = archive->issue(request("job"), render(), out);
    CHECK(g.outside() == before);
    if (r.state != IssueState::issued) {
      CHECK_FALSE(out.ok());
      continue;
    }
    ++made;
    CHECK(all_problems(verify(root)) == "");
    CHECK(slurp(r.folder / "job.toml") == request("job").job_bytes);
  }
  row("hostile archive paths", tried,
      std::to_string(tried - made) + " refused, " + std::to_string(made) + " issued and verified");
}

namespace {

/// An archive of two certificates, one revised, with an index beside it.
void furnish(const stdfs::path& root) {
  stdfs::create_directory(root.parent_path());
  issue(root, "a");
  issue(root, "b");
  revise(root, "b", "SP-0002", "slip");
  Diagnostics out;
  REQUIRE(open(root).rebuild_index({}, out));
}

using Plant = std::function<void(const stdfs::path& target, const stdfs::path& link)>;

/// Every command, whatever it answers.
void do_everything(const stdfs::path& root) {
  Diagnostics out;
  std::optional<Archive> archive = Archive::open(root, out);
  if (!archive) return;
  archive->verify(std::nullopt, std::nullopt, out);
  archive->find({"tallow"}, out);
  archive->history("SP-0002", out);
  archive->read("SP-0002", 0, "certificate.pdf", out);
  for (const char* job : {"c", "d"}) {
    Diagnostics one;
    archive->issue(request(job), render(), one);
  }
  revise(root, "a", "SP-0001", "slip");
  const WithdrawRequest w{"ohmleaf test", "R. Hollins", "wrong flat", request("a").now};
  Diagnostics two, three;
  archive->withdraw(w, "SP-0002", two);
  archive->rebuild_index({}, three);
}

bool any_problem(const stdfs::path& root) {
  Diagnostics out;
  const std::optional<Archive> archive = Archive::open(root, out);
  return !archive || !archive->verify(std::nullopt, std::nullopt, out).problems.empty();
}

}  // namespace

TEST_CASE("archive: a link planted at any path leads no command out of the archive") {
  Folder model;
  const stdfs::path made = model.path() / "place";
  furnish(made / "archive");
  std::vector<std::string> paths;
  for (const auto& e : stdfs::recursive_directory_iterator(made)) {
    paths.push_back(stdfs::relative(e.path(), made));
  }
  // What a command would make next.
  for (const char* next :
       {"archive/sp-0003", "archive/sp-0001/v2", "archive.work/latest.json.new",
        "archive.work/index.sqlite-journal", "archive.work/aside", "archive.work/staging/x"}) {
    paths.push_back(next);
  }
  std::sort(paths.begin(), paths.end());
  const std::vector<std::pair<std::string, Plant>> plants{
      {"symbolic links to a file",
       [](const auto& to, const auto& at) { stdfs::create_symlink(to / "file", at); }},
      {"symbolic links to a folder",
       [](const auto& to, const auto& at) { stdfs::create_symlink(to / "folder", at); }},
      {"dangling links",
       [](const auto& to, const auto& at) { stdfs::create_symlink(to / "new", at); }},
      {"hard links",
       [](const auto& to, const auto& at) { stdfs::create_hard_link(to / "file", at); }}};
  for (const auto& [what, plant] : plants) {
    int planted = 0, named = 0;
    for (std::size_t i = 0; i < paths.size(); i += few(5, 1)) {
      CAPTURE(what);
      CAPTURE(paths[i]);
      const Guarded g;
      const stdfs::path place = g.folder.path() / "place";
      stdfs::copy(made, place, stdfs::copy_options::recursive);
      const std::string before = g.outside();
      stdfs::remove_all(place / paths[i]);
      plant(g.canary, place / paths[i]);
      ++planted;
      const bool inside = paths[i].starts_with("archive/");
      const bool seen = any_problem(place / "archive");
      named += seen ? 1 : 0;
      if (inside) CHECK(seen);
      do_everything(place / "archive");
      CHECK(g.outside() == before);
    }
    row(what + " planted", planted, std::to_string(named) + " named by verify, canary untouched");
  }
}
