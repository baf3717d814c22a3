#include <algorithm>
#include <map>
#include <set>

#include "archive/chain.h"
#include "base/digest.h"
#include "base/text.h"

namespace ohmleaf::archive {
namespace {

constexpr const char* kFromCopy = "put the file back from a copy of the archive made earlier";
constexpr const char* kMoveOut = "move it out of the archive";

/// What OCFL only recommends and we neither do nor need: a URI as id, an address for each user.
bool is_of_no_matter(const ocfl::Finding& f) {
  return f.code == "W005" || f.code == "W008" || f.code == "W009";
}

class Verifier {
 public:
  Verifier(const Store& store, const VerifyOptions& options)
      : store_(store), options_(options), only_(ascii_lower(options.only_number.value_or(""))) {}

  VerifyReport run();

 private:
  void problem(Damage damage, const std::string& number, const std::string& file, std::string what,
               std::string remedy);
  void check_root_entries(const std::vector<Entry>& entries);
  void check_object(const std::string& id, bool wanted);
  void read_records(const std::string& id, const std::vector<Entry>& entries,
                    std::vector<Link>& records);
  void check_our_form(int folder, const std::string& id, const std::string& number,
                      const std::vector<Entry>& entries);
  void check_content_lists(const std::vector<Link>& records, const ocfl::ObjectCheck& check);
  std::string remedy_for(const ocfl::Finding& finding, const ocfl::ObjectCheck& check) const;
  void check_root_files();
  void check_mark();

  const Store& store_;
  const VerifyOptions& options_;
  const std::string only_;
  VerifyReport report_;
  std::vector<Link> links_;
  std::set<std::pair<std::string, std::string>> named_;  ///< file and what, to say it once
};

void Verifier::problem(Damage damage, const std::string& number, const std::string& file,
                       std::string what, std::string remedy) {
  if (!named_.insert({file, what}).second) return;
  report_.problems.push_back({damage, number, file, std::move(what), std::move(remedy)});
}

void Verifier::check_root_entries(const std::vector<Entry>& entries) {
  for (const File& file : root_files()) {
    const bool there = std::any_of(entries.begin(), entries.end(), [&](const Entry& e) {
      return e.name == file.name && e.kind == EntryKind::file;
    });
    if (!there) problem(Damage::missing, "", file.name, "the file is missing", kFromCopy);
  }
  for (const Entry& e : entries) {
    const bool ours = e.name == kRootDeclaration || e.name == kLayoutFile || e.name == kReadme;
    const bool object =
        e.kind == EntryKind::folder && parse_number(e.name) && ascii_lower(e.name) == e.name;
    if (!object && (!ours || e.kind != EntryKind::file)) {
      problem(Damage::extra, "", e.name, "does not belong in the archive", kMoveOut);
    }
  }
}

void Verifier::read_records(const std::string& id, const std::vector<Entry>& entries,
                            std::vector<Link>& records) {
  const int highest = highest_version(entries);
  for (const Entry& e : entries) {
    const std::optional<int> version = ocfl::version_number(e.name);
    if (!version || version_name(*version) != e.name || *version > highest) continue;
    Problem why;
    std::optional<Latest> record = read_version_record(store_, id, *version, why);
    if (!record) {
      problem(why.damage, id, why.file.string(), why.what, why.remedy);
      continue;
    }
    if (record->record.kind == RecordKind::expiry) {
      const IssueRecord& r = record->record;
      report_.removed.push_back({r.number, r.issued, r.person, r.reason});
    }
    records.push_back({id, *version, record->digest, std::move(record->record)});
  }
}

std::string Verifier::remedy_for(const ocfl::Finding& finding,
                                 const ocfl::ObjectCheck& check) const {
  if (finding.damage == Damage::extra) return kMoveOut;
  const std::string inventory(ocfl::kInventory), side(ocfl::kSidecar);
  if ((finding.file == inventory || finding.file == side) && check.inventory) {
    const std::string head = check.inventory->head;
    return "put it back from a copy of the archive, or copy " + inventory + " and " + side +
           " from the job's newest version folder (" + visible(head) +
           ") if `sha512sum -c` accepts them there";
  }
  for (const auto& [digest, paths] :
       check.inventory ? check.inventory->manifest : ocfl::PathsByDigest{}) {
    if (std::find(paths.begin(), paths.end(), finding.file) == paths.end()) continue;
    return std::string(kFromCopy) + "; its SHA-512 digest begins " + visible(digest.substr(0, 32));
  }
  return kFromCopy;
}

/// The record lists exactly what the inventory lists; neither can gain or lose a file alone.
void Verifier::check_content_lists(const std::vector<Link>& records,
                                   const ocfl::ObjectCheck& check) {
  for (const Link& link : records) {
    std::set<std::string> recorded{std::string(kRecordFile)}, listed;
    for (const KeyedDigest& f : link.record.files) recorded.insert(f.name);
    for (const ocfl::Version& v : check.inventory->versions) {
      if (v.name != version_name(link.version)) continue;
      for (const auto& [digest, names] : v.state) listed.insert(names.begin(), names.end());
    }
    if (recorded != listed) {
      problem(Damage::malformed, link.record.number, link.file(),
              "the record and the inventory do not list the same files", kFromCopy);
    }
  }
}

/// OCFL leaves some choice where we have none, and what it allows may yet be damage: a digest in
/// capitals, an object of another version of OCFL, folders for logs and extensions.
void Verifier::check_our_form(int folder, const std::string& id, const std::string& number,
                              const std::vector<Entry>& entries) {
  if (!exists_in(folder, ocfl::kObjectDeclaration)) {
    problem(Damage::missing, number, id + "/" + std::string(ocfl::kObjectDeclaration),
            "the declaration is missing", kFromCopy);
  }
  std::vector<std::string> places{""};
  for (const Entry& e : entries) {
    if (e.name == "logs" || e.name == "extensions") {
      problem(Damage::extra, number, id + "/" + e.name, "does not belong in the folder of a job",
              kMoveOut);
    }
    if (ocfl::version_number(e.name)) places.push_back(e.name + "/");
  }
  for (const std::string& place : places) {
    FsError error;
    const std::string file = place + std::string(ocfl::kSidecar);
    const auto inventory =
        read_beneath(folder, place + std::string(ocfl::kInventory), kMaxDescription, error);
    const auto sidecar = read_beneath(folder, file, 4096, error);
    if (!inventory || !sidecar) continue;
    // Only what OCFL lets pass: where the digests differ, it has said so.
    const std::string wanted = ocfl::sidecar(*inventory);
    if (*sidecar != wanted && ascii_lower(sidecar->substr(0, 128)) == wanted.substr(0, 128)) {
      problem(Damage::altered, number, id + "/" + file, "is not written as it was filed",
              kFromCopy);
    }
  }
}

void Verifier::check_object(const std::string& id, bool wanted) {
  FsError error;
  const Fd folder = open_folder_beneath(store_.root_fd.get(), id, error);
  const auto entries = folder.valid() ? list_folder(folder.get(), error) : std::nullopt;
  if (!entries) {
    problem(Damage::unreadable, id, id, error.what, kFromCopy);
    return;
  }
  std::vector<Link> records;
  read_records(id, *entries, records);
  for (const Link& link : records) {
    links_.push_back(link);
    add_removed(link, links_);
  }
  if (!wanted) return;
  ++report_.objects;
  report_.versions += static_cast<std::size_t>(highest_version(*entries));
  const auto on_content = [&](const std::string& path, const std::string& bytes) {
    for (const Link& link : records) {
      const std::string content = version_name(link.version) + "/content/";
      if (!path.starts_with(content) || path.substr(content.size()) == kRecordFile) continue;
      const KeyedDigest* file = find_file(link.record, path.substr(content.size()));
      if (file && file->hmac != keyed_digest(link.record, bytes)) {
        problem(Damage::altered, link.record.number, id + "/" + path,
                "the file is not the one that was filed", kFromCopy);
      }
    }
  };
  const std::string number = records.empty() ? id : records.back().record.number;
  const ocfl::ObjectCheck check = ocfl::check_object(folder.get(), on_content);
  report_.files += check.files;
  report_.bytes += check.bytes;
  for (const ocfl::Finding& f : check.findings) {
    if (is_of_no_matter(f)) continue;
    problem(f.damage, number, f.file.empty() ? id : id + "/" + f.file, f.what,
            remedy_for(f, check));
  }
  check_our_form(folder.get(), id, number, *entries);
  if (!check.inventory) return;
  if (check.inventory->id != id) {
    problem(Damage::malformed, number, id + "/" + std::string(ocfl::kInventory),
            "the inventory is of \"" + visible(check.inventory->id) + "\"", kFromCopy);
  }
  check_content_lists(records, check);
}

void Verifier::check_root_files() {
  if (links_.empty() || links_.front().record.sequence != 1) return;
  const IssueRecord& first = links_.front().record;
  for (const auto& [name, digest] : first.root_files) {
    FsError error;
    if (!exists_in(store_.root_fd.get(), name)) continue;  // named as missing already
    const auto bytes = read_beneath(store_.root_fd.get(), name, kMaxDescription, error);
    if (!bytes) {
      problem(Damage::unreadable, "", name, error.what, kFromCopy);
    } else if (sha512_hex(*bytes) != digest) {
      problem(Damage::altered, "", name, "the file is not the one that the archive was begun with",
              kFromCopy);
    }
  }
}

/// Not a proof (it is a cache that anyone may delete), but it sees the newest folder go missing.
void Verifier::check_mark() {
  const std::optional<Mark> mark = read_mark(store_);
  if (!mark) return;
  const bool there = std::any_of(links_.begin(), links_.end(), [&](const Link& l) {
    return l.record.sequence == mark->sequence && l.digest == mark->digest;
  });
  if (!there) {
    problem(
        Damage::missing, mark->number, ascii_lower(mark->number),
        "the newest record written here, of " + visible(mark->number) + ", is missing or changed",
        "put the newest copy of the archive back; if an older one was put back on purpose, "
        "delete latest.json in the folder beside the archive");
  }
}

VerifyReport Verifier::run() {
  FsError error;
  const auto entries = list_folder(store_.root_fd.get(), error);
  if (!entries) {
    problem(Damage::unreadable, "", "", error.what, "mend access to the disk");
    return std::move(report_);
  }
  check_root_entries(*entries);
  std::vector<std::string> ids;
  for (const Entry& e : *entries) {
    if (e.kind == EntryKind::folder && parse_number(e.name)) ids.push_back(e.name);
  }
  for (std::size_t i = 0; i < ids.size(); ++i) {
    const bool in_part = i % options_.parts == options_.part - 1;
    check_object(ids[i], only_.empty() ? in_part : only_ == ids[i]);
    if (options_.progress) options_.progress(i + 1, ids.size());
  }
  if (!only_.empty() && report_.objects == 0) {
    problem(Damage::missing, only_, only_, "there is no such certificate in the archive",
            "put the folder back from a copy of the archive, or look for another number");
  }
  const bool records_read =
      report_.problems.empty() ||
      std::none_of(report_.problems.begin(), report_.problems.end(),
                   [](const Problem& p) { return p.file.filename() == kRecordFile; });
  const std::size_t before = report_.problems.size();
  check_chain(links_, report_.problems);
  const bool linked = report_.problems.size() == before;
  check_root_files();
  check_mark();
  if (!links_.empty()) report_.head = links_.back().digest;
  if (options_.witness) {
    report_.witness_holds = check_witness(store_, links_, *options_.witness, report_.problems);
  }
  report_.chain_holds = linked && records_read;
  report_.digests_hold =
      std::none_of(report_.problems.begin(), report_.problems.end(),
                   [](const Problem& p) { return p.damage != Damage::chain_broken; });
  return std::move(report_);
}

}  // namespace

VerifyReport verify_store(const Store& store, const VerifyOptions& options) {
  return Verifier(store, options).run();
}

VerifyReport Archive::verify(const VerifyOptions& options, Diagnostics& out) const {
  const std::optional<Witness>& witness = options.witness;
  if (witness &&
      (witness->head.size() < 32 || !is_hex(ascii_lower(witness->head), witness->head.size()))) {
    out.error("witness-head", {}, "the head read off the witness is not 32 or more hex digits",
              {"Read it off the last page again; digits are 0 to 9 and a to f."});
    return {};
  }
  if (options.part < 1 || options.part > options.parts) {
    out.error("verify-part", {}, "there is no such part", {"Say 1/12, 2/12 … to 12/12."});
    return {};
  }
  const std::optional<Store> store = open_store(root_, out);
  if (!store) return {};
  if (!store->root_fd.valid()) {
    out.error("no-archive", {}, "there is no archive at \"" + visible(root_.string()) + "\"",
              {"The first issue makes it; check the path."});
    return {};
  }
  VerifyReport report = verify_store(*store, options);
  if (report.problems.empty() || !store->work_fd.valid()) return report;
  // A command at work between two steps looks like damage: look again while nobody writes.
  FsError error;
  const auto lock = Lock::take(store->work_fd.get(), kLockFile, 10'000, error);
  if (lock) report = verify_store(*store, options);
  return report;
}

VerifyReport Archive::verify_with(const std::optional<std::string>& only_number,
                                  const std::optional<Witness>& witness, Diagnostics& out) const {
  VerifyOptions options;
  options.only_number = only_number;
  options.witness = witness;
  return verify(options, out);
}

VerifyReport Archive::verify(const std::optional<std::string>& only_number,
                             const std::optional<std::pair<std::string, std::string>>& witness,
                             Diagnostics& out) const {
  std::optional<Witness> full;
  if (witness) full = Witness{witness->first, witness->second, {}, {}};
  return verify_with(only_number, full, out);
}

}  // namespace ohmleaf::archive
