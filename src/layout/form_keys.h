#pragma once
#include <array>
#include <span>
#include <string_view>
#include <utility>

#include "base/json.h"
#include "layout/form.h"

// What a form may say, once: the reader refuses every other key and word by these tables, and the
// schema for editors is made of them.

namespace ohmleaf::layout {

/// A word that may stand somewhere, and what it means.
template <class E>
using FormWord = std::pair<std::string_view, E>;

inline constexpr std::array kBlockWords{FormWord<BlockKind>{"heading", BlockKind::heading},
                                        FormWord<BlockKind>{"paragraph", BlockKind::paragraph},
                                        FormWord<BlockKind>{"note", BlockKind::note},
                                        FormWord<BlockKind>{"fields", BlockKind::fields},
                                        FormWord<BlockKind>{"table", BlockKind::table},
                                        FormWord<BlockKind>{"checklist", BlockKind::checklist},
                                        FormWord<BlockKind>{"signature", BlockKind::signature},
                                        FormWord<BlockKind>{"image", BlockKind::image},
                                        FormWord<BlockKind>{"rule", BlockKind::rule},
                                        FormWord<BlockKind>{"space", BlockKind::space},
                                        FormWord<BlockKind>{"page_break", BlockKind::page_break},
                                        FormWord<BlockKind>{"group", BlockKind::group}};
inline constexpr std::array kStepWords{
    FormWord<Step>{"title", Step::title},     FormWord<Step>{"section", Step::section},
    FormWord<Step>{"heading", Step::heading}, FormWord<Step>{"lead", Step::lead},
    FormWord<Step>{"body", Step::body},       FormWord<Step>{"small", Step::small},
    FormWord<Step>{"tiny", Step::tiny}};
inline constexpr std::array kToneWords{
    FormWord<Tone>{"normal", Tone::normal}, FormWord<Tone>{"strong", Tone::strong},
    FormWord<Tone>{"emphasis", Tone::emphasis}, FormWord<Tone>{"muted", Tone::muted},
    FormWord<Tone>{"accent", Tone::accent}};
inline constexpr std::array kAlignWords{FormWord<Align>{"left", Align::left},
                                        FormWord<Align>{"right", Align::right},
                                        FormWord<Align>{"center", Align::center}};
inline constexpr std::array kSurroundWords{FormWord<Surround>{"none", Surround::none},
                                           FormWord<Surround>{"card", Surround::card},
                                           FormWord<Surround>{"band", Surround::band}};
inline constexpr std::array kFormatWords{
    FormWord<Format>{"plain", Format::plain}, FormWord<Format>{"date", Format::date},
    FormWord<Format>{"unit", Format::unit}, FormWord<Format>{"capital", Format::capital}};
inline constexpr std::array kShowWords{
    FormWord<Show>{"text", Show::text}, FormWord<Show>{"reading", Show::reading},
    FormWord<Show>{"verdict", Show::verdict}, FormWord<Show>{"box", Show::box},
    FormWord<Show>{"tick", Show::tick}};
inline constexpr std::array kOrientationWords{FormWord<bool>{"portrait", false},
                                              FormWord<bool>{"landscape", true}};

/// A table of a form; a block of each kind has its own keys.
enum class FormPart {
  form,
  page,
  heading,
  paragraph,
  fields,
  table,
  checklist,
  signature,
  image,
  rule,
  space,
  group,
  field,
  column,
  run,
};

/// What stands behind a key.
enum class FormValue {
  format,  ///< 1
  text,
  runs,  ///< a text, a piece, or a list of both
  path,  ///< into the record
  flag,
  whole,   ///< from `least` to `most`
  length,  ///< millimetres, up to `most`
  choice,  ///< one of `words`
  map,     ///< values and what is printed for them
  margins,
  fields,
  columns,
  blocks,
  page,
  theme,
  engine_words,
};

struct FormKey {
  std::string_view name;
  FormValue value = FormValue::text;
  std::string_view help;
  std::span<const std::string_view> words = {};
  int least = 0, most = 0;
  bool required = false;
};

/// The keys of a part, in the order that a manual would tell them.
std::span<const FormKey> form_keys(FormPart part);
/// The part whose keys a block of this kind has.
FormPart part_of(BlockKind kind);

/// JSON Schemas (draft 7) of a form and of a theme, with the help of every key, for editors.
Json form_schema();
Json theme_schema();

}  // namespace ohmleaf::layout
