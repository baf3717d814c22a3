#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

namespace ohmleaf {

/// A JSON value with its members in the order they were added. Numbers are integers or the exact
/// text of a decimal: no binary floating point on the way out.
class Json {
 public:
  using Array = std::vector<Json>;
  using Member = std::pair<std::string, Json>;
  using Object = std::vector<Member>;
  struct Number {
    std::string text;
    friend bool operator==(const Number&, const Number&) = default;
  };

  Json() = default;  // null
  Json(bool b) : value_(b) {}
  Json(int n) : value_(static_cast<std::int64_t>(n)) {}
  Json(std::int64_t n) : value_(n) {}
  Json(std::size_t n) : value_(static_cast<std::int64_t>(n)) {}
  Json(std::string s) : value_(std::move(s)) {}
  Json(std::string_view s) : value_(std::string(s)) {}
  Json(const char* s) : value_(std::string(s)) {}
  Json(Array a) : value_(std::move(a)) {}
  Json(Object o) : value_(std::move(o)) {}
  /// A decimal exactly as written, for example "1.3656".
  static Json number(std::string text) { return Json(Number{std::move(text)}); }
  static Json array() { return Json(Array{}); }
  static Json object() { return Json(Object{}); }

  bool is_null() const { return std::holds_alternative<std::monostate>(value_); }
  const bool* as_bool() const { return std::get_if<bool>(&value_); }
  const std::int64_t* as_int() const { return std::get_if<std::int64_t>(&value_); }
  const std::string* as_string() const { return std::get_if<std::string>(&value_); }
  const Array* as_array() const { return std::get_if<Array>(&value_); }
  const Object* as_object() const { return std::get_if<Object>(&value_); }
  /// The text of a number that is not an integer, else "".
  std::string number_text() const;

  /// Member by name, or null. For an object only.
  const Json* find(std::string_view key) const;
  /// The text of a string member, or "" where absent or of another kind.
  std::string text(std::string_view key) const;
  /// Adds or replaces a member, keeps the order; makes an object of a null.
  Json& set(std::string key, Json value);
  /// Appends; makes an array of a null.
  Json& push(Json value);

  /// `indent` < 0: one line. Always valid UTF-8, control characters escaped, no trailing newline.
  std::string dump(int indent = 2) const;

  friend bool operator==(const Json&, const Json&) = default;

 private:
  explicit Json(Number n) : value_(std::move(n)) {}
  std::variant<std::monostate, bool, std::int64_t, Number, std::string, Array, Object> value_;
};

/// Parses one JSON document, at most 64 levels deep, duplicate keys refused. On failure returns
/// nothing and says why in `error` (never null).
std::optional<Json> parse_json(std::string_view text, std::string& error);

}  // namespace ohmleaf
