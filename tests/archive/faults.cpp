#include "archive/faults.h"

#include <fcntl.h>
#include <sqlite3.h>
#include <sys/mman.h>
#include <unistd.h>

#include <algorithm>
#include <cstring>
#include <map>

#include "archive/store.h"

namespace faults {
namespace {

using namespace sample;

Render big_render() {
  return [](const Draw& draw) -> std::optional<std::vector<File>> {
    return std::vector<File>{{"certificate.pdf", "%PDF " + draw.number + std::string(9000, '.')},
                             {"images/logo.png", std::string(300, 'x')}};
  };
}

Answer answer_of(const IssueResult& r, const Diagnostics& out) {
  const bool yes = r.state == IssueState::issued || r.state == IssueState::already_issued;
  return {yes ? r.number + " " + std::to_string(r.revision) : "", !out.ok()};
}

/// An archive to work on, or the complaint that there is none.
std::optional<Archive> opened(const stdfs::path& root, Diagnostics& out) {
  return Archive::open(root, out);
}

std::function<Answer(const stdfs::path&)> issuing(const std::string& job) {
  return [job](const stdfs::path& root) -> Answer {
    Diagnostics out;
    auto archive = opened(root, out);
    return archive ? answer_of(archive->issue(request(job), big_render(), out), out)
                   : Answer{"", !out.ok()};
  };
}

Answer revising(const stdfs::path& root) {
  Diagnostics out;
  auto archive = opened(root, out);
  if (!archive) return {"", !out.ok()};
  IssueRequest r = request("a");
  r.job_bytes += "# revised\n";
  r.reason = "a slip";
  return answer_of(archive->revise(r, "SP-0001", big_render(), out), out);
}

Answer withdrawing(const stdfs::path& root) {
  Diagnostics out;
  auto archive = opened(root, out);
  if (!archive) return {"", !out.ok()};
  const WithdrawRequest r{"driver", "R. Hollins", "wrong flat", request("a").now};
  return answer_of(archive->withdraw(r, "SP-0001", out), out);
}

Answer stamping(const stdfs::path& root) {
  Diagnostics out;
  auto archive = opened(root, out);
  const auto pdf = archive ? archive->read("SP-0001", 0, "certificate.pdf", out) : std::nullopt;
  if (!pdf) return {"", !out.ok()};
  const TimestampRequest r{"driver", "R. Hollins",          "of a service",
                           *pdf,     std::string(700, 't'), request("a").now};
  return answer_of(archive->timestamp(r, "SP-0001", out), out);
}

Answer expiring(const stdfs::path& root) {
  Diagnostics out;
  auto archive = opened(root, out);
  if (!archive) return {"", !out.ok()};
  const WithdrawRequest r{"driver", "R. Hollins", "kept long enough", request("a").now};
  return answer_of(archive->expire(r, "SP-0001", out), out);
}

bool export_to(const stdfs::path& root, const stdfs::path& bag, std::vector<std::string> numbers,
               Diagnostics& out) {
  auto archive = opened(root, out);
  return archive &&
         archive->export_bag({std::move(numbers), bag, "driver", request("a").now, {}}, out);
}

/// Whole, if another archive takes it in.
Answer exporting(const stdfs::path& root) {
  Diagnostics out;
  const stdfs::path bag = root.parent_path() / "bag", trial = root.parent_path() / "trial/archive";
  if (!stdfs::exists(bag)) {
    const bool done = export_to(root, bag, {"SP-0001", "SP-0002"}, out);
    return {done ? "done" : "", !out.ok()};
  }
  stdfs::remove_all(trial.parent_path());
  stdfs::create_directory(trial.parent_path());
  auto archive = opened(trial, out);
  const auto taken = archive ? archive->import_bag(bag, {}, out) : std::nullopt;
  return {taken && taken->added == 2 ? "done" : "", !out.ok()};
}

Answer importing(const stdfs::path& root) {
  Diagnostics out;
  auto archive = opened(root, out);
  const bool done = archive && archive->import_bag(root.parent_path() / "bag", {}, out);
  return {done ? "done" : "", !out.ok()};
}

Answer indexing(const stdfs::path& root) {
  Diagnostics out;
  auto archive = opened(root, out);
  return {archive && archive->rebuild_index({}, out) && out.ok() ? "done" : "", !out.ok()};
}

Answer opening(const stdfs::path& root) {
  Diagnostics out;
  return {opened(root, out) ? "done" : "", !out.ok()};
}

void base(const stdfs::path& root) {
  issuing("a")(root);
  issuing("b")(root);
}

void indexed(const stdfs::path& root) {
  base(root);
  indexing(root);
}

/// Puts sp-0001 where a kill between the two last steps of its revision leaves it.
void unfinished(const stdfs::path& root) {
  base(root);
  revising(root);
  for (const char* name : {"inventory.json", "inventory.json.sha512"}) {
    stdfs::copy_file(root / "sp-0001/v1" / name, root / "sp-0001" / name,
                     stdfs::copy_options::overwrite_existing);
  }
  stdfs::create_directories(root.parent_path() / "archive.work/staging/sp-0001.0123456789abcdef");
}

/// As one would without thinking: whatever the system answers.
void write_once(const stdfs::path& target, const std::string& bytes) {
  const int fd = ::open(target.c_str(), O_WRONLY | O_CREAT | O_TRUNC, 0600);
  if (::write(fd, bytes.data(), bytes.size()) >= 0) ::close(fd);
}

/// A package that knows of one certificate more, and of a revision, than the archive beside it.
void ahead(const stdfs::path& root) {
  base(root);
  const stdfs::path other = root.parent_path() / "other";
  stdfs::create_directory(other);
  stdfs::copy(root, other / "archive", stdfs::copy_options::recursive);
  issuing("c")(other / "archive");
  revising(other / "archive");
  Diagnostics out;
  export_to(other / "archive", root.parent_path() / "bag", {"SP-0001", "SP-0002", "SP-0003"}, out);
  stdfs::remove_all(other);
}

/// The same package, and no archive yet.
void nothing_but_a_package(const stdfs::path& root) {
  ahead(root);
  stdfs::remove_all(root);
  stdfs::remove_all(root.parent_path() / "archive.work");
}

Answer copying_in_place(const stdfs::path& root, const std::function<void()>& hindered) {
  const stdfs::path scratch = root.parent_path() / "scratch";
  std::error_code ignored;
  stdfs::create_directory(scratch, ignored);
  stdfs::copy(root, scratch / "archive", stdfs::copy_options::recursive, ignored);
  Diagnostics out;
  std::optional<Archive> archive = Archive::open(scratch / "archive", out);
  if (!archive) return {"", true};
  const IssueResult result = archive->issue(request("b"), big_render(), out);
  if (result.state != IssueState::issued) return {"", true};
  const stdfs::path made = result.folder.parent_path().parent_path();
  if (hindered) hindered();
  for (stdfs::recursive_directory_iterator e(made, ignored), end; e != end; e.increment(ignored)) {
    const stdfs::path target = root / stdfs::relative(e->path(), scratch / "archive", ignored);
    const bool folder = e->is_directory(ignored);
    stdfs::create_directories(folder ? target : target.parent_path(), ignored);
    if (!folder) write_once(target, slurp(e->path()));
  }
  return answer_of(result, out);
}

std::string line(const Record& r) {
  return r.number + " " + std::to_string(r.revision) + " " + r.job_id +
         (r.withdrawn ? " withdrawn" : "") + (r.expired ? " expired" : "");
}

/// The records as the files have them, whatever an index says.
std::vector<std::string> from_files(const stdfs::path& root) {
  Diagnostics out;
  std::vector<std::string> has;
  const std::optional<Store> store = open_store(root, out);
  if (!store) return has;
  for (const Latest& o : scan(*store).objects) has.push_back(line(as_record(*store, o)));
  std::sort(has.begin(), has.end());
  return has;
}

std::string joined(const std::vector<std::string>& lines) {
  std::string text;
  for (const std::string& l : lines) text += l + "; ";
  return text;
}

std::string plain(std::string name) {
  std::replace(name.begin(), name.end(), ' ', '-');
  return name;
}

/// What the child says, where its death does not take it along.
struct Board {
  bool said = false;
  bool complained = false;
  char text[64] = "";
};

}  // namespace

const std::vector<Scenario>& scenarios() {
  static const std::string a = "SP-0001 1 a", b = "SP-0002 1 b";
  static const std::vector<std::string> three{a, b, "SP-0003 1 c", "SP-0004 1 z"},
      same{a, b, "SP-0003 1 z"}, revised{"SP-0001 2 a", b, "SP-0003 1 z"},
      removed{"SP-0001 1 removed-sp-0001 expired", b, "SP-0003 1 z"},
      imported{"SP-0001 2 a", b, "SP-0003 1 c", "SP-0004 1 z"};
  static const std::vector<Scenario> all{
      {"first issue", [](const stdfs::path&) {}, issuing("a"), "SP-0001 1", {a, "SP-0002 1 z"}},
      {"issue", base, issuing("c"), "SP-0003 1", three},
      {"issue beside an index", indexed, issuing("c"), "SP-0003 1", three},
      {"issue right after another", indexed, issuing("c"), "SP-0003 1", three, false, false, true},
      {"revise", base, revising, "SP-0001 2", revised},
      {"revise beside an index", indexed, revising, "SP-0001 2", revised},
      {"revise right after another", indexed, revising, "SP-0001 2", revised, false, false, true},
      {"withdraw", base, withdrawing, "SP-0001 1", {a + " withdrawn", b, "SP-0003 1 z"}},
      {"time-stamp", base, stamping, "SP-0001 1", same},
      {"expire", base, expiring, "SP-0001 1", removed},
      {"expire beside an index", indexed, expiring, "SP-0001 1", removed},
      {"import", ahead, importing, "done", imported, true},
      {"import of a whole archive", nothing_but_a_package, importing, "done", imported, true},
      {"export", base, exporting, "done", same},
      {"index build", base, indexing, "done", same},
      {"recovery", unfinished, opening, "done", revised},
  };
  return all;
}

Scenario careless_after(std::function<void()> hindered) {
  return {"careless",
          [](const stdfs::path& root) { issuing("a")(root); },
          [hindered](const stdfs::path& root) { return copying_in_place(root, hindered); },
          "SP-0002 1",
          {"SP-0001 1 a", "SP-0002 1 b"},
          false,
          true,
          false};
}

const Scenario& careless() {
  static const Scenario control = careless_after({});
  return control;
}

Look look(const stdfs::path& root) {
  Look seen;
  if (!stdfs::exists(root)) return seen;
  Diagnostics out;
  const std::optional<Archive> archive = Archive::open(root, out);
  if (!archive) return {"it cannot be opened", {}};
  seen.wrong = all_problems(archive->verify(std::nullopt, std::nullopt, out));
  for (const Record& r : archive->find({}, out)) seen.has.push_back(line(r));
  std::sort(seen.has.begin(), seen.has.end());
  for (const Diagnostic& d : out.all()) {
    if (d.severity != Severity::note) seen.wrong += d.message + "\n";
  }
  if (seen.has != from_files(root)) seen.wrong += "find: " + joined(seen.has) + "\n";
  return seen;
}

std::int64_t in_the_index(const stdfs::path& root, const std::string& sql) {
  const std::string file = root.string() + ".work/index.sqlite";
  sqlite3* db = nullptr;
  sqlite3_stmt* statement = nullptr;
  std::int64_t value = -1;
  if (sqlite3_open_v2(file.c_str(), &db, SQLITE_OPEN_READWRITE, nullptr) == SQLITE_OK &&
      sqlite3_prepare_v2(db, sql.c_str(), -1, &statement, nullptr) == SQLITE_OK &&
      sqlite3_step(statement) == SQLITE_ROW) {
    value = sqlite3_column_int64(statement, 0);
  }
  sqlite3_finalize(statement);
  sqlite3_close(db);
  return value;
}

void looked_just_now(const stdfs::path& root) {
  Diagnostics none;  // of a number that is not there: a writing command all the same
  open(root).withdraw({"driver", "R. Hollins", "no", request("a").now}, "SP-9999", none);
  in_the_index(root,
               "UPDATE look SET took = 60000000, at = CAST((julianday('now') - 2440587.5) * "
               "86400000000 AS INTEGER)");
}

std::int64_t last_look(const stdfs::path& root) {
  return in_the_index(root, "SELECT at FROM look");
}

stdfs::path Bench::fresh(const Scenario& scenario) {
  const stdfs::path made = folder_.path() / plain(scenario.name), place = folder_.path() / "run";
  if (!stdfs::exists(made)) {
    stdfs::create_directory(made);
    scenario.prepare(made / "archive");
  }
  stdfs::remove_all(place);
  stdfs::copy(made, place, stdfs::copy_options::recursive);
  if (scenario.lately) looked_just_now(place / "archive");
  return place / "archive";
}

std::vector<long> Bench::calls(const Scenario& scenario) {
  const stdfs::path root = fresh(scenario);
  return hurt(scenario, root, std::nullopt).run.calls;
}

Hurt Bench::hurt(const Scenario& scenario, const stdfs::path& root,
                 const std::optional<tracer::Fault>& fault, const std::function<void()>& before,
                 const std::function<void()>& held) {
  void* shared =
      ::mmap(nullptr, sizeof(Board), PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
  if (shared == MAP_FAILED) std::abort();
  Board& board = *new (shared) Board;
  const std::optional<tracer::Run> run = tracer::run(
      [&] {
        if (before) before();
        const Answer answer = scenario.act(root);
        board.complained = answer.complained;
        answer.said.copy(board.text, sizeof board.text - 1);
        board.said = true;
        return 0;
      },
      fault, held);
  if (!run) std::abort();  // nobody can be traced here: a test that goes on would prove nothing
  Hurt result{*run, std::nullopt};
  if (board.said) result.answer = Answer{board.text, board.complained};
  ::munmap(shared, sizeof(Board));
  return result;
}

std::string examine(const Scenario& scenario, const stdfs::path& root,
                    const std::optional<Answer>& answer) {
  const std::string acknowledged = answer ? answer->said : "";
  if (answer && acknowledged.empty() && !answer->complained) return "refused without a word";
  if (!acknowledged.empty() && acknowledged != scenario.due) return "answered " + acknowledged;
  // Before anything looks at the archive: the next command comes just as closely.
  if (scenario.lately && scenario.act(root).said != scenario.due) return "at once again: refused";
  const Look first = look(root);
  const bool stopped = scenario.resumes && acknowledged.empty();
  if (!first.wrong.empty() && !stopped) return "afterwards: " + first.wrong;
  const bool there = acknowledged.empty() || acknowledged == "done" ||
                     std::any_of(first.has.begin(), first.has.end(), [&](const std::string& has) {
                       return has.starts_with(acknowledged + " ");
                     });
  if (!there) return "acknowledged and lost: " + acknowledged;
  if (scenario.control) return "";
  const Answer again = scenario.act(root);
  if (again.said != scenario.due) return "the same command again answers \"" + again.said + "\"";
  if (issuing("z")(root).said.empty()) return "the next command does not work";
  const Look last = look(root);
  if (!last.wrong.empty()) return "in the end: " + last.wrong;
  if (last.has != scenario.final) return "in the end there is " + joined(last.has);
  const stdfs::path staging = root.parent_path() / "archive.work/staging";
  return stdfs::is_empty(staging) ? "" : "something is left in the staging folder";
}

}  // namespace faults
