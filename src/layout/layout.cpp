#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <deque>
#include <vector>

#include "base/text.h"
#include "layout/builder.h"
#include "layout/furniture.h"
#include "layout/paginate.h"

namespace ohmleaf::layout {
namespace {

/// The installer's own accent over the theme's, darkened where it could not be read.
Theme installer_theme(const Form& form, const record::View& view, Diagnostics& out) {
  Theme theme = form.theme;
  const record::View* accent = view.at("installer.look.accent");
  if (!accent || accent->text.empty()) return theme;
  const auto color = parse_color(accent->text);
  if (!color) {
    out.error("form-color", accent->span, fmt::format("{} is no colour", visible(accent->text)),
              {"Write a colour as \"#1F5F5B\"."});
    return theme;
  }
  theme.accent = readable(*color, theme);
  if (theme.accent != *color)
    out.warning(
        "accent-contrast", accent->span,
        fmt::format(
            "the accent {} is too light to be read on paper; a darker shade of it is printed",
            visible(accent->text)));
  return theme;
}

/// Headings go where what follows them goes, also from an upright page to a landscape one.
void turn_headings(Flow& flow) {
  for (std::size_t i = flow.strips.size(); i-- > 1;)
    if (flow.strips[i - 1].keep_with_next && flow.strips[i].landscape && !flow.strips[i].page_break)
      flow.strips[i - 1].landscape = true;
}

bool is_ascii(std::string_view text) {
  return std::all_of(text.begin(), text.end(), [](char c) { return c >= 0x20 && c < 0x7F; });
}

/// Characters that no face can draw, each named once.
bool check_glyphs(const Document& document, const FontMetrics& metrics, Diagnostics& out) {
  std::array<std::vector<bool>, kFaceCount> seen;
  bool ok = true;
  for (const Page& page : document.pages)
    for (const Frame& frame : page.frames) {
      const auto* text = std::get_if<TextFrame>(&frame);
      if (!text || is_ascii(text->text)) continue;  // every face has what a keyboard has
      for (const char32_t c : code_points(text->text)) {
        if (c < 0x7F && c >= 0x20) continue;
        std::vector<bool>& of_face = seen[static_cast<std::size_t>(text->face)];
        if (of_face.size() <= c) of_face.resize(std::size_t{c} + 1);
        if (of_face[c]) continue;
        of_face[c] = true;
        if (metrics.has_glyph(text->face, c)) continue;
        std::string shown;
        append_utf8(shown, c);
        out.error(
            "no-glyph", {},
            fmt::format("the fonts have no character \"{}\" (U+{:04X}), which stands in \"{}\"",
                        visible(shown), static_cast<std::uint32_t>(c), visible(text->text)),
            {"Write it in another way."});
        ok = false;
      }
    }
  return ok;
}

}  // namespace

std::optional<Document> lay_out(std::span<const Form* const> forms, const record::View& view,
                                const FontMetrics& metrics, const std::vector<Image>& images,
                                Diagnostics& out) {
  Diagnostics found;
  Document document;
  document.images = images;
  document.nodes.push_back({Role::document, 0, {}, Scope::none, 1, 1});
  std::deque<Form> changed;
  std::vector<const Form*> themed;
  for (const Form* form : forms) {
    Diagnostics again;  // the same accent is spoken of once
    const Theme theme = installer_theme(*form, view, themed.empty() ? found : again);
    if (theme.accent != form->theme.accent) {
      changed.push_back(*form);
      changed.back().theme = theme;
      form = &changed.back();
    }
    themed.push_back(form);
  }
  Flow flow;
  std::vector<Furniture> furniture;
  for (std::size_t i = 0; i < themed.size(); ++i) {
    furniture.emplace_back(*themed[i], view, metrics, document.nodes);
    const Furniture& around = furniture.back();
    Builder builder({*themed[i], view, metrics, images, static_cast<int>(i),
                     around.body(false).height, around.body(true).height},
                    document, flow, found);
    builder.run();
    if (i + 1 == themed.size()) builder.electronic_signature();
  }
  turn_headings(flow);
  bool ok = found.ok() && paginate(std::move(flow), furniture, document, found);
  ok = ok && check_glyphs(document, metrics, found);
  for (const Diagnostic& d : found.all()) out.add(d);
  if (!ok || !found.ok()) return std::nullopt;
  if (!themed.empty()) {
    document.title = themed.front()->title;
    document.language = themed.front()->language;
  }
  return document;
}

std::optional<Document> lay_out(const Form& form, const record::View& view,
                                const FontMetrics& metrics, const std::vector<Image>& images,
                                Diagnostics& out) {
  const std::array<const Form*, 1> one{&form};
  return lay_out(one, view, metrics, images, out);
}

}  // namespace ohmleaf::layout
