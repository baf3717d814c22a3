#pragma once
#include "layout/model.h"

namespace ohmleaf::layout {

/// What a record holds only where a form asks for it: the rest is never made.
struct Wanted {
  bool evidence = true;  ///< every finding again, for each circuit: half of the record's memory
};
record::View document_view(const record::Job& job, const record::Installer& installer,
                           const checks::Report& report, const IssueFacts& facts,
                           const Wanted& wanted);

}  // namespace ohmleaf::layout
