#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "cli/environment.h"
#include "cli/style.h"

namespace ohmleaf::cli {

/// Plain questions and answers, one line each: nothing is moved, overwritten or cleared, so that
/// it works over any connection, on a phone's screen, and with answers piped in.
class Dialogue {
 public:
  Dialogue(Environment& environment, Style style) : e_(environment), style_(style) {}

  void heading(std::string_view text);  ///< with an empty line above
  /// "limit    ≤ 1.37 Ω", wrapped; nothing for an empty value.
  void detail(std::string_view label, std::string_view value);
  void line(std::string_view text, Tone tone = Tone::plain);
  void raw(std::string_view text) { put(text); }  ///< set already, and safe for a terminal
  /// The answer, without outer spaces. Nothing: the input ended, Ctrl-C was pressed, or the
  /// output is closed.
  std::optional<std::string> ask(std::string_view prompt);

  bool open() const { return open_; }  ///< what is said still arrives
  bool interrupted() const;
  int width() const { return text_width(e_); }
  const Style& style() const { return style_; }

 private:
  void put(std::string_view text);
  Environment& e_;
  Style style_;
  bool open_ = true;
};

}  // namespace ohmleaf::cli
