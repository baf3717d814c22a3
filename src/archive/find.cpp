#include <algorithm>

#include "archive/index.h"
#include "base/text.h"

namespace ohmleaf::archive {
namespace {

/// Up to so many hits are read again from the files: an index may be old, a record never is.
constexpr std::size_t kConfirm = 64;

/// A query made ready: folded, with nothing empty in it.
Query folded(const Query& query) {
  Query q;
  q.from = query.from;
  q.to = query.to;
  q.progress = query.progress;
  for (const std::string& word : query.words) {
    std::string text = fold_for_search(word);
    if (!text.empty()) q.words.push_back(std::move(text));
  }
  for (const auto& [name, part] : query.parts) {
    std::string text = fold_for_search(part);
    if (!text.empty()) q.parts.emplace_back(name, std::move(text));
  }
  return q;
}

bool holds_part(const IssueRecord& record, const std::string& name, const std::string& part) {
  const auto in = [&](const std::string& value) {
    return fold_for_search(value).find(part) != std::string::npos;
  };
  if (name == "number") return in(record.number);
  if (name == "job") return in(record.job_id);
  return std::any_of(record.facts.begin(), record.facts.end(),
                     [&](const auto& fact) { return fact.first == name && in(fact.second); });
}

bool holds_parts(const IssueRecord& record, const Query& q) {
  return std::all_of(q.parts.begin(), q.parts.end(),
                     [&](const auto& part) { return holds_part(record, part.first, part.second); });
}

bool holds_all(const IssueRecord& record, const Query& q) {
  const std::string text = haystack(record);
  const std::string day = fact_of(record, "date");
  if ((q.from && day < q.from->iso()) || (q.to && day > q.to->iso())) return false;
  return holds_parts(record, q) &&
         std::all_of(q.words.begin(), q.words.end(),
                     [&](const std::string& word) { return text.find(word) != std::string::npos; });
}

void warn(const std::vector<Problem>& problems, Diagnostics& out) {
  for (const Problem& p : problems) {
    out.warning("archive-damaged", {},
                "\"" + visible(p.file.string()) + "\" is left out: " + visible(p.what),
                {std::string(kRunVerify)});
  }
}

std::optional<std::vector<Latest>> from_index(const Store& store, const Query& query,
                                              Diagnostics& out) {
  std::unique_ptr<Index> index = Index::open(store, false);
  if (!index) return std::nullopt;
  if (!index->in_step(store)) {
    FsError error;
    std::vector<Problem> problems;
    const auto lock = Lock::take(store.work_fd.get(), kLockFile, 0, error);
    if (!lock || !index->sync(store, problems, query.progress)) return std::nullopt;
    warn(problems, out);
  }
  // A part of one fact is a part of all of them: the index narrows, the rows decide.
  std::vector<std::string> words = query.words;
  for (const auto& [name, part] : query.parts) words.push_back(part);
  std::optional<std::vector<Latest>> hits = index->search(words, query.from, query.to);
  if (!hits) return hits;
  std::erase_if(*hits, [&](const Latest& hit) { return !holds_parts(hit.record, query); });
  if (hits->size() > kConfirm) return hits;
  std::vector<Latest> confirmed;
  for (const Latest& hit : *hits) {
    Problem problem;
    std::optional<Latest> real = read_latest(store, hit.id, problem);
    if (!real) {
      warn({problem}, out);
    } else if (holds_all(real->record, query)) {
      confirmed.push_back(std::move(*real));
    }
  }
  return confirmed;
}

std::vector<Latest> from_files(const Store& store, const Query& query, Diagnostics& out) {
  Scan all = scan(store);
  warn(all.problems, out);
  FsError error;
  if (all.objects.size() >= kIndexFrom && store.work_fd.valid()) {
    std::vector<Problem> ignored;
    const auto lock = Lock::take(store.work_fd.get(), kLockFile, 0, error);
    if (lock) Index::renew(store, true, query.progress, ignored);
  }
  std::erase_if(all.objects, [&](const Latest& o) { return !holds_all(o.record, query); });
  std::sort(all.objects.begin(), all.objects.end(),
            [](const Latest& a, const Latest& b) { return a.record.sequence > b.record.sequence; });
  return std::move(all.objects);
}

}  // namespace

Record as_record(const Store& store, const Latest& o) {
  Record r;
  r.number = o.record.number;
  r.revision = o.record.revision;
  r.withdrawn = o.record.kind == RecordKind::withdrawal;
  r.timestamped = o.record.kind == RecordKind::timestamp;
  r.expired = o.record.kind == RecordKind::expiry;
  r.job_id = o.record.job_id;
  r.issued = o.record.issued;
  r.person = o.record.person;
  r.reason = o.record.reason;
  r.replaces = o.record.replaces;
  r.facts = o.record.facts;
  for (const KeyedDigest& f : o.record.files) r.files.emplace_back(f.name, f.bytes);
  r.folder = store.root / o.id / version_name(o.version) / "content";
  return r;
}

std::vector<Record> Archive::search(const Query& query, Diagnostics& out) const {
  const std::optional<Store> store = open_store(root_, out);
  if (!store || !store->root_fd.valid()) return {};
  const Query q = folded(query);
  std::optional<std::vector<Latest>> hits = from_index(*store, q, out);
  if (!hits) hits = from_files(*store, q, out);
  std::vector<Record> found;
  for (const Latest& hit : *hits) found.push_back(as_record(*store, hit));
  return found;
}

std::vector<Record> Archive::find(const std::vector<std::string>& words, Diagnostics& out) const {
  Query query;
  query.words = words;
  return search(query, out);
}

bool Archive::rebuild_index(const Progress& progress, Diagnostics& out) const {
  std::optional<Store> store = open_store(root_, out);
  if (!store) return false;
  if (!store->root_fd.valid() || !open_work(*store, out)) return out.ok();
  FsError error;
  const auto lock = Lock::take(store->work_fd.get(), kLockFile, 60'000, error);
  if (!lock) {
    out.system_error("archive-locked", error.what);
    return false;
  }
  Index::remove(*store);
  std::vector<Problem> problems;
  if (!Index::renew(*store, true, progress, problems)) {
    out.system_error("archive-index", "the search index cannot be made",
                     {"ohmleaf find works without it, only slower."});
    return false;
  }
  warn(problems, out);
  return true;
}

}  // namespace ohmleaf::archive
