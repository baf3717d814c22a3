#include <fmt/format.h>

#include <utility>

#include "pdf/pdf.h"
#include "pdf/structure.h"
#include "pdf/text_check.h"
#include "pdf/write.h"
#include "pdf/xmp.h"

namespace ohmleaf::pdf {
namespace {

/// Sides of a page that PDF/A allows, in thousandths of a point.
constexpr std::int32_t kShortestSide = 3'000;
constexpr std::int32_t kLongestSide = 14'400'000;
constexpr int kLargestImageSide = 32'767;
/// Half of the longest string that PDF/A allows (ISO 19005-3, 6.1.13), as it is written.
constexpr std::size_t kMostSealBytes = 16'000;

bool check_sizes(const layout::Document& document, Diagnostics& out) {
  const auto fits = [](layout::Pt side) {
    return side.milli >= kShortestSide && side.milli <= kLongestSide;
  };
  if (document.pages.empty()) {
    out.system_error("pdf-pages", "the layout gave a document without pages");
    return false;
  }
  for (const layout::Page& page : document.pages) {
    if (fits(page.width) && fits(page.height)) continue;
    out.error("pdf-page-size", {}, "a page is smaller or larger than a PDF/A page may be",
              {"a side is between 3 and 14400 points (1 to 5080 mm)"});
    return false;
  }
  return true;
}

bool check_images(const layout::Document& document, Diagnostics& out) {
  for (std::size_t i = 0; i < document.images.size(); ++i) {
    const layout::Image& image = document.images[i];
    const bool sides = image.width > 0 && image.height > 0 && image.width <= kLargestImageSide &&
                       image.height <= kLargestImageSide;
    const std::size_t area =
        sides ? static_cast<std::size_t>(image.width) * static_cast<std::size_t>(image.height) : 0;
    const bool filled = image.pixels.size() == area * (image.grey ? 1 : 3) &&
                        (image.alpha.empty() || image.alpha.size() == area);
    if (sides && filled) continue;
    out.system_error("pdf-image", fmt::format("image {} does not have the pixels it announces", i));
    return false;
  }
  return true;
}

bool check_bookmarks(const layout::Document& document, Diagnostics& out) {
  int level = -1;
  for (const layout::Bookmark& bookmark : document.bookmarks) {
    const bool steps = bookmark.level >= 0 && bookmark.level <= level + 1;
    if (!steps || bookmark.page >= document.pages.size()) {
      out.system_error("pdf-bookmark",
                       "the layout gave a bookmark that skips a level or names no page");
      return false;
    }
    level = bookmark.level;
  }
  return true;
}

/// A field without a line that tells of it, or the reverse, would be a signature that is not seen.
bool check_seal(const layout::Document& document, const Meta& meta, Diagnostics& out) {
  const bool fits = document.seal.has_value() == meta.seal.has_value() &&
                    (!meta.seal || (meta.seal->room > 0 && meta.seal->room <= kMostSealBytes &&
                                    place_of(document, document.seal->line)));
  if (fits) return true;
  out.system_error("pdf-seal", "the signature has no line on the pages, or no room in the file",
                   {"where the signing certificate has many others above it, export it without "
                    "those that everybody has"});
  return false;
}

}  // namespace

std::optional<std::string> render(layout::Document document, const Meta& meta, Diagnostics& out) {
  Subsets subsets = {Subset(layout::Face::regular), Subset(layout::Face::bold),
                     Subset(layout::Face::italic)};
  bool ok = check_texts(document, meta, subsets, out);
  ok = check_structure(document, out) && ok;
  ok = check_sizes(document, out) && ok;
  ok = check_images(document, out) && ok;
  ok = check_bookmarks(document, out) && ok;
  ok = ok && check_seal(document, meta, out);
  if (!ok) return std::nullopt;

  Meta lines = meta;
  lines.title = one_line(meta.title.empty() ? document.title : meta.title);
  for (std::string* text : {&lines.author, &lines.subject, &lines.keywords, &lines.creator}) {
    *text = one_line(*text);
  }
  Parts parts{document,           lines, subsets, xmp_packet(lines, document.language),
              boxes_of(document), {},    {}};
  if (meta.seal) parts.seal_place = place_of(document, document.seal->line);
  return write_file(parts, out);
}

}  // namespace ohmleaf::pdf
