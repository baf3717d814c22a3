#pragma once
#include <array>
#include <span>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "base/toml.h"
#include "checks/finding.h"
#include "layout/frames.h"

namespace ohmleaf::layout {

/// The steps of the type scale.
enum class Step { title, section, heading, lead, body, small, tiny };
inline constexpr int kSteps = 7;

/// Size of a step and the height of its line, which is a multiple of the grid.
struct TypeSize {
  Pt size, leading;
  friend bool operator==(const TypeSize&, const TypeSize&) = default;
};

/// Colours and type. Text colours keep 4.5:1 against paper and ground (checked when read).
struct Theme {
  Color paper{255, 255, 255}, ground{0xF3, 0xF5, 0xF4}, line{0xC6, 0xCE, 0xCB};
  Color ink{0x1A, 0x20, 0x22}, muted{0x55, 0x60, 0x62}, accent{0x1F, 0x5F, 0x5B};
  Color pass{0x1F, 0x5F, 0x5B};  ///< not the accent: a firm whose colour is red passes in green
  Color fail{0xA3, 0x1D, 0x12}, borderline{0x7A, 0x50, 0x00}, doubtful{0x5A, 0x36, 0x8E};
  Color draft{0xF3, 0xE4, 0xE1};  ///< of the large word behind a draft
  Pt grid{3000};
  std::array<TypeSize, kSteps> scale{{{20_pt, 24_pt},
                                      {12.5_pt, 18_pt},
                                      {9.5_pt, 12_pt},
                                      {10.5_pt, 15_pt},
                                      {8.8_pt, 12_pt},
                                      {7.4_pt, 9_pt},
                                      {6.6_pt, 9_pt}}};

  TypeSize type(Step step) const { return scale[static_cast<std::size_t>(step)]; }
  Color of(checks::Verdict verdict) const;
  friend bool operator==(const Theme&, const Theme&) = default;
};

/// No text is printed smaller.
inline constexpr Pt kSmallestText = 6.5_pt;

/// Contrast of two colours in hundredths (450 = 4.5:1), by the relative luminance of WCAG 2.1.
int contrast(Color a, Color b);
std::optional<Color> parse_color(std::string_view text);
/// The nearest darker shade that keeps 4.5:1 on paper and ground.
Color readable(Color color, const Theme& theme);

/// What a theme may set beside its grid: a colour, or a size of type.
struct ThemeKey {
  std::string_view name, help;
  bool color = false;
};
std::span<const ThemeKey> theme_keys();

/// Reads the keys of a `[theme]` table over the defaults. Errors have their places.
bool read_theme(const TomlNode& table, Theme& theme, Diagnostics& out);
/// Reads a file that holds only a theme (`forms/theme-*.toml`).
std::optional<Theme> load_theme(const Sources& sources, SourceId source, Diagnostics& out);

}  // namespace ohmleaf::layout
