#pragma once
#include <map>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "base/source.h"
#include "layout/frames.h"
#include "layout/theme.h"
#include "record/view.h"

namespace ohmleaf::layout {

class Translation;

/// A checked path into the record. A path with leading dots starts at the item of a `repeat`:
/// ".zs" at the innermost, "..ref" at the one around it; without dots at the record itself.
struct Binding {
  int up = 0;        ///< number of leading dots
  std::string path;  ///< without the dots; empty: the item itself
  bool own = false;  ///< the installer's or the client's words: never translated
  Span span;
};

/// From the value as it stands in the record to the words that are printed.
using WordMap = std::map<std::string, std::string, std::less<>>;

/// `unit` adds the unit, `capital` makes the first letter a capital.
enum class Format { plain, date, unit, capital };
enum class Tone { normal, strong, emphasis, muted, accent };

/// A literal text, or a value of the record.
struct Run {
  std::string text;
  std::optional<Binding> binding;
  Format format = Format::plain;
  Tone tone = Tone::normal;
  std::optional<std::string> empty;  ///< printed where the value is absent; default: words.empty
  std::string join = ", ";           ///< between the elements of a list
  std::string before, after;         ///< printed around the value only where it is present
  WordMap words;
};
using Runs = std::vector<Run>;

enum class Align { left, right, center };
/// How a value is shown: as text; as a reading with its limit and headroom bar; as the mark and
/// word of a verdict; as an empty box to write in; as a tick box.
enum class Show { text, reading, verdict, box, tick };

/// A labelled value.
struct FieldSpec {
  Runs label, value;
  Show show = Show::text;
  std::optional<Binding> when, source;  ///< source: the cell, verdict or flag that is shown
  WordMap words;                        ///< for verdicts and flags
  int span = 1;                         ///< of the grid's columns
  Pt height;                            ///< of a box to write in
  bool hide_empty = false;
};

struct ColumnSpec {
  Runs heading, value;
  std::string group;  ///< heading over neighbours that name the same group
  Show show = Show::text;
  std::optional<Binding> source;
  WordMap words;
  Align align = Align::left;
  Pt min, max;  ///< zero: by content
  Pt height;    ///< of a box to write in; zero: the usual one
  bool key = false, rotate = false, hide_empty = false;
};

enum class BlockKind {
  heading,
  paragraph,
  note,
  fields,
  table,
  checklist,
  signature,
  image,
  rule,
  space,
  page_break,
  group
};
/// What is drawn around a group: nothing, a card with an edge, a tinted band.
enum class Surround { none, card, band };

struct Block {
  BlockKind kind = BlockKind::paragraph;
  Span span;
  std::string name;  ///< for messages: "the table \"Schedule of tests\""
  std::optional<Binding> when, repeat;
  std::optional<Binding> mark;    ///< verdict whose mark stands before the text, colours the edge
  std::optional<Binding> source;  ///< image; outcome of a checklist's line
  int level = 2;                  ///< headings: 1 to 3
  int across = 2;                 ///< columns of a field group or checklist
  Step step = Step::body;
  Tone tone = Tone::normal;
  bool keep_together = false, keep_with_next = false;
  bool indent = false;  ///< a paragraph under one that has a mark
  bool bookmark = true;
  bool bars = true;  ///< headroom bars under readings
  Surround surround = Surround::none;
  Pt height;  ///< of an image, a space
  Align align = Align::left;
  Runs text, caption, reason;
  WordMap words;
  std::vector<FieldSpec> fields;
  std::vector<ColumnSpec> columns;
  std::vector<Block> blocks;
};

struct PageSetup {
  Pt width{595'276}, height{841'890};  ///< A4 upright
  Pt top, right, bottom, left;
  bool landscape = false;
  Runs header_left, header_middle, footer_left, footer_right;
};

/// A document as data. Every binding has been checked against `document_shape()`.
struct Form {
  std::string name;  ///< from the file's name
  std::string title;
  std::string language = "en-GB";
  SourceId source = 0;
  bool certificate = true;  ///< false: a working paper, marked as such in place of a draft mark
  PageSetup page;
  Theme theme;
  WordMap words;  ///< the engine's own words, over the English ones
  std::vector<Block> blocks;
  std::shared_ptr<const Translation> translation;  ///< for the record's texts; null: English
  std::vector<Binding> bound;  ///< every binding: what is in none need not be made
};

/// Reads and checks a form. Everything that is wrong is reported in one run with its place. The
/// form's own [theme] goes over `base`.
std::optional<Form> load_form(const Sources& sources, SourceId source, Diagnostics& out,
                              const Theme& base = {});

/// Lays out the forms one after another, each from a new page, numbered across the whole. A block
/// that cannot fit, or a character that the fonts lack, is an error that names it.
std::optional<Document> lay_out(std::span<const Form* const> forms, const record::View& view,
                                const FontMetrics& metrics, const std::vector<Image>& images,
                                Diagnostics& out);
std::optional<Document> lay_out(const Form& form, const record::View& view,
                                const FontMetrics& metrics, const std::vector<Image>& images,
                                Diagnostics& out);

/// The engine's own words in English, each with what it is for: a translated form gives its own
/// in `[words]`.
struct EngineWord {
  std::string_view key, english;
};
std::span<const EngineWord> engine_words();

}  // namespace ohmleaf::layout
