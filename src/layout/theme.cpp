#include "layout/theme.h"

#include <fmt/format.h>

#include <cmath>

#include "base/text.h"

namespace ohmleaf::layout {
namespace {

constexpr int kLeastContrast = 450;

/// Relative luminance in millionths. The curve is WCAG's; rounding here is far below the two
/// decimals that are compared.
std::int64_t luminance(Color c) {
  const auto channel = [](std::uint8_t v) {
    const double s = v / 255.0;
    return s <= 0.03928 ? s / 12.92 : std::pow((s + 0.055) / 1.055, 2.4);
  };
  const double l = 0.2126 * channel(c.r) + 0.7152 * channel(c.g) + 0.0722 * channel(c.b);
  return std::llround(l * 1'000'000.0);
}

struct ColorKey {
  std::string_view key;
  Color Theme::*member;
  bool text;  ///< stands as text on paper and ground
  std::string_view help;
};
constexpr std::array kColors{
    ColorKey{"paper", &Theme::paper, false, "the page"},
    ColorKey{"ground", &Theme::ground, false, "behind bands and cards"},
    ColorKey{"line", &Theme::line, false, "rules and frames"},
    ColorKey{"draft", &Theme::draft, false, "the large word behind a draft"},
    ColorKey{"ink", &Theme::ink, true, "text"},
    ColorKey{"muted", &Theme::muted, true, "lesser text"},
    ColorKey{"accent", &Theme::accent, true, "headings and the firm's own touch"},
    ColorKey{"pass", &Theme::pass, true, "what passes"},
    ColorKey{"fail", &Theme::fail, true, "what fails or is missing"},
    ColorKey{"borderline", &Theme::borderline, true, "what is borderline"},
    ColorKey{"doubtful", &Theme::doubtful, true, "what is doubtful"},
};
constexpr std::array<std::string_view, kSteps> kStepKeys{"title", "section", "heading", "lead",
                                                         "body",  "small",   "tiny"};

/// Points as written ("8.8"), nothing for what is no positive number up to 60.
std::optional<Pt> points(const TomlNode& node) {
  if (!node.is_number()) return std::nullopt;
  std::int64_t milli = 0;
  int decimals = -1;
  for (const char c : node.text) {
    if (c == '.' && decimals < 0) {
      decimals = 0;
    } else if (c >= '0' && c <= '9' && decimals < 3 && milli < 1'000'000) {
      milli = milli * 10 + (c - '0');
      if (decimals >= 0) ++decimals;
    } else {
      return std::nullopt;
    }
  }
  for (int i = decimals < 0 ? 0 : decimals; i < 3; ++i) milli *= 10;
  if (milli <= 0 || milli > 60'000) return std::nullopt;
  return Pt{static_cast<std::int32_t>(milli)};
}

bool read_color(const TomlNode& node, const ColorKey& key, Theme& theme, Diagnostics& out) {
  const auto color =
      node.kind == TomlKind::string ? parse_color(node.text) : std::optional<Color>();
  if (!color) {
    out.error("form-color", node.span, fmt::format("{} is no colour", visible(node.text)),
              {"Write a colour as \"#1F5F5B\"."});
    return false;
  }
  theme.*key.member = *color;
  return true;
}

/// `body = [8.8, 12]`: size and height of the line.
bool read_step(const TomlNode& node, TypeSize& step, Pt grid, Diagnostics& out) {
  std::optional<Pt> size, leading;
  if (node.is_array() && node.children.size() == 2) {
    size = points(node.children[0]);
    leading = points(node.children[1]);
  }
  if (!size || !leading) {
    out.error("form-type-size", node.span, "a type size is two numbers of points",
              {"Write [8.8, 12]: the size of the letters and the height of the line."});
    return false;
  }
  if (*size < kSmallestText) {
    out.error("form-type-small", node.span,
              fmt::format("{} points are too small to read", node.children[0].text),
              {"The smallest text of a certificate is 6.5 points."});
    return false;
  }
  if (leading->milli * 100 < size->milli * 118 || leading->milli % grid.milli != 0) {
    out.error("form-line-height", node.span,
              "the height of the line does not suit the letters and the grid",
              {fmt::format("It is at least 1.18 times the size, in steps of {} points.",
                           grid.milli / 1000)});
    return false;
  }
  step = {*size, *leading};
  return true;
}

bool check_contrast(const TomlNode& table, const Theme& theme, Diagnostics& out) {
  bool ok = true;
  for (const ColorKey& key : kColors) {
    if (!key.text) continue;
    for (const Color under : {theme.paper, theme.ground, theme.draft}) {
      const int c = contrast(theme.*key.member, under);
      if (c >= kLeastContrast) continue;
      const TomlNode* at = table.find(key.key);
      out.error("form-contrast", at ? at->span : table.span,
                fmt::format("{} has a contrast of {}.{:02}:1 against its ground, 4.50:1 is needed",
                            key.key, c / 100, c % 100),
                {"Choose a darker shade for text, or a lighter ground."});
      ok = false;
      break;
    }
  }
  return ok;
}

}  // namespace

std::span<const ThemeKey> theme_keys() {
  static const auto kKeys = [] {
    std::array<ThemeKey, kColors.size() + kStepKeys.size()> out{};
    for (std::size_t i = 0; i < kColors.size(); ++i) out[i] = {kColors[i].key, kColors[i].help, true};
    for (std::size_t i = 0; i < kStepKeys.size(); ++i)
      out[kColors.size() + i] = {kStepKeys[i], "size of the letters and height of the line, in points",
                                 false};
    return out;
  }();
  return kKeys;
}

Color Theme::of(checks::Verdict verdict) const {
  switch (verdict) {
    case checks::Verdict::fail:
    case checks::Verdict::missing:
      return fail;
    case checks::Verdict::doubtful:
      return doubtful;
    case checks::Verdict::borderline:
      return borderline;
    case checks::Verdict::pass:
      return pass;
    default:
      return muted;
  }
}

int contrast(Color a, Color b) {
  const std::int64_t la = luminance(a) + 50'000, lb = luminance(b) + 50'000;
  return static_cast<int>(std::max(la, lb) * 100 / std::min(la, lb));
}

std::optional<Color> parse_color(std::string_view text) {
  if (text.size() != 7 || text[0] != '#') return std::nullopt;
  std::array<int, 6> digits{};
  for (std::size_t i = 0; i < 6; ++i) {
    const char c = text[i + 1];
    if (c >= '0' && c <= '9')
      digits[i] = c - '0';
    else if (c >= 'a' && c <= 'f')
      digits[i] = c - 'a' + 10;
    else if (c >= 'A' && c <= 'F')
      digits[i] = c - 'A' + 10;
    else
      return std::nullopt;
  }
  const auto byte = [&](std::size_t i) {
    return static_cast<std::uint8_t>(digits[i] * 16 + digits[i + 1]);
  };
  return Color{byte(0), byte(2), byte(4)};
}

Color readable(Color color, const Theme& theme) {
  const auto enough = [&](Color c) {
    return contrast(c, theme.paper) >= kLeastContrast &&
           contrast(c, theme.ground) >= kLeastContrast;
  };
  for (int percent = 100; percent > 0; percent -= 4) {
    const auto shade = [&](std::uint8_t v) { return static_cast<std::uint8_t>(v * percent / 100); };
    const Color c{shade(color.r), shade(color.g), shade(color.b)};
    if (enough(c)) return c;
  }
  return theme.ink;
}

bool read_theme(const TomlNode& table, Theme& theme, Diagnostics& out) {
  bool ok = true;
  if (const TomlNode* grid = table.find("grid")) {
    const auto pt = points(*grid);
    if (pt && pt->milli % 500 == 0 && *pt <= 6_pt) {
      theme.grid = *pt;
    } else {
      out.error("form-grid", grid->span, "the grid is a step of 0.5 to 6 points",
                {"Write grid = 3."});
      ok = false;
    }
  }
  for (const TomlNode& node : table.children) {
    bool known = node.key == "grid" || node.key == "format" || node.key == "name";
    std::vector<std::string_view> keys{"grid"};
    for (const ColorKey& key : kColors) {
      keys.push_back(key.key);
      if (node.key != key.key) continue;
      known = true;
      ok = read_color(node, key, theme, out) && ok;
    }
    for (std::size_t i = 0; i < kStepKeys.size(); ++i) {
      keys.push_back(kStepKeys[i]);
      if (node.key != kStepKeys[i]) continue;
      known = true;
      ok = read_step(node, theme.scale[i], theme.grid, out) && ok;
    }
    if (known) continue;
    const auto near = nearest(node.key, keys);
    out.error("form-unknown-key", node.key_span,
              fmt::format("a theme has no key \"{}\"", visible(node.key)),
              near ? std::vector<std::string>{"Did you mean \"" + *near + "\"?"}
                   : std::vector<std::string>{});
    ok = false;
  }
  return ok && check_contrast(table, theme, out);
}

std::optional<Theme> load_theme(const Sources& sources, SourceId source, Diagnostics& out) {
  const auto root = parse_toml(sources, source, out);
  if (!root) return std::nullopt;
  const TomlNode* format = root->find("format");
  if (!format || format->text != "1") {
    out.error("form-format", format ? format->span : root->span,
              "the theme does not say that it is of format 1",
              {"Write format = 1 on the first line."});
    return std::nullopt;
  }
  const TomlNode* table = root->find("theme");
  Theme theme;
  if (!table) {
    out.error("form-theme", root->span, "the file has no [theme]",
              {"Put the colours under [theme]."});
    return std::nullopt;
  }
  if (!read_theme(*table, theme, out)) return std::nullopt;
  return theme;
}

}  // namespace ohmleaf::layout
