#include "base/toml_fence.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "base/text.h"
#include "base/toml.h"

namespace ohmleaf {
namespace {

enum : unsigned char { kInCode = 1, kInText = 2, kInComment = 4 };

/// Where a byte only passes by: no sign that is counted, no quotation mark, no control character.
constexpr auto kHarmless = [] {
  std::array<unsigned char, 256> of{};
  for (unsigned c = 0; c < 256; ++c) {
    if ((c < 0x20 && c != '\t') || c == 0x7F) continue;
    of[c] = kInComment;
    if (c != '"' && c != '\'' && c != '\\') of[c] |= kInText;
    if (std::string_view("#\"'.[]{}=,").find(static_cast<char>(c)) == std::string_view::npos)
      of[c] |= kInCode;
  }
  return of;
}();

/// Follows just enough of TOML to know what is inside a string or a comment.
class Fence {
 public:
  Fence(const SourceText& text, SourceId id, Diagnostics& out)
      : t_(text.text()), id_(id), out_(out) {}

  bool run() {
    if (t_.size() > kTomlMaxBytes)
      return refuse("file-too-large", 0, fmt::format("the file is larger than {} MiB", kTomlMaxBytes >> 20),
                    "A job file is a few kilobytes: is this the right file?");
    if (t_.starts_with("\xFF\xFE") || t_.starts_with("\xFE\xFF"))
      return refuse("not-utf8", 0, "the file is saved as UTF-16",
                    "Save it again as UTF-8 text in your editor.");
    if (const auto bad = first_invalid_utf8(t_))
      return refuse("not-utf8", *bad, fmt::format("the byte 0x{:02X} here is not valid UTF-8",
                                                  static_cast<unsigned char>(t_[*bad])),
                    "Save the file again as UTF-8 text in your editor.");
    for (i_ = t_.starts_with("\xEF\xBB\xBF") ? 3 : 0; i_ < t_.size(); ++i_) {
      skip_harmless();
      if (i_ < t_.size() && !step()) return false;
    }
    return true;
  }

 private:
  /// On to the next byte that means something here, or to where a line or a text gets too long:
  /// what `step` would only pass by.
  void skip_harmless() {
    const unsigned char kind = comment_ ? kInComment : quote_ != 0 ? kInText : kInCode;
    std::size_t end = std::min(t_.size(), line_ + kTomlMaxLine);
    if (quote_ != 0) end = std::min(end, opened_ + kTomlMaxText);
    while (i_ < end && (kHarmless[static_cast<unsigned char>(t_[i_])] & kind) != 0) ++i_;
  }

  bool step() {
    const char c = t_[i_];
    const auto u = static_cast<unsigned char>(c);
    if (c == '\n') return end_line();
    if ((u < 0x20 && c != '\t' && c != '\r') || u == 0x7F)
      return refuse("control-character", i_, fmt::format("a control character (0x{:02X}) stands here", u),
                    "Remove it, and check that the file is plain text.");
    if (c == '\r' && (i_ + 1 >= t_.size() || t_[i_ + 1] != '\n'))
      return refuse("control-character", i_, "a carriage return stands here without a line feed",
                    "Save the file with ordinary line endings.");
    if (i_ - line_ > kTomlMaxLine)
      return refuse("line-too-long", line_, fmt::format("this line is longer than {} KiB", kTomlMaxLine >> 10),
                    "Break the text over several lines with \"\"\".");
    if (comment_) return true;
    if (quote_ != 0) return in_string(c);
    return in_code(c);
  }

  bool end_line() {
    line_ = i_ + 1;
    dots_ = 0;
    comment_ = valued_ = false;
    if (quote_ != 0 && !multi_) quote_ = 0;  // the parser will report the open string
    return true;
  }

  bool in_string(char c) {
    if (i_ - opened_ > kTomlMaxText)
      return refuse("text-too-long", opened_, fmt::format("the text that opens here is longer than {} KiB", kTomlMaxText >> 10),
                    "Is a quotation mark missing? A long document goes beside the job, not into it.");
    if (c == '\\' && quote_ == '"') {
      if (i_ + 1 < t_.size() && t_[i_ + 1] != '\n' && t_[i_ + 1] != '\r') ++i_;
    } else if (c == quote_ && (!multi_ || t_.compare(i_, 3, std::string(3, quote_)) == 0)) {
      if (multi_) {
        i_ += 2;
        while (i_ + 1 < t_.size() && t_[i_ + 1] == quote_) ++i_;  // """" closes with one inside
      }
      quote_ = 0;
    }
    return true;
  }

  bool in_code(char c) {
    if (c == '#') {
      comment_ = true;
    } else if (c == '"' || c == '\'') {
      quote_ = c;
      opened_ = i_;
      multi_ = t_.compare(i_, 3, std::string(3, c)) == 0;
      if (multi_) i_ += 2;
    } else if (c == '.') {
      if (++dots_ > kTomlMaxDots)
        return refuse("too-many-dots", i_, fmt::format("this line has more than {} dots outside of text", kTomlMaxDots),
                      "Put text in quotation marks.");
    } else if (c == '=' && depth_ == 0) {
      valued_ = true;
      if (++keys_ > kTomlMaxKeys)
        return refuse("too-many-keys", i_, fmt::format("there are more than {} keys under one heading", kTomlMaxKeys),
                      "No table of a job has as many: is this the right file?");
    } else if (c == '[' || c == '{') {
      if (depth_ == 0 && !valued_) keys_ = 0;  // a heading
      if (++depth_ > kTomlMaxDepth)
        return refuse("too-deep", i_, fmt::format("brackets are nested more than {} deep here", kTomlMaxDepth),
                      "A job needs three levels: is this the right file?");
    } else if ((c == ']' || c == '}') && depth_ > 0) {
      --depth_;
    }
    // A heading makes a table, so it counts like a value.
    if ((c == '=' || c == ',' || c == '[') && ++values_ > kTomlMaxValues)
      return refuse("too-many-values", i_, fmt::format("the file holds more than {} values", kTomlMaxValues),
                    "A job of a whole factory holds fewer: is this the right file?");
    return true;
  }

  bool refuse(const char* id, std::size_t at, std::string message, std::string hint) {
    const auto b = static_cast<std::uint32_t>(at);
    out_.error(id, {id_, b, b + 1}, std::move(message), {std::move(hint)});
    return false;
  }

  const std::string& t_;
  SourceId id_;
  Diagnostics& out_;
  std::size_t i_ = 0, line_ = 0, opened_ = 0;
  int dots_ = 0, depth_ = 0, values_ = 0, keys_ = 0;
  char quote_ = 0;
  bool multi_ = false, comment_ = false;
  bool valued_ = false;  ///< the line has had its equals sign
};

}  // namespace

bool toml_fence(const Sources& sources, SourceId source, Diagnostics& out) {
  return Fence(sources.get(source), source, out).run();
}

}  // namespace ohmleaf
