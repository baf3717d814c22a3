#include <algorithm>
#include <cerrno>
#include <map>
#include <set>

#include "archive/bag.h"
#include "archive/chain.h"
#include "archive/writer.h"
#include "base/digest.h"
#include "base/text.h"

// A package is unpacked into the working folder, under names that we chose or checked, and judged
// there as if it were an archive. Only then is anything filed. An archive that is not there yet is
// made by one rename. Into one that is, objects go one by one; before the first, the note beside
// the archive names the newest record of the package, so that a killed import leaves an archive
// that refuses to issue until the import was run again.

namespace ohmleaf::archive {
namespace {

const std::vector<std::string> kWholeAgain = {
    "Export the whole archive there (all of its certificates), and import that here.",
    "Nothing was imported."};

struct Unpacked {
  std::string name;  ///< in the staging folder
  Store store;       ///< a store whose root is that folder
  std::vector<std::string> ids;
};

bool sync_tree(int folder, FsError& error) {
  const auto entries = list_folder(folder, error);
  if (!entries) return false;
  for (const Entry& e : *entries) {
    if (e.kind != EntryKind::folder) continue;
    const Fd inner = open_folder_beneath(folder, e.name, error);
    if (!inner.valid() || !sync_tree(inner.get(), error)) return false;
  }
  return sync_folder(folder, error);
}

std::optional<Unpacked> unpack(const Session& session, Package& package, const Progress& progress,
                               FsError& error) {
  const std::optional<std::string> random = random_hex(8);
  if (!random) {
    error = {0, "the system gives no random numbers"};
    return std::nullopt;
  }
  Unpacked u;
  u.name = "import." + *random;
  u.store.root = session.store.work / kStaging / u.name;
  u.store.root_fd = make_folder(session.store.staging_fd.get(), u.name, error);
  if (!u.store.root_fd.valid()) return std::nullopt;
  std::size_t done = 0;
  std::set<std::string> ids;
  const auto take = [&](const std::string& name, const std::string& bytes, FsError& why) {
    if (progress) progress(++done, package.items().size());
    const std::string first = name.substr(0, name.find('/'));
    if (first != name) ids.insert(first);
    return write_deep(u.store.root_fd.get(), name, bytes, why);
  };
  if (!check_bag(package, take, error) || !sync_tree(u.store.root_fd.get(), error)) {
    return std::nullopt;
  }
  u.ids.assign(ids.begin(), ids.end());
  return u;
}

/// The links of one object, oldest first.
bool links_of(const Store& store, const std::string& id, std::vector<Link>& links,
              Diagnostics& out) {
  Problem problem;
  const auto history = read_history(store, id, problem);
  if (!history) {
    out.system_error("archive-damaged",
                     "\"" + visible(problem.file.string()) + "\": " + visible(problem.what),
                     {std::string(kRunVerify)});
    return false;
  }
  for (const Latest& v : *history) {
    links.push_back({id, v.version, v.digest, v.record});
    const Link last = links.back();
    add_removed(last, links);
  }
  return true;
}

/// Everything in the package by itself: structure and digests. Gaps in its chain are for later.
bool is_sound(const Unpacked& u, Diagnostics& out) {
  for (const Problem& p : verify_store(u.store, {}).problems) {
    const bool gap =
        p.damage == Damage::missing && (p.file.empty() || parse_number(p.file.string()));
    if (gap) continue;
    out.error("import-damaged", {},
              "the package cannot be imported: " +
                  (p.file.empty() ? "" : "\"" + visible(p.file.string()) + "\": ") +
                  visible(p.what),
              {"Have it exported again; nothing was imported."});
    return false;
  }
  return true;
}

enum class Meeting { added, renewed, already, older, conflict };

/// How an object of the package meets the one that is here: every record that is here must be in
/// it, and the package may know more.
Meeting meet(const std::vector<Link>& here, const std::vector<Link>& there) {
  const auto key = [](const Link& l) { return std::pair{l.record.sequence, l.digest}; };
  std::set<std::pair<std::int64_t, std::string>> ours, theirs;
  for (const Link& l : here) ours.insert(key(l));
  for (const Link& l : there) theirs.insert(key(l));
  if (ours == theirs) return Meeting::already;
  if (std::includes(theirs.begin(), theirs.end(), ours.begin(), ours.end()))
    return Meeting::renewed;
  if (std::includes(ours.begin(), ours.end(), theirs.begin(), theirs.end())) return Meeting::older;
  return Meeting::conflict;
}

class Importer {
 public:
  Importer(Session& session, Unpacked unpacked, Diagnostics& out)
      : session_(session), unpacked_(std::move(unpacked)), out_(out) {}
  std::optional<ImportResult> run();

 private:
  bool plan();
  bool chain_is_whole();
  bool file_all(FsError& error);
  bool make_archive(FsError& error);

  Session& session_;
  Unpacked unpacked_;
  Diagnostics& out_;
  std::map<std::string, Meeting> meetings_;
  std::vector<Link> links_;  ///< of the archive as it will be
  ImportResult result_;
};

bool Importer::plan() {
  FsError error;
  std::map<std::string, std::vector<Link>> all;
  if (session_.store.root_fd.valid()) {
    const auto entries = list_folder(session_.store.root_fd.get(), error);
    if (!entries) {
      out_.system_error("archive-unreadable", error.what);
      return false;
    }
    for (const Entry& e : *entries)
      if (e.kind == EntryKind::folder && parse_number(e.name) &&
          !links_of(session_.store, e.name, all[e.name], out_))
        return false;
  }
  for (const std::string& id : unpacked_.ids) {
    std::vector<Link> there;
    if (!links_of(unpacked_.store, id, there, out_)) return false;
    const auto here = all.find(id);
    const Meeting meeting = here == all.end() ? Meeting::added : meet(here->second, there);
    meetings_[id] = meeting;
    if (meeting == Meeting::conflict) {
      out_.error("import-conflict", {},
                 there.front().record.number + " in the package is another certificate than " +
                     there.front().record.number + " here",
                 {"Two archives drew the same number: give each its own prefix in installer.toml, "
                  "and keep them apart.",
                  "Nothing was imported."});
      return false;
    }
    if (meeting == Meeting::added || meeting == Meeting::renewed) all[id] = std::move(there);
  }
  for (auto& [id, links] : all) links_.insert(links_.end(), links.begin(), links.end());
  return true;
}

bool Importer::chain_is_whole() {
  std::vector<Problem> problems;
  check_chain(links_, problems);
  if (problems.empty()) return true;
  out_.error("import-chain", {},
             "the package does not fit the archive here: " + visible(problems.front().what),
             kWholeAgain);
  return false;
}

bool Importer::make_archive(FsError& error) {
  const Fd parent = open_folder(session_.store.root.parent_path(), error);
  const std::string target = session_.store.root.filename().string();
  return parent.valid() &&
         rename_over(session_.store.staging_fd.get(), unpacked_.name, parent.get(), target,
                     error) &&
         sync_folder(parent.get(), error) &&
         (session_.store.root_fd = open_folder_beneath(parent.get(), target, error)).valid();
}

bool Importer::file_all(FsError& error) {
  const Link& last = links_.back();
  const std::optional<Mark> mark = read_mark(session_.store);
  const bool newer = !mark || mark->sequence <= last.record.sequence;
  if (newer &&
      !write_mark(session_.store, {last.record.sequence, last.record.number, last.digest}, error)) {
    return false;
  }
  if (!session_.store.root_fd.valid()) return make_archive(error);
  const int from = unpacked_.store.root_fd.get(), to = session_.store.root_fd.get();
  for (const auto& [id, meeting] : meetings_) {
    if (meeting == Meeting::added && !rename_new(from, id, to, id, error)) return false;
    if (meeting == Meeting::renewed && !exchange(from, id, to, id, error)) return false;
  }
  return sync_folder(to, error);
}

std::optional<ImportResult> Importer::run() {
  if (!is_sound(unpacked_, out_) || !plan() || !chain_is_whole()) return std::nullopt;
  for (const auto& [id, meeting] : meetings_) {
    result_.added += meeting == Meeting::added ? 1 : 0;
    result_.renewed += meeting == Meeting::renewed ? 1 : 0;
    result_.already += meeting == Meeting::already || meeting == Meeting::older ? 1 : 0;
  }
  FsError error;
  if (result_.added + result_.renewed > 0 && !file_all(error)) {
    out_.system_error("archive-write", error.what, {"Run the same import again: it goes on."});
    return std::nullopt;
  }
  std::vector<Problem> ignored;
  Index::renew(session_.store, false, {}, ignored);
  result_.notes = session_.notes;
  return std::move(result_);
}

}  // namespace

std::optional<ImportResult> Archive::import_bag(const std::filesystem::path& from,
                                                const Progress& progress, Diagnostics& out) {
  FsError error;
  const std::unique_ptr<Package> package = open_package(from, error);
  if (!package) {
    if (error.code != 0 && error.code != ENOENT && error.code != ENOTDIR)
      out.system_error("cannot-read", error.what);
    else
      out.error("import-package", {}, error.what,
                {"Give what ohmleaf export made; nothing was imported."});
    return std::nullopt;
  }
  std::optional<Session> session = begin_mending(root_, out);
  if (!session) return std::nullopt;
  std::optional<ImportResult> result;
  std::optional<Unpacked> unpacked = unpack(*session, *package, progress, error);
  if (unpacked) {
    result = Importer(*session, std::move(*unpacked), out).run();
  } else if (error.code != 0) {
    out.system_error("archive-write", error.what, {"Nothing was imported."});
  } else {
    out.error("import-package", {}, "the package cannot be imported: " + error.what,
              {"Have it exported again; nothing was imported."});
  }
  const auto left = list_folder(session->store.staging_fd.get(), error);
  for (const Entry& e : left.value_or(std::vector<Entry>{}))
    remove_all_beneath(session->store.staging_fd.get(), e.name, error);
  return result;
}

}  // namespace ohmleaf::archive
