#include "base/toml_mend.h"

#include <algorithm>

#include "base/text.h"
#include "base/toml_slip.h"

namespace ohmleaf {
namespace {

constexpr std::size_t kMostMends = 100;
/// Every mend parses the whole text again: in a file larger than any job is, the first slip ends
/// it.
constexpr std::size_t kMostBytes = 256u << 10;

bool duplicate(std::string_view description) {
  return description.find("cannot redefine existing") != std::string_view::npos;
}

}  // namespace

bool TomlMender::touched(Span span) const {
  return std::any_of(mends_.begin(), mends_.end(), [&](std::uint32_t at) {
    return at >= span.begin && at < std::max(span.end, span.begin + 1);
  });
}

bool TomlMender::mend(std::uint32_t line, std::uint32_t at, std::string_view description) {
  const auto again = std::count(lines_.begin(), lines_.end(), line);
  if (again == 0 && !report(line, at, description)) return false;
  if (again > 1 || lines_.size() >= kMostMends || text_.size() > kMostBytes) return false;
  lines_.push_back(line);
  const std::uint32_t begin = original_.byte_at(line, 1);
  const std::string_view words = original_.line(line);
  if (again > 0 || duplicate(description) || !value_start(words)) {
    // No value to replace: the whole line becomes a comment.
    if (words.empty()) return false;
    std::fill_n(text_.begin() + begin, words.size(), ' ');
    text_[begin] = '#';
    return true;
  }
  return stand_in(line);
}

/// Says what is wrong with the line. False where the trouble is not within this line.
bool TomlMender::report(std::uint32_t line, std::uint32_t at, std::string_view description) {
  const std::uint32_t begin = original_.byte_at(line, 1);
  const std::string_view words = original_.line(line);
  const auto line_end = begin + static_cast<std::uint32_t>(words.size());
  const TomlState before = state_before(text_, begin), after = state_before(text_, line_end);
  const auto open = [&](std::size_t where, std::uint32_t length, const char* message,
                        const char* hint) {
    const auto b = static_cast<std::uint32_t>(where);
    out_.error("not-closed", {id_, b, b + length}, message, {hint});
    return false;
  };
  if (before.in_text)
    return open(
        before.text_opened, 3, "the text that opens here is not closed properly",
        "Close it with the same three quotation marks, and write \\ as \\\\ within \"\"\".");
  if (before.depth > 0)
    return open(before.opened, 1, "the bracket that opens here is not closed properly",
                "Close the list with ], with a comma between its values.");
  const auto found = find_slip(words);
  if (found) {
    const auto b = begin + static_cast<std::uint32_t>(found->at);
    out_.error(found->id, {id_, b, b + static_cast<std::uint32_t>(found->length)}, found->message,
               {found->hint});
    return after.depth == 0 && !after.in_text;
  }
  if (duplicate(description)) {
    const bool header = !value_start(words);
    const auto indent = static_cast<std::uint32_t>(words.find_first_not_of(" \t"));
    out_.error("duplicate-key", {id_, begin + indent, line_end},
               header ? "this heading stands twice" : "this key stands twice in the same table",
               {header ? "Take one of the two out; a list of several has double brackets: [[…]]."
                       : "Take one of the two lines out."});
    return !header;
  }
  const auto end = static_cast<std::uint32_t>(original_.text().size());
  out_.error("toml-syntax", {id_, std::min(at, end), std::min(at + 1, end)},
             "this line is not valid TOML: " + visible(description),
             {"Each line is: key = value. Text stands in quotation marks, numbers do not."});
  return value_start(words) && after.depth == 0 && !after.in_text;
}

/// Replaces the value by a 0, or a decimal comma by its point.
bool TomlMender::stand_in(std::uint32_t line) {
  const std::uint32_t begin = original_.byte_at(line, 1);
  const std::string_view words = original_.line(line);
  const auto found = find_slip(words);
  if (found && found->id == "decimal-comma") {
    const auto at = begin + static_cast<std::uint32_t>(found->at);
    text_[at] = '.';
    mends_.push_back(at);
    return true;
  }
  const std::size_t from = *value_start(words);
  if (from >= words.size()) {
    std::fill_n(text_.begin() + begin, words.size(), ' ');
    text_[begin] = '#';
    return true;
  }
  std::fill_n(text_.begin() + begin + static_cast<std::ptrdiff_t>(from), words.size() - from, ' ');
  const auto at = begin + static_cast<std::uint32_t>(from);
  text_[at] = '0';
  mends_.push_back(at);
  return true;
}

}  // namespace ohmleaf
