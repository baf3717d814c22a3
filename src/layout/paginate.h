#pragma once
#include <vector>

#include "layout/flow.h"
#include "layout/furniture.h"

namespace ohmleaf::layout {

/// Places the strips on pages. Strips that stand together move together where a page has room for
/// them; the headings of a table that goes on are repeated. False after an error that names the
/// block of a strip that no page has room for.
bool paginate(Flow flow, const std::vector<Furniture>& furniture, Document& document,
              Diagnostics& out);

}  // namespace ohmleaf::layout
