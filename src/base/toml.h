#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "base/diagnostic.h"
#include "base/source.h"

namespace ohmleaf {

enum class TomlKind { table, array, string, integer, floating, boolean, date, time, date_time };

/// The trade's word for a kind, for messages: "a table", "text", "a whole number" ...
std::string_view describe(TomlKind kind);

/// One TOML value. Numbers, dates and booleans keep the text as written (`1.10` stays "1.10");
/// strings hold the decoded text. Children are in the order of the file.
struct TomlNode {
  TomlKind kind = TomlKind::table;
  /// Reported already: the value only stands in for what was wrong (parse_toml_mending).
  bool mended = false;
  std::string key;    ///< empty for array elements and the root
  Span key_span;      ///< where the key stands (for a [[circuit]] its header)
  Span span;          ///< where the value stands
  std::string text;   ///< scalars only
  std::vector<TomlNode> children;

  bool is_table() const { return kind == TomlKind::table; }
  bool is_array() const { return kind == TomlKind::array; }
  bool is_number() const { return kind == TomlKind::integer || kind == TomlKind::floating; }
  const TomlNode* find(std::string_view name) const;
};

/// Limits fenced before the parser sees a byte (`toml_fence` in toml.cpp says why).
inline constexpr std::size_t kTomlMaxBytes = 16u << 20;
inline constexpr std::size_t kTomlMaxLine = 64u << 10;
inline constexpr int kTomlMaxDots = 16;
inline constexpr int kTomlMaxDepth = 32;
/// Keys, and elements of arrays: each takes some 300 bytes of memory when it is parsed.
inline constexpr int kTomlMaxValues = 600'000;
/// Keys below one heading. No table that is read has a tenth of it.
inline constexpr int kTomlMaxKeys = 1'000;

/// Parses the source text. On any error adds it to `out` and returns nothing: parsing stops at
/// the first syntax error, because what follows one cannot be trusted.
std::optional<TomlNode> parse_toml(const Sources& sources, SourceId source, Diagnostics& out);

/// As parse_toml, but a slip within one line (a decimal comma, a missing quotation mark, a unit
/// behind a number, a date that does not exist) is reported and passed over, so that the rest of
/// the file is looked at in the same run. The tree is returned even where `out` then holds errors;
/// nothing is returned where the structure of the file cannot be trusted.
std::optional<TomlNode> parse_toml_mending(const Sources& sources, SourceId source,
                                           Diagnostics& out);

}  // namespace ohmleaf
