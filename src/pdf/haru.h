#pragma once
#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "layout/frames.h"
#include "pdf/content.h"
#include "pdf/pdf.h"
#include "pdf/structure.h"
#include "pdf/text_check.h"

namespace ohmleaf::pdf {

/// All that a file is made of, worked out and checked: what is left is to write objects.
struct Parts {
  const layout::Document& document;
  const Meta& meta;
  const Subsets& subsets;
  std::string title;
  std::string xmp;
  std::vector<PageContent> pages;
  std::vector<Element> elements;  ///< one for each node of the document
};

/// The file's bytes; nothing after any failure of the library, which is reported.
std::optional<std::string> write_file(const Parts& parts, Diagnostics& out);

}  // namespace ohmleaf::pdf
