#pragma once
#include <string>

namespace ohmleaf::app {

/// Lines of a TOML file that teaches: what is known as values, what is wanted as blanks, what is
/// said of either behind it, in one column.
class Blanks {
 public:
  explicit Blanks(std::size_t column) : column_(column) {}

  void line(const std::string& text) { out_ += text + "\n"; }
  /// The text, and from the column on "# comment".
  void aligned(std::string text, const std::string& comment);
  /// "indent key = value  # comment"
  void value(const std::string& indent, const std::string& key, const std::string& value,
             const std::string& comment);
  /// "indent # key =  # comment": waits for its answer (base/toml_edit.h fills it in). A suggestion
  /// stands in it, to be looked at before the mark is taken off.
  void blank(const std::string& indent, const std::string& key, const std::string& suggestion,
             const std::string& comment);
  const std::string& text() const { return out_; }

 private:
  std::size_t column_;
  std::string out_;
};

}  // namespace ohmleaf::app
