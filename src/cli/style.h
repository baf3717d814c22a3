#pragma once
#include <string>
#include <string_view>

#include "cli/environment.h"

namespace ohmleaf::cli {

enum class Tone { plain, strong, quiet, bad, doubt, good };

/// Colour only on a terminal, never as the only signal; NO_COLOR and `--color never` switch it off.
class Style {
 public:
  explicit Style(bool on) : on_(on) {}
  std::string operator()(Tone tone, std::string_view text) const;

 private:
  bool on_;
};

/// The width to set text in: the terminal's, between 60 and 100 columns.
int text_width(const Environment& environment);

/// Wraps on words to `width` columns; the first line starts after `first`, the others after `rest`
/// (both are written out). Words longer than a line stand alone. Ends with a line feed.
std::string wrapped(std::string_view text, std::string_view first, std::string_view rest, int width);

/// Pads to `width` columns, counting code points.
std::string padded(std::string_view text, int width);

}  // namespace ohmleaf::cli
