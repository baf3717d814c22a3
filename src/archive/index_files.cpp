#include "archive/index.h"
#include "base/text.h"

// What needs no database.

namespace ohmleaf::archive {

std::string fact_of(const IssueRecord& record, std::string_view name) {
  for (const auto& [key, value] : record.facts)
    if (key == name) return value;
  return {};
}

std::string haystack(const IssueRecord& record) {
  std::string text = fold_for_search(record.number) + "\n" + fold_for_search(record.job_id);
  for (const auto& [key, value] : record.facts) text += "\n" + fold_for_search(value);
  return text;
}

void Index::remove(const Store& store) {
  FsError ignored;
  for (const char* suffix : {"", "-journal", "-wal", "-shm"}) {
    const std::string name = std::string(kIndexFile) + suffix;
    if (exists_in(store.work_fd.get(), name)) {
      remove_all_beneath(store.work_fd.get(), name, ignored);
    }
  }
}

void Index::doubt(const Store& store) {
  const std::unique_ptr<Index> index = open(store, false);
  if (index && !index->drop_stamp()) remove(store);
}

}  // namespace ohmleaf::archive
