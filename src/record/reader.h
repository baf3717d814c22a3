#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/date.h"
#include "base/diagnostic.h"
#include "base/source.h"
#include "base/toml.h"
#include "limits/device.h"
#include "quantity/reading.h"
#include "record/keys.h"

namespace ohmleaf::record {

/// What a number of some unit can sensibly be, and what people call it.
struct NumberKind {
  std::string_view type;    ///< "resistance"
  std::string_view symbol;  ///< "Ω"; empty for a plain number
  std::int64_t least = 0;
  std::int64_t most = 0;
  bool zero = true;  ///< zero may stand there
};

/// Where reading has got to: the messages so far, and the table being read.
class Reader {
 public:
  /// `root` is asked for only when a message needs it: a file without mistakes never does.
  Reader(SourceId source, const Shape& (*root)(), Diagnostics& out)
      : source_(source), root_(root), out_(out) {}

  SourceId source() const { return source_; }
  Diagnostic& error(std::string_view id, Span span, std::string message, std::string hint = {});

  /// Enough said: more of the same helps nobody, and must not cost hours in a hostile file.
  bool flooded() const { return error_count() >= kMostErrors; }
  std::size_t error_count() const { return out_.all().size(); }

  void enter(std::string_view name, bool list) { path_.push_back({std::string(name), list}); }
  void leave() { path_.pop_back(); }
  /// "in [circuit.live]", "in [[circuit]]", or "at the top of the file".
  std::string where() const;

  void unknown_key(const TomlNode& node, const std::vector<std::string_view>& known);
  void missing_key(std::string_view name, const Shape& shape, Span header);
  void wrong_type(const Value& value, std::string_view needed, std::string hint = {});

  static constexpr std::size_t kMostErrors = 500;

 private:
  struct Step {
    std::string name;
    bool list;
  };
  std::vector<std::string> homes_of(std::string_view key) const;

  SourceId source_;
  const Shape& (*root_)();
  Diagnostics& out_;
  std::vector<Step> path_;
};

/// True if every character can be printed; line feeds only where the key allows several lines.
/// The one that cannot is named by its number, since nobody can see it.
bool printable(Reader& in, const Value& value, std::string_view text);

// Scalars. Each returns nothing after saying why, once, at the value.
std::optional<std::string> read_text(Reader& in, const Value& value);
std::optional<bool> read_flag(Reader& in, const Value& value);
std::optional<Decimal> read_number(Reader& in, const Value& value, const NumberKind& kind);
std::optional<RawReading> read_reading(Reader& in, const Value& value, const NumberKind& kind);
/// "1.1 kA", "1100 A", ">10 kA": the unit stands in the text. The value is in kiloamperes.
std::optional<RawReading> read_fault_current(Reader& in, const Value& value);
/// A number, or "N/A: why".
std::optional<RawReading> read_size(Reader& in, const Value& value, const NumberKind& kind);
std::optional<Date> read_date(Reader& in, const Value& value);
std::optional<DateTime> read_date_time(Reader& in, const Value& value);
/// One of `words`, as it stands there; case and outer spaces do not matter.
std::optional<std::string_view> read_word(Reader& in, const Value& value,
                                          std::span<const std::string_view> words);
/// Words of the trade, or a table with the same facts.
std::optional<limits::Device> read_device(Reader& in, const Value& value);
View view_of_device(const limits::Device& device, Span span);
void shape_of_device(Shape& shape);

/// True, after an error at the one too many, where a list has more elements than a job can need.
bool too_many(Reader& in, const Value& value, std::size_t most);

/// "a", "b" or "c"
std::string list_words(std::span<const std::string_view> words);
/// Lower-case letters, digits, dot, underscore, hyphen; at most 64; begins with letter or digit.
bool is_id(std::string_view text);

}  // namespace ohmleaf::record
