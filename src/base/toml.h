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

/// Parses the source text. On any error adds it to `out` and returns nothing: parsing stops at
/// the first syntax error, because what follows one cannot be trusted.
std::optional<TomlNode> parse_toml(const Sources& sources, SourceId source, Diagnostics& out);

}  // namespace ohmleaf
