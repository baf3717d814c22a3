#include <algorithm>
#include <array>
#include <utility>

#include "base/text.h"
#include "cli/plot.h"
#include "cli/plot_axis.h"

// The same picture in letters, for a terminal of 80 columns, with or without more than ASCII.

namespace ohmleaf::cli {
namespace {

using checks::Verdict;

constexpr int kName = 22, kReading = 12, kBar = 24, kLimitAt = 18, kRows = 13, kLeft = 8;

/// The signs of the trade, and of these pictures, in ASCII.
std::string in_ascii(std::string_view text) {
  static constexpr std::array<std::pair<std::u32string_view, std::string_view>, 16> kSigns{{
      {U"Ω", "ohm"},
      {U"≤", "<="},
      {U"≥", ">="},
      {U"·", "-"},
      {U"Δ", "D"},
      {U"–", "-"},
      {U"×", "x"},
      {U"÷", "/"},
      {U"²", "2"},
      {U"°", "deg "},
      {U"→", "->"},
      {U"█", "#"},
      {U"░", "."},
      {U"│", "|"},
      {U"µ", "u"},
      {U"…", "."},
  }};
  std::string out;
  for (const char32_t c : decode_utf8(text)) {
    if (c < 128) {
      out += static_cast<char>(c);
      continue;
    }
    std::string_view sign = "?";
    for (const auto& [from, to] : kSigns)
      if (from[0] == c) sign = to;
    out += sign;
  }
  return out;
}

Tone tone_of(Verdict v) {
  switch (v) {
    case Verdict::fail:
    case Verdict::missing:
      return Tone::bad;
    case Verdict::doubtful:
    case Verdict::borderline:
      return Tone::doubt;
    case Verdict::pass:
      return Tone::good;
    default:
      return Tone::quiet;
  }
}

std::string cut(const std::string& text, int width) {
  const std::u32string all = decode_utf8(text);
  if (static_cast<int>(all.size()) <= width) return padded(text, width);
  std::string out;
  for (int i = 0; i < width - 1; ++i) append_utf8(out, all[static_cast<std::size_t>(i)]);
  return out + "…";
}

std::string bar_text(const PlotBar& b, const Style& style) {
  std::u32string cells(kBar, U' ');
  const int used = std::clamp((b.used_permille * kLimitAt + 500) / 1000, 1, kBar);
  for (int i = 0; i < kLimitAt; ++i) cells[static_cast<std::size_t>(i)] = U'░';
  for (int i = 0; i < used; ++i) cells[static_cast<std::size_t>(i)] = U'█';
  cells[kLimitAt] = U'│';
  if (b.used_permille * kLimitAt > kBar * 1000) cells[kBar - 1] = U'>';
  std::string bar;
  for (const char32_t c : cells) append_utf8(bar, c);
  std::string reading = b.reading;
  const int have = static_cast<int>(code_point_count(reading));
  if (have < kReading) reading.insert(0, static_cast<std::size_t>(kReading - have), ' ');
  std::string out =
      "  " + cut(b.what, kName) + reading + " " + style(tone_of(b.verdict), bar) + " " + b.limit;
  if (b.verdict != Verdict::pass) out += " " + style(tone_of(b.verdict), checks::name(b.verdict));
  return out + "\n";
}

/// A grid of letters, filled from the back to the front.
class Canvas {
 public:
  Canvas(int width, int height)
      : width_(width),
        rows_(static_cast<std::size_t>(height),
              std::u32string(static_cast<std::size_t>(width), U' ')) {}
  void put(int x, int y, char32_t c) {
    if (x >= 0 && x < width_ && y >= 0 && y < static_cast<int>(rows_.size()))
      rows_[static_cast<std::size_t>(y)][static_cast<std::size_t>(x)] = c;
  }
  void words(int x, int y, std::string_view text) {
    for (const char32_t c : decode_utf8(text)) put(x++, y, c);
  }
  std::string row(int y) const {
    std::string out;
    for (const char32_t c : rows_[static_cast<std::size_t>(y)]) append_utf8(out, c);
    while (out.ends_with(' ')) out.pop_back();
    return out;
  }

 private:
  int width_;
  std::vector<std::u32string> rows_;
};

struct Places {
  PlotAxes axes;
  int width;
  int x(const Decimal& amps) const {
    return static_cast<int>(axes.amps.at(amps) * (width - 1) + 0.5);
  }
  int y(const Decimal& seconds) const {
    return kRows - 1 - static_cast<int>(axes.seconds.at(seconds) * (kRows - 1) + 0.5);
  }
};

void steps(Canvas& canvas, const Places& at, const std::vector<PlotStep>& all, char32_t sign) {
  for (std::size_t i = 0; i < all.size(); ++i) {
    const int y = at.y(all[i].seconds);
    const int end = i + 1 < all.size() ? at.x(all[i + 1].amps) : at.width;
    for (int x = at.x(all[i].amps); x < end; ++x) canvas.put(x, y, sign);
    if (i + 1 < all.size())
      for (int below = y; below <= at.y(all[i + 1].seconds); ++below) canvas.put(end, below, sign);
  }
}

/// The words beside a line, on the side where there is room.
void label(Canvas& canvas, const Places& at, int x, int y, const std::string& text) {
  const int length = static_cast<int>(code_point_count(text));
  canvas.words(x + 2 + length <= at.width ? x + 2 : std::max(0, x - 1 - length), y, text);
}

std::string time_current(const PlotCircuit& c, int width) {
  const Places at{axes_of(c), width - kLeft - 2};
  Canvas canvas(at.width, kRows);
  if (c.within)
    for (int x = 0; x < at.width; x += 2) canvas.put(x, at.y(*c.within), U'.');
  steps(canvas, at, c.rcd_steps, U'=');
  steps(canvas, at, c.device_steps, U'#');
  if (c.limit)
    for (int y = 0; y < kRows; y += 2) canvas.put(at.x(c.limit->amps), y, U'¦');
  if (c.measured)
    for (int y = 0; y < kRows; ++y) canvas.put(at.x(c.measured->amps), y, U'│');
  if (c.limit) label(canvas, at, at.x(c.limit->amps), kRows - 2, c.limit->words);
  if (c.measured) label(canvas, at, at.x(c.measured->amps), 1, c.measured->words);
  std::string out = "\n  " + c.device + "\n";
  for (int y = 0; y < kRows; ++y) {
    std::string name(kLeft, ' ');
    for (int e = at.axes.seconds.low; e <= at.axes.seconds.high; ++e)
      if (y == at.y(e < 0 ? Decimal(1, -e) : Decimal::integer(e == 0 ? 1 : 10))) {
        const std::string text = decade_name(e, "s");
        name = std::string(static_cast<std::size_t>(kLeft - 1) - text.size(), ' ') + text + " ";
      }
    out += name + "│" + canvas.row(y) + "\n";
  }
  Canvas feet(width - kLeft, 1);
  for (int e = at.axes.amps.low; e <= at.axes.amps.high; ++e) {
    const std::string text = decade_name(e, "A");
    const int x = (e - at.axes.amps.low) * (at.width - 1) / (at.axes.amps.high - at.axes.amps.low);
    feet.words(std::clamp(x - static_cast<int>(text.size()) / 2, 0,
                          width - kLeft - static_cast<int>(text.size())),
               0, text);
  }
  out += std::string(kLeft, ' ') + "+" + std::string(static_cast<std::size_t>(at.width), '-') +
         "\n" + std::string(kLeft, ' ') + feet.row(0) + "\n";
  return out;
}

std::string legend(const PlotCircuit& c, int width) {
  std::string out;
  for (const PlotStep& s : c.device_steps) out += wrapped("# " + s.words, "  ", "    ", width);
  for (const PlotStep& s : c.rcd_steps) out += wrapped("= RCD, " + s.words, "  ", "    ", width);
  if (c.within) out += wrapped(". asked for: " + c.within->short_str() + " s", "  ", "    ", width);
  if (c.measured) out += wrapped("│ " + c.measured->words, "  ", "    ", width);
  if (c.limit) out += wrapped("¦ " + c.limit->words, "  ", "    ", width);
  if (!c.why.empty()) out += wrapped("the limit: " + c.why, "  ", "    ", width);
  return out;
}

/// In ASCII before anything is set in columns: a sign may become several.
std::vector<PlotCircuit> ascii_words(std::vector<PlotCircuit> all) {
  for (PlotCircuit& c : all) {
    c.title = in_ascii(c.title);
    c.device = in_ascii(c.device);
    c.why = in_ascii(c.why);
    for (PlotBar& b : c.bars) {
      b.what = in_ascii(b.what);
      b.reading = in_ascii(b.reading);
      b.limit = in_ascii(b.limit);
    }
    for (std::optional<PlotCurrent>* current : {&c.measured, &c.limit})
      if (*current) (*current)->words = in_ascii((*current)->words);
  }
  return all;
}

}  // namespace

std::string plot_text(const std::vector<PlotCircuit>& shown, const Style& style, int width,
                      bool unicode) {
  width = std::min(width, 80);
  const std::vector<PlotCircuit> circuits = unicode ? shown : ascii_words(shown);
  std::string out;
  for (const PlotCircuit& c : circuits) {
    out += (out.empty() ? "" : "\n") + style(Tone::strong, visible(c.title)) + "  " +
           style(tone_of(c.verdict), checks::name(c.verdict)) + "\n";
    for (const PlotBar& b : c.bars) out += bar_text(b, style);
    if (!has_picture(c)) continue;
    out += time_current(c, width) + legend(c, width);
  }
  if (unicode) return out;
  std::string plain;
  for (const char32_t c : decode_utf8(out)) append_utf8(plain, c == U'¦' ? U':' : c);
  return in_ascii(plain);
}

}  // namespace ohmleaf::cli
