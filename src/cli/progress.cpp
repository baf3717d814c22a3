#include "cli/progress.h"

#include <fmt/format.h>

#include <algorithm>

namespace ohmleaf::cli {
namespace {

constexpr std::size_t kBar = 30;

}  // namespace

std::function<void(std::size_t, std::size_t)> progress_bar(Environment& e, std::string what) {
  if (!e.err_is_terminal) return {};
  return [&e, what = std::move(what), last = std::size_t{1000}](std::size_t done,
                                                                std::size_t total) mutable {
    const std::size_t percent = total == 0 ? 100 : std::min<std::size_t>(100, done * 100 / total);
    if (percent == last && done != total) return;
    last = percent;
    const std::size_t full = percent * kBar / 100;
    std::string bar(full, '#');
    bar.append(kBar - full, '.');
    const std::string line = fmt::format("{} [{}] {:3} %", what, bar, percent);
    e.err("\r" + line);
    if (done >= total) e.err("\r" + std::string(line.size(), ' ') + "\r");
  };
}

}  // namespace ohmleaf::cli
