#include "pdf/text_check.h"

#include <fmt/format.h>

#include <set>
#include <string>
#include <utility>

#include "base/text.h"
#include "pdf/haru.h"
#include "pdf/text_string.h"

namespace ohmleaf::pdf {
namespace {

using layout::Face;

/// A string of PDF/A-3 has at most 32767 bytes, two for each UTF-16 unit after the mark.
constexpr std::size_t kLongestText = 16000;
constexpr std::size_t kLongestName = 127;
constexpr std::size_t kExcerpt = 40;

std::string code_name(char32_t code_point) {
  return fmt::format("U+{:04X}", static_cast<std::uint32_t>(code_point));
}

/// The start of a text, for a message about a byte that shows nothing by itself.
std::string excerpt(std::string_view text) {
  std::u32string characters = decode_utf8(text.substr(0, 4 * kExcerpt));
  if (characters.size() > kExcerpt) characters.resize(kExcerpt);
  std::string shown;
  for (const char32_t c : characters) append_utf8(shown, c);
  return visible(shown);
}

class TextCheck {
 public:
  TextCheck(Subsets& subsets, Diagnostics& out) : subsets_(subsets), out_(out) {}

  void drawn(const layout::TextFrame& frame) {
    const auto index = static_cast<std::size_t>(frame.face);
    if (frame.text.empty()) return;
    if (index >= subsets_.size()) return fail("pdf-face", "text asks for a face that is not there");
    if (is_plain_ascii(frame.text)) {
      plain(frame.text, subsets_[index], frame.face);
      return;
    }
    if (!valid_utf8(frame.text, "the text of a page")) return;
    subsets_[index].use(U' ');  // may be set between lines (content.h)
    for (const char32_t c : code_points(frame.text)) {
      if (is_forbidden_in_text(c)) {
        forbidden(c, "the text of a page");
      } else if (!subsets_[index].use(c)) {
        missing(c, frame.face);
      }
    }
  }

  /// What most text is: valid, and with nothing that is forbidden.
  void plain(std::string_view text, Subset& subset, Face face) {
    subset.use(U' ');
    for (const char one : text) {
      const auto c = static_cast<unsigned char>(one);
      if (!subset.use(c)) missing(c, face);
    }
  }

  /// Text that is stored but not drawn. `what` names it in messages.
  void stored(std::string_view text, std::string_view what) {
    if (text.empty() || !valid_utf8(text, what)) return;
    const std::u32string characters = decode_utf8(text);
    if (characters.size() > kLongestText) {
      fail("pdf-text-length",
           fmt::format("{} has {} characters; a PDF/A file takes {} in one piece", what,
                       characters.size(), kLongestText));
    }
    for (const char32_t c : characters) {
      const bool becomes_space = c == U'\n' || c == U'\r' || c == U'\t';  // see one_line
      if (is_forbidden_in_text(c) && !becomes_space) forbidden(c, what);
    }
  }

  void attachments(const std::vector<Attachment>& attachments) {
    std::set<std::string> names;
    for (const Attachment& a : attachments) {
      stored(a.name, "the name of an attachment");
      stored(a.description, "the description of an attachment");
      const bool plain = !a.name.empty() && a.name.find_first_of("/\\\n\r\t") == std::string::npos;
      if (!plain) {
        fail("pdf-attachment", fmt::format("an attachment is named \"{}\"; a name is not empty and "
                                           "has no slash",
                                           visible(a.name)));
      }
      if (!names.insert(a.name).second) {
        fail("pdf-attachment", fmt::format("two attachments are named \"{}\"", visible(a.name)));
      }
      if (!media_type(a.media_type)) {
        fail("pdf-attachment", fmt::format("attachment \"{}\" has the media type \"{}\"; one like "
                                           "application/toml is needed",
                                           visible(a.name), visible(a.media_type)));
      }
    }
  }

  bool ok() const { return ok_; }

 private:
  static bool media_type(std::string_view type) {
    const std::size_t slash = type.find('/');
    if (slash == 0 || slash == std::string_view::npos || slash + 1 == type.size()) return false;
    if (type.size() > kLongestName || type.find('/', slash + 1) != std::string_view::npos) {
      return false;
    }
    for (const char c : type) {
      const bool token = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
                         (c >= '0' && c <= '9') ||
                         std::string_view("/+-._").find(c) != std::string_view::npos;
      if (!token) return false;
    }
    return true;
  }

  bool valid_utf8(std::string_view text, std::string_view what) {
    const auto bad = first_invalid_utf8(text);
    if (!bad) return true;
    fail("pdf-text",
         fmt::format("{} is not valid UTF-8 at byte {} (\"{}\")", what, *bad, excerpt(text)),
         "save the file as UTF-8");
    return false;
  }

  void forbidden(char32_t c, std::string_view what) {
    if (!forbidden_.insert(c).second) return;
    fail("pdf-text",
         fmt::format("{} holds the character {}, which cannot be printed", what, code_name(c)),
         "take the character out, or write what it should show");
  }

  void missing(char32_t c, Face face) {
    if (!missing_.insert({c, face}).second) return;
    std::string shown;
    append_utf8(shown, c);
    fail("pdf-glyph",
         fmt::format("the font {} has no glyph for \"{}\" ({})", font_name(face), shown,
                     code_name(c)),
         "write it with letters, signs or words that the font has");
  }

  void fail(std::string id, std::string message, std::string hint = {}) {
    ok_ = false;
    std::vector<std::string> hints;
    if (!hint.empty()) hints.push_back(std::move(hint));
    out_.error(std::move(id), {}, std::move(message), std::move(hints));
  }

  Subsets& subsets_;
  Diagnostics& out_;
  std::set<char32_t> forbidden_;
  std::set<std::pair<char32_t, Face>> missing_;
  bool ok_ = true;
};

}  // namespace

std::string one_line(std::string_view text) {
  std::string line(text);
  for (char& c : line) {
    if (c == '\n' || c == '\r' || c == '\t') c = ' ';
  }
  return line;
}

bool check_texts(const layout::Document& document, const Meta& meta, Subsets& subsets,
                 Diagnostics& out) {
  TextCheck check(subsets, out);
  for (const layout::Page& page : document.pages) {
    for (const layout::Frame& frame : page.frames) {
      if (const auto* text = std::get_if<layout::TextFrame>(&frame)) check.drawn(*text);
    }
  }
  for (const layout::Node& node : document.nodes) {
    check.stored(node.alt, "the description of a figure");
  }
  for (const layout::Bookmark& bookmark : document.bookmarks) {
    check.stored(bookmark.title, "a bookmark");
  }
  check.stored(document.language, "the language");
  check.stored(meta.title.empty() ? document.title : meta.title, "the title");
  check.stored(meta.author, "the author");
  check.stored(meta.subject, "the subject");
  check.stored(meta.keywords, "the list of keywords");
  check.stored(meta.creator, "the name of the program");
  check.attachments(meta.attachments);
  return check.ok();
}

}  // namespace ohmleaf::pdf
