#include "archive/contents.h"

#include <algorithm>

#include "base/text.h"

namespace ohmleaf::archive {
namespace {

/// False where the index failed.
bool ask_index(Contents& contents, const Question& q) {
  Index& index = *contents.index;
  Picked newest = index.newest(), of_job{true, {}};
  if (!q.job_id.empty()) of_job = index.of_job(q.job_id);
  const std::optional<Series> series = index.series(ascii_lower(q.prefix));
  if (!newest.good || !of_job.good || !series) return false;
  contents.newest = std::move(newest.one);
  contents.of_job = std::move(of_job.one);
  contents.series = *series;
  return true;
}

}  // namespace

std::optional<Contents> known_contents(const Store& store, const Question& question) {
  // Where locks do not hold, another computer may have written a moment ago.
  if (!store.root_fd.valid() || on_network_file_system(store.root_fd.get())) return std::nullopt;
  Contents contents;
  contents.index = Index::open(store, false);
  const bool known = contents.index && contents.index->in_step(store) &&
                     contents.index->looked_lately() && ask_index(contents, question);
  return known ? std::optional(std::move(contents)) : std::nullopt;
}

Contents look_at_contents(const Store& store, const Question& question) {
  Contents contents;
  contents.index = Index::open(store, false);
  if (contents.index && contents.index->sync(store, contents.problems, {}, Looks::writer) &&
      ask_index(contents, question)) {
    return contents;
  }
  return read_contents(store, question);
}

Contents read_contents(const Store& store, const Question& q) {
  Index::remove(store);
  Scan read = scan(store);
  Contents contents;
  contents.problems = std::move(read.problems);
  const std::string prefix = ascii_lower(q.prefix);
  for (const Latest& o : read.objects) {
    if (!contents.newest || o.record.sequence > contents.newest->record.sequence) {
      contents.newest = o;
    }
    if (!contents.of_job && o.record.job_id == q.job_id) contents.of_job = o;
    // By the folder's name: what is drawn from must be what is there.
    const std::optional<NumberParts> parts = parse_number(o.id);
    if (!parts || parts->prefix != prefix) continue;
    contents.series.highest = std::max(contents.series.highest, parts->sequence);
    ++contents.series.filed;
  }
  std::vector<Problem> ignored;
  if (read.objects.size() >= kIndexFrom) Index::renew(store, true, {}, ignored);
  return contents;
}

bool nobody_else_filed(const Contents& contents, const Store& store) {
  return contents.index && contents.index->same_root(store);
}

bool enter_in_index(Contents& contents, const Store& store, const std::string& id, bool fresh,
                    bool was_alone) {
  if (was_alone && contents.index->add(store, id, fresh)) return true;
  // Another's work is beside ours, or the index is broken, or there is none, or one that this very
  // command made.
  contents.index.reset();
  std::vector<Problem> ignored;
  return Index::renew(store, false, {}, ignored) || Index::remove(store);
}

}  // namespace ohmleaf::archive
