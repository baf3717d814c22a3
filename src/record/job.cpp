#include "record/job.h"

#include "base/text.h"
#include "record/installer.h"

namespace ohmleaf::record {
namespace {

constexpr std::size_t kMaxId = 64;

template <class R>
const R* find_by_id(const std::vector<R>& records, std::string_view id) {
  for (const R& r : records)
    if (r.id == id) return &r;
  return nullptr;
}

/// A folder's name as an id: "9 Tallow Yard (1)" becomes "9-tallow-yard-1".
std::string sanitised(std::string_view name) {
  std::string out;
  for (const char c : fold_for_search(name)) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9');
    if (plain || ((c == '.' || c == '_') && !out.empty()))
      out += c;
    else if (!out.empty() && out.back() != '-')
      out += '-';
  }
  if (out.size() > kMaxId) out.resize(kMaxId);
  while (!out.empty() && (out.back() == '-' || out.back() == '.')) out.pop_back();
  return out.empty() ? "job" : out;
}

}  // namespace

std::string Job::job_id() const {
  return id ? *id : sanitised(folder_name);
}

limits::Edition Job::edition() const {
  if (design_date) return limits::edition_for(*design_date);
  return limits::edition_for(date.value_or(Date{}));
}

const Person* Installer::person(std::string_view id) const {
  return find_by_id(people, id);
}
const Instrument* Installer::instrument(std::string_view id) const {
  return find_by_id(instruments, id);
}
const CatalogueItem* Installer::item(std::string_view id) const {
  return find_by_id(catalogue, id);
}
const CsvMapping* Installer::csv_mapping(std::string_view id) const {
  return find_by_id(csv, id);
}

}  // namespace ohmleaf::record
