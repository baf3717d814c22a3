#include "app/blanks.h"

#include "base/text.h"

namespace ohmleaf::app {

void Blanks::aligned(std::string text, const std::string& comment) {
  if (!comment.empty()) {
    const std::size_t width = code_point_count(text);
    text.append(width < column_ ? column_ - width : 1, ' ');
    text += "# " + comment;
  }
  line(text);
}

void Blanks::value(const std::string& indent, const std::string& key, const std::string& value,
                   const std::string& comment) {
  aligned(indent + key + " = " + value, comment);
}

void Blanks::blank(const std::string& indent, const std::string& key, const std::string& suggestion,
                   const std::string& comment) {
  aligned(indent + "# " + key + " =" + (suggestion.empty() ? "" : " " + suggestion), comment);
}

}  // namespace ohmleaf::app
