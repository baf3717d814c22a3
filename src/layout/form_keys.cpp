#include "layout/form_keys.h"

namespace ohmleaf::layout {
namespace {

using V = FormValue;

template <class Table>
constexpr auto words_of(const Table& table) {
  std::array<std::string_view, std::tuple_size_v<Table>> out{};
  for (std::size_t i = 0; i < out.size(); ++i) out[i] = table[i].first;
  return out;
}
constexpr auto kBlocks = words_of(kBlockWords);
constexpr auto kStepNames = words_of(kStepWords);
constexpr auto kTones = words_of(kToneWords);
constexpr auto kAligns = words_of(kAlignWords);
constexpr auto kSurrounds = words_of(kSurroundWords);
constexpr auto kFormats = words_of(kFormatWords);
constexpr auto kShows = words_of(kShowWords);
constexpr auto kOrientations = words_of(kOrientationWords);

// Keys that several parts have in common.
constexpr FormKey kType{"type", V::choice, "what the block is", kBlocks, 0, 0, true};
constexpr FormKey kWhen{"when", V::path,
                        "the block stands only where this is present and not false"};
constexpr FormKey kRepeat{"repeat", V::path, "a list of the record; once for each of its elements"};
constexpr FormKey kText{"text", V::runs, "the words, with values of the record among them"};
constexpr FormKey kCaption{"caption", V::runs, "a line above, or the name of what is shown"};
constexpr FormKey kMark{"mark", V::path, "a verdict, whose mark and colour are shown"};
constexpr FormKey kStepKey{"step", V::choice, "size of the letters", kStepNames};
constexpr FormKey kTone{"tone", V::choice, "weight and colour of the letters", kTones};
constexpr FormKey kAlign{"align", V::choice, "where it stands across the width", kAligns};
constexpr FormKey kBars{"bars", V::flag, "headroom bars below readings; true where left out"};
constexpr FormKey kAcross{"across", V::whole, "columns side by side", {}, 1, 6};
constexpr FormKey kFields{"fields", V::fields, "labelled values"};
constexpr FormKey kTogether{"keep_together", V::flag, "never broken over two pages"};
constexpr FormKey kWithNext{"keep_with_next", V::flag, "stays on the page of what follows"};
constexpr FormKey kImage{"image", V::path, "path of the record that names an image"};
constexpr FormKey kWords{"words", V::map, "what is printed for a value: { true = \"yes\" }"};
constexpr FormKey kPath{"path", V::path,
                        "a value of the record; a leading dot starts at the item of the repeat"};
constexpr FormKey kFormat{"format", V::choice, "how the value is printed", kFormats};
constexpr FormKey kEmpty{"empty", V::text, "printed where there is no value"};
constexpr FormKey kJoin{"join", V::text, "between the elements of a list; a comma where left out"};
constexpr FormKey kBefore{"before", V::text, "printed before a value, where there is one"};
constexpr FormKey kAfter{"after", V::text, "printed after a value, where there is one"};
constexpr FormKey kValue{"value", V::runs, "in place of path: words with several values"};
constexpr FormKey kShow{"show", V::choice,
                        "as text, as a reading over its limit, as a verdict, as a box to write in, "
                        "as a tick box",
                        kShows};
constexpr FormKey kBox{"height", V::length, "of a box to write in, in millimetres", {}, 0, 100};
constexpr FormKey kHideEmpty{"hide_empty", V::flag, "left away where there is nothing to show"};

constexpr std::array kForm{
    FormKey{"format", V::format, "format of the file: 1", {}, 0, 0, true},
    FormKey{"title", V::text, "title of the document", {}, 0, 0, true},
    FormKey{"language", V::text, "of the form's own words, such as en-GB"},
    FormKey{"certificate", V::flag, "the document certifies; false for papers that do not"},
    FormKey{"page", V::page, "the page and what stands on each"},
    FormKey{"theme", V::theme, "sizes of this form's own, over those of the theme"},
    FormKey{"words", V::engine_words, "words of the program's own, in place of the English ones"},
    FormKey{"block", V::blocks, "one block after the other, from top to bottom"}};
constexpr std::array kPage{
    FormKey{"orientation", V::choice, "of the sheet of A4", kOrientations},
    FormKey{"margins", V::margins, "millimetres: top, right, bottom, left; at least 5"},
    FormKey{"header_left", V::runs, "at the head of every page, on the left"},
    FormKey{"header_middle", V::runs, "at the head of every page, in the middle"},
    FormKey{"footer_left", V::runs, "at the foot of every page, on the left"},
    FormKey{"footer_right", V::runs, "at the foot of every page, on the right"}};
constexpr std::array kHeading{
    kType,
    kWhen,
    FormKey{"level", V::whole, "1 for a title, 3 for the least", {}, 1, 3},
    kText,
    FormKey{"bookmark", V::flag, "listed in the outline; true where left out"},
    kMark};
constexpr std::array kParagraph{
    kType,    kWhen,  kText,
    kStepKey, kTone,  kMark,
    kCaption, kAlign, FormKey{"indent", V::flag, "set in from the margin"},
    kWithNext};
constexpr std::array kFieldsBlock{kType, kWhen,    kAcross,   kFields,
                                  kBars, kStepKey, kTogether, kWithNext};
constexpr std::array kTable{
    kType,    kWhen,
    kRepeat,  FormKey{"columns", V::columns, "one column after the other", {}, 0, 0, true},
    kBars,    kStepKey,
    kCaption, kTogether};
constexpr std::array kChecklist{kType,
                                kWhen,
                                kRepeat,
                                kAcross,
                                kText,
                                FormKey{"outcome", V::path, "the answer of the line"},
                                FormKey{"reason", V::runs, "printed below an answer that has one"},
                                kFields,
                                kWords,
                                kTogether};
constexpr std::array kSignature{kType, kWhen, kImage, kCaption, kText, kFields};
constexpr std::array kImageBlock{
    kType,  kWhen, kImage,  FormKey{"height", V::length, "in millimetres", {}, 0, 200},
    kAlign, kText, kCaption};
constexpr std::array kRule{kType, kWhen};
constexpr std::array kSpace{kType, kWhen,
                            FormKey{"height", V::length, "in millimetres", {}, 0, 200}};
constexpr std::array kGroup{kType,
                            kWhen,
                            kRepeat,
                            kTogether,
                            FormKey{"surround", V::choice, "what is drawn around it", kSurrounds},
                            kMark,
                            FormKey{"block", V::blocks, "the blocks inside"}};
constexpr std::array kField{
    FormKey{"label", V::runs, "what it is"},
    kPath,
    kValue,
    kShow,
    kFormat,
    kTone,
    kEmpty,
    kJoin,
    kBefore,
    kAfter,
    kWords,
    FormKey{"when", V::path, "the field stands only where this is present and not false"},
    FormKey{"span", V::whole, "columns that it takes", {}, 1, 6},
    kBox,
    kHideEmpty};
constexpr std::array kColumn{
    FormKey{"heading", V::runs, "over the column", {}, 0, 0, true},
    FormKey{"group", V::text, "over neighbours of the same group"},
    kPath,
    kValue,
    kShow,
    kFormat,
    kTone,
    kEmpty,
    kJoin,
    kBefore,
    kAfter,
    kWords,
    kAlign,
    FormKey{"min", V::length, "least width in millimetres", {}, 0, 250},
    FormKey{"max", V::length, "greatest width in millimetres", {}, 0, 250},
    kBox,
    FormKey{"key", V::flag, "names the row, for readers aloud and where a wide table is divided"},
    FormKey{"rotate", V::flag, "its heading stands upright"},
    kHideEmpty};
constexpr std::array kRun{FormKey{"text", V::text, "words as they stand"},
                          kPath,
                          kFormat,
                          kTone,
                          kEmpty,
                          kJoin,
                          kBefore,
                          kAfter,
                          kWords};

}  // namespace

std::span<const FormKey> form_keys(FormPart part) {
  switch (part) {
    case FormPart::form:
      return kForm;
    case FormPart::page:
      return kPage;
    case FormPart::heading:
      return kHeading;
    case FormPart::paragraph:
      return kParagraph;
    case FormPart::fields:
      return kFieldsBlock;
    case FormPart::table:
      return kTable;
    case FormPart::checklist:
      return kChecklist;
    case FormPart::signature:
      return kSignature;
    case FormPart::image:
      return kImageBlock;
    case FormPart::rule:
      return kRule;
    case FormPart::space:
      return kSpace;
    case FormPart::group:
      return kGroup;
    case FormPart::field:
      return kField;
    case FormPart::column:
      return kColumn;
    case FormPart::run:
      return kRun;
  }
  return {};
}

FormPart part_of(BlockKind kind) {
  switch (kind) {
    case BlockKind::heading:
      return FormPart::heading;
    case BlockKind::paragraph:
    case BlockKind::note:
      return FormPart::paragraph;
    case BlockKind::fields:
      return FormPart::fields;
    case BlockKind::table:
      return FormPart::table;
    case BlockKind::checklist:
      return FormPart::checklist;
    case BlockKind::signature:
      return FormPart::signature;
    case BlockKind::image:
      return FormPart::image;
    case BlockKind::rule:
    case BlockKind::page_break:
      return FormPart::rule;
    case BlockKind::space:
      return FormPart::space;
    case BlockKind::group:
      return FormPart::group;
  }
  return FormPart::rule;
}

}  // namespace ohmleaf::layout
