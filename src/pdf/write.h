#pragma once
#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.h"
#include "layout/frames.h"
#include "pdf/content.h"
#include "pdf/haru.h"
#include "pdf/pdf.h"
#include "pdf/structure.h"
#include "pdf/text_check.h"

namespace ohmleaf::pdf {

/// All that a file is made of, worked out and checked: what is left is to write objects.
struct Parts {
  layout::Document& document;  ///< a page's frames go once it is written
  const Meta& meta;            ///< every text on one line, the title filled in
  const Subsets& subsets;
  std::string xmp;
  Boxes boxes;
  std::optional<Place> seal_place;
  std::vector<Sequences> sequences{};  ///< of each page, as it is written
};

/// The file's bytes; nothing after any failure of the library, which is reported.
std::optional<std::string> write_file(Parts& parts, Diagnostics& out);

// The parts of the work, one file each. `pages` are the page dictionaries.

/// A Type0 font with its CIDFontType2, its subset and its maps.
Object* write_font(Objects& objects, const Subset& subset);
/// Structure elements, the parent tree and the notes' identifiers: the last objects of a file.
/// `widget`: of the signature field; null where there is none.
void write_structure(Objects& objects, const Parts& parts, const std::vector<Object*>& pages,
                     Object* widget);
/// The one form field that a file of ours may have. Null where it is not to be signed.
Object* write_seal(Objects& objects, const Parts& parts, const std::vector<Object*>& pages);
/// Once the file is whole: says in it which bytes are signed. False where the place is not found.
bool measure_seal(std::string& pdf, std::size_t room);
void write_bookmarks(Objects& objects, const layout::Document& document,
                     const std::vector<Object*>& pages);
void write_attachments(Objects& objects, const Meta& meta);

}  // namespace ohmleaf::pdf
