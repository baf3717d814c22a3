#include <fmt/format.h>

#include "base/text.h"
#include "cli/plot.h"
#include "cli/plot_axis.h"
#include "layout/theme.h"

// The picture as SVG, in the colours of the pages. A verdict is told by its word and by the shape
// of its mark, never by colour alone.

namespace ohmleaf::cli {
namespace {

using checks::Verdict;

constexpr int kWide = 780, kMargin = 24, kRow = 26;
constexpr int kBarFrom = 322, kBarTo = 562, kLimitAt = 502;  // 1000 per mille; the rest is beyond
constexpr int kPlotHigh = 250, kPlotFrom = 84, kPlotTo = kWide - kMargin - 12;

std::string shown(std::string_view text) {
  return xml_text(visible(text));
}

std::string hex(layout::Color c) {
  return fmt::format("#{:02x}{:02x}{:02x}", c.r, c.g, c.b);
}

std::string shortened(std::string_view text, std::size_t most) {
  const std::u32string all = decode_utf8(text);
  if (all.size() <= most) return std::string(text);
  std::string out;
  for (std::size_t i = 0; i + 1 < most; ++i) append_utf8(out, all[i]);
  return out + "…";
}

class Picture {
 public:
  void text(double x, double y, std::string_view words, const std::string& more = {}) {
    body_ +=
        fmt::format("<text x=\"{:.1f}\" y=\"{:.1f}\"{}>{}</text>\n", x, y, more, shown(words));
  }
  void line(double x1, double y1, double x2, double y2, const std::string& how) {
    body_ += fmt::format("<line x1=\"{:.1f}\" y1=\"{:.1f}\" x2=\"{:.1f}\" y2=\"{:.1f}\" {}/>\n", x1,
                         y1, x2, y2, how);
  }
  void box(double x, double y, double w, double h, const std::string& how) {
    body_ +=
        fmt::format("<rect x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\" {}/>\n", x,
                    y, w, h, how);
  }
  void raw(const std::string& element) { body_ += element + "\n"; }

  layout::Theme theme;
  double y = kMargin;
  std::string body_;
};

std::string fill(layout::Color c) {
  return " fill=\"" + hex(c) + "\"";
}
std::string stroke(layout::Color c, double width, const char* dash = "") {
  return fmt::format("stroke=\"{}\" stroke-width=\"{}\"{}", hex(c), width,
                     *dash ? fmt::format(" stroke-dasharray=\"{}\"", dash) : std::string());
}

/// A round mark for what is in order, a square on its corner for what is open, a cross for a fail.
void mark(Picture& p, double x, double y, Verdict v) {
  const std::string how = stroke(p.theme.of(v), 1.8) + " fill=\"none\"";
  if (v == Verdict::fail || v == Verdict::missing)
    p.raw(fmt::format("<path d=\"M{:.1f} {:.1f}l8 8m0 -8l-8 8\" {}/>", x - 4, y - 4, how));
  else if (v == Verdict::doubtful || v == Verdict::borderline)
    p.raw(fmt::format("<path d=\"M{:.1f} {:.1f}l5 5l-5 5l-5 -5z\" {}/>", x, y - 5, how));
  else
    p.raw(fmt::format("<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"4\" {}/>", x, y, how));
}

void bar(Picture& p, const PlotBar& b) {
  const double middle = p.y + kRow / 2.0;
  const layout::Color color = p.theme.of(b.verdict);
  p.text(kMargin + 14, middle + 4, shortened(b.what, 34));
  p.text(kBarFrom - 10, middle + 4, shortened(b.reading, 12), " text-anchor=\"end\" class=\"n\"");
  const double full = (kLimitAt - kBarFrom) / 1000.0;
  const double end = std::min<double>(kBarTo, kBarFrom + b.used_permille * full);
  p.box(kBarFrom, middle - 5, kLimitAt - kBarFrom, 10, "fill=\"" + hex(p.theme.ground) + "\"");
  p.box(kBarFrom, middle - 5, std::max(1.0, end - kBarFrom), 10, "fill=\"" + hex(color) + "\"");
  if (kBarFrom + b.used_permille * full > kBarTo)  // further than there is room for
    p.raw(fmt::format("<path d=\"M{:.1f} {:.1f}l8 6l-8 6z\"{}/>", end, middle - 6, fill(color)));
  p.line(kLimitAt, middle - 9, kLimitAt, middle + 9, stroke(p.theme.ink, 1.6));
  p.text(kBarTo + 14, middle + 4, shortened(b.limit, 16), " class=\"n\"");
  mark(p, kMargin + 4, middle, b.verdict);
  if (b.verdict != Verdict::pass)
    p.text(kWide - kMargin, middle + 4, checks::name(b.verdict),
           " text-anchor=\"end\" font-weight=\"bold\"" + fill(color));
  p.y += kRow;
}

/// Places in the frame of the time–current picture.
struct Frame {
  PlotAxes axes;
  double top;
  double x(const Decimal& amps) const {
    return kPlotFrom + axes.amps.at(amps) * (kPlotTo - kPlotFrom);
  }
  double y(const Decimal& seconds) const {
    return top + kPlotHigh - axes.seconds.at(seconds) * kPlotHigh;
  }
};

void grid(Picture& p, const Frame& f) {
  const auto decade = [](int low, int high, int e) { return double(e - low) / (high - low); };
  p.box(kPlotFrom, f.top, kPlotTo - kPlotFrom, kPlotHigh,
        "fill=\"none\" " + stroke(p.theme.line, 1));
  for (int e = f.axes.amps.low; e <= f.axes.amps.high; ++e) {
    const double x =
        kPlotFrom + decade(f.axes.amps.low, f.axes.amps.high, e) * (kPlotTo - kPlotFrom);
    p.line(x, f.top, x, f.top + kPlotHigh, stroke(p.theme.line, 0.8));
    p.text(x, f.top + kPlotHigh + 16, decade_name(e, "A"), " text-anchor=\"middle\" class=\"q\"");
  }
  for (int e = f.axes.seconds.low; e <= f.axes.seconds.high; ++e) {
    const double y =
        f.top + kPlotHigh - decade(f.axes.seconds.low, f.axes.seconds.high, e) * kPlotHigh;
    p.line(kPlotFrom, y, kPlotTo, y, stroke(p.theme.line, 0.8));
    p.text(kPlotFrom - 8, y + 4, decade_name(e, "s"), " text-anchor=\"end\" class=\"q\"");
  }
}

/// Words right of a place, or left of it where the frame ends, on a ground of their own.
void beside(Picture& p, double x, double y, std::string_view words, const std::string& how) {
  const double length = 7.6 * static_cast<double>(code_point_count(words));
  const bool left = x + 8 + length > kPlotTo;
  p.text(x + (left ? -8 : 8), y, words,
         how + (left ? " text-anchor=\"end\"" : "") +
             " paint-order=\"stroke\" stroke-width=\"4\" stroke=\"" + hex(p.theme.paper) + "\"");
}

/// From each tabulated current on, the time within which the device surely disconnects.
void steps(Picture& p, const Frame& f, const std::vector<PlotStep>& all, layout::Color color,
           const char* dash) {
  std::string path;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const double x = f.x(all[i].amps), y = f.y(all[i].seconds);
    const double next = i + 1 < all.size() ? f.x(all[i + 1].amps) : kPlotTo;
    path += fmt::format("{}{:.1f} {:.1f}H{:.1f}", i == 0 ? "M" : "L", x, y, next);
  }
  if (path.empty()) return;
  p.raw("<path d=\"" + path + "\" fill=\"none\" " + stroke(color, 2.2, dash) + "/>");
  for (const PlotStep& s : all) {
    p.raw(fmt::format("<circle cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"3.6\"{}/>", f.x(s.amps),
                      f.y(s.seconds), fill(color)));
    // Above a whole line, below a broken one: the two may lie close together.
    beside(p, f.x(s.amps), f.y(s.seconds) + (*dash ? 17 : -8), s.words, " class=\"q\"");
  }
}

void current(Picture& p, const Frame& f, const PlotCurrent& c, double label_at,
             const std::string& how, layout::Color color) {
  const double x = f.x(c.amps);
  p.line(x, f.top, x, f.top + kPlotHigh, how);
  beside(p, x, label_at, c.words, " font-weight=\"bold\"" + fill(color));
}

void paragraph(Picture& p, std::string_view text) {
  const std::string lines = wrapped(text, "", "", 104);
  for (const std::string_view line : split(lines, '\n')) {
    if (line.empty()) continue;
    p.text(kMargin, p.y + 12, line, " class=\"q\"");
    p.y += 17;
  }
}

void time_current(Picture& p, const PlotCircuit& c) {
  p.y += 14;
  p.text(kMargin, p.y + 12, c.device, " font-weight=\"bold\"");
  p.y += 26;
  const Frame f{axes_of(c), p.y};
  grid(p, f);
  if (c.within) {
    const double y = f.y(*c.within);
    p.line(kPlotFrom, y, kPlotTo, y, stroke(p.theme.muted, 1.4, "2 4"));
    p.text(kPlotFrom + 6, y - 6, "asked for: " + c.within->short_str() + " s", " class=\"q\"");
  }
  steps(p, f, c.rcd_steps, p.theme.doubtful, "7 4");
  steps(p, f, c.device_steps, p.theme.ink, "");
  const bool over = c.measured && c.limit && c.measured->amps < c.limit->amps;
  if (c.limit)
    current(p, f, *c.limit, f.top + kPlotHigh - 10, stroke(p.theme.ink, 1.4, "5 4"), p.theme.ink);
  if (c.measured) {
    const layout::Color color = over ? p.theme.fail : p.theme.pass;
    current(p, f, *c.measured, f.top + 18, stroke(color, 2.4), color);
  }
  p.y = f.top + kPlotHigh + 30;
  if (!c.why.empty()) paragraph(p, "The limit: " + c.why);
  if (!c.rcd_steps.empty()) paragraph(p, "Broken line: the RCD, by its residual current.");
  paragraph(p,
            "A line says within which time the device surely disconnects from that current on, as "
            "the tables have it; what they do not give is not drawn.");
}

void circuit(Picture& p, const PlotCircuit& c) {
  mark(p, kMargin + 4, p.y + 9, c.verdict);
  p.text(kMargin + 16, p.y + 14, shortened(c.title, 72), " font-size=\"16\" font-weight=\"bold\"");
  p.text(kWide - kMargin, p.y + 14, checks::name(c.verdict),
         " text-anchor=\"end\" font-weight=\"bold\"" + fill(p.theme.of(c.verdict)));
  p.y += 30;
  if (c.bars.empty()) paragraph(p, "No reading of it is compared with a limit.");
  for (const PlotBar& b : c.bars) bar(p, b);
  if (has_picture(c)) time_current(p, c);
  p.y += 26;
}

}  // namespace

std::string plot_svg(const std::vector<PlotCircuit>& circuits) {
  Picture p;
  for (const PlotCircuit& c : circuits) circuit(p, c);
  std::string about;
  for (const PlotCircuit& c : circuits)
    about += (about.empty() ? "" : "; ") + c.title + ": " + std::string(checks::name(c.verdict));
  const double high = p.y + 4;
  return fmt::format(
             "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0} {1:.0f}\" width=\"{0}\" "
             "height=\"{1:.0f}\" role=\"img\" font-family=\"DejaVu Sans, Arial, sans-serif\" "
             "font-size=\"13\" fill=\"{2}\">\n<title>Readings against their limits</title>\n"
             "<desc>{3}</desc>\n<style>.n{{font-variant-numeric:tabular-nums}}"
             ".q{{font-size:11.5px;fill:{4}}}</style>\n"
             "<rect width=\"{0}\" height=\"{1:.0f}\" fill=\"{5}\"/>\n",
             kWide, high, hex(p.theme.ink), shown(about), hex(p.theme.muted),
             hex(p.theme.paper)) +
         p.body_ + "</svg>\n";
}

}  // namespace ohmleaf::cli
