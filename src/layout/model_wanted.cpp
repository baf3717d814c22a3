#include "layout/model_wanted.h"

#include <algorithm>

#include "base/text.h"

namespace ohmleaf::layout {
namespace {

bool is_in(std::string_view path, std::string_view group) {
  return path.starts_with(group) && (path.size() == group.size() || path[group.size()] == '.');
}

}  // namespace

Wanted::Wanted(std::span<const Form* const> forms) : everything_(false) {
  for (const Form* form : forms)
    for (const Binding& b : form->bound) {
      bool first = true;
      for (const std::string_view step : split(b.path, '.')) {
        if (!first && !inner_.contains(step)) inner_.emplace(step);
        first = false;
      }
      if (b.up == 0) paths_.insert(b.path);
    }
}

bool Wanted::path(std::string_view path) const {
  return everything_ || std::any_of(paths_.begin(), paths_.end(), [&](const std::string& bound) {
           return is_in(bound, path) || is_in(path, bound);
         });
}

}  // namespace ohmleaf::layout
