#pragma once
#include <string>
#include <string_view>

namespace ohmleaf::cli {

/// Writes a page in the macros of man(7). Texts are escaped here; blanks at line ends, empty lines
/// and lines that begin with a point never get through.
class Roff {
 public:
  /// `source` and `date` stand in the footer of the page.
  Roff(std::string_view name, int section, std::string_view date, std::string_view source);

  void heading(std::string_view text);     ///< .SH
  void subheading(std::string_view text);  ///< .SS
  void paragraph(std::string_view text);   ///< an empty line in the text begins another
  void line(std::string_view text);        ///< goes on in the paragraph
  /// What stands out on the left, and what is said of it.
  void item(std::string_view tag, std::string_view text);
  void raw(std::string_view macro);      ///< a macro line as it stands
  void example(std::string_view lines);  ///< as it stands, in lines

  const std::string& text() const { return out_; }

 private:
  bool fresh_ = true;  // right behind a heading a paragraph needs no macro
  std::string out_;
};

/// For macro lines that are written by hand: quoted, hyphens as typed ones.
std::string roff_word(std::string_view text);
std::string roff_plain(std::string_view text);  ///< the same without quotation marks

}  // namespace ohmleaf::cli
