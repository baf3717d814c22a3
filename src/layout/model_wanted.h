#pragma once
#include <set>
#include <string>
#include <string_view>

#include "layout/form.h"
#include "layout/model.h"

namespace ohmleaf::layout {

/// What a record holds only where a form asks for it: the rest is never made.
class Wanted {
 public:
  /// Everything.
  Wanted() = default;
  explicit Wanted(std::span<const Form* const> forms);

  /// Whether a path that is bound has this step, and not as its first: ".zs.source", not ".source".
  bool inner_step(std::string_view name) const { return everything_ || inner_.count(name) > 0; }
  /// Whether something at or below this path from the root is bound, or a group that it is in.
  bool path(std::string_view path) const;

 private:
  bool everything_ = true;
  std::set<std::string, std::less<>> inner_, paths_;
};

record::View document_view(const record::Job& job, const record::Installer& installer,
                           const checks::Report& report, const IssueFacts& facts,
                           const Wanted& wanted);

}  // namespace ohmleaf::layout
