#pragma once
#include <algorithm>
#include <cstddef>
#include <deque>
#include <memory>
#include <mutex>

namespace ohmleaf {

/// What this process made last, `Most` of them, for the jobs that follow. Any thread may ask.
template <class T, std::size_t Most>
class Kept {
 public:
  /// One for which `same` holds; null where there is none.
  template <class Same>
  std::shared_ptr<const T> find(Same same) const {
    const std::lock_guard lock(mutex_);
    const auto it =
        std::find_if(kept_.begin(), kept_.end(), [&](const auto& kept) { return same(*kept); });
    return it == kept_.end() ? nullptr : *it;
  }
  void keep(std::shared_ptr<const T> made) {
    const std::lock_guard lock(mutex_);
    if (kept_.size() == Most) kept_.pop_front();
    kept_.push_back(std::move(made));
  }

 private:
  mutable std::mutex mutex_;
  std::deque<std::shared_ptr<const T>> kept_;
};

}  // namespace ohmleaf
