#pragma once
#include <map>
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

/// A checked path into the record. A path with leading dots starts at the item of a `repeat`:
/// ".zs" at the innermost, "..ref" at the one around it; without dots at the record itself.
struct Binding {
  int up = 0;        ///< number of leading dots
  std::string path;  ///< without the dots; empty: the item itself
  Span span;
};

/// From the value as it stands in the record to the words that are printed.
using WordMap = std::map<std::string, std::string, std::less<>>;

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
/// How a value is shown: as text; as a reading with its limit and headroom bar; as the mark of a
/// verdict; as an empty box to write in; as a mark for yes and no.
enum class Show { text, reading, verdict, box, tick };

struct FieldSpec {
  Runs label, value;
  Show show = Show::text;
  std::optional<Binding> when, source;  ///< source: the cell or verdict that is shown
  int span = 1;
  bool hide_empty = false;
};

struct ColumnSpec {
  Runs heading, value;
  std::string group;  ///< heading over neighbours that name the same group
  Show show = Show::text;
  std::optional<Binding> source;
  Align align = Align::left;
  Pt min, max;  ///< zero: by content
  bool key = false, rotate = false, hide_empty = false;
  WordMap words;
};

enum class BlockKind {
  heading,
  paragraph,
  fields,
  table,
  checklist,
  findings,
  signature,
  note,
  verdict,
  image,
  rule,
  space,
  page_break,
  group
};
enum class Surround { none, card, band };

struct Block {
  BlockKind kind = BlockKind::paragraph;
  Span span;
  std::string name;  ///< for messages: "table at line 40"
  std::optional<Binding> when, repeat, source;
  int level = 2;    ///< headings: 1 to 3
  int columns = 2;  ///< fields and checklists
  Step step = Step::body;
  Tone tone = Tone::normal;
  bool keep_together = false;
  bool bookmark = true;
  bool landscape = false;
  bool bars = true;      ///< headroom bars under readings
  bool compact = false;  ///< tables: the small step of the type scale
  Surround surround = Surround::none;
  Pt height;  ///< image, space, box
  Runs text, caption;
  std::map<std::string, Runs, std::less<>> parts;  ///< named texts of findings, signatures …
  std::vector<FieldSpec> fields;
  std::vector<ColumnSpec> table;
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
  PageSetup page;
  Theme theme;
  WordMap words;  ///< the engine's own words, over the English ones
  std::vector<Block> blocks;
};

/// Reads and checks a form. Everything that is wrong is reported in one run with its place.
std::optional<Form> load_form(const Sources& sources, SourceId source, Diagnostics& out);

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
