#include <fcntl.h>

#include <cerrno>

#include "archive/index.h"
#include "base/text.h"

// What needs no database.

namespace ohmleaf::archive {
namespace {

/// A file of mode 0600 before SQLite sees the name: it would take the umask's word.
bool make_file(const Store& store) {
  const int fd = ::openat(store.work_fd.get(), std::string(kIndexFile).c_str(),
                          O_WRONLY | O_CREAT | O_NOFOLLOW | O_CLOEXEC, 0600);
  Fd closing(fd);
  return fd >= 0;
}

}  // namespace

std::unique_ptr<Index> Index::open(const Store& store, bool create) {
  if (!store.work_fd.valid() || !store.root_fd.valid()) return nullptr;
  if (!exists_in(store.work_fd.get(), kIndexFile) && (!create || !make_file(store))) return nullptr;
  return open_file(store, create);
}

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

bool Index::remove(const Store& store) {
  bool gone = true;
  for (const char* suffix : {"", "-journal", "-wal", "-shm"}) {
    FsError error;
    const std::string name = std::string(kIndexFile) + suffix;
    gone = (remove_all_beneath(store.work_fd.get(), name, error) || error.code == ENOENT) && gone;
  }
  return gone;
}

bool Index::renew(const Store& store, bool create, const Progress& progress,
                  std::vector<Problem>& problems) {
  std::unique_ptr<Index> index = open(store, create);
  if (!index && create) {
    remove(store);  // broken, or of another program: it is only a cache
    index = open(store, true);
  }
  if (!index) return false;
  if (index->sync(store, problems, progress)) return true;
  index.reset();
  remove(store);
  return false;
}

void Index::doubt(const Store& store) {
  const std::unique_ptr<Index> index = open(store, false);
  if (index && !index->drop_stamp()) remove(store);
}

}  // namespace ohmleaf::archive
