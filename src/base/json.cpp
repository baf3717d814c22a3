#include "base/json.h"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <set>

#include "base/text.h"

namespace ohmleaf {
namespace {

constexpr std::size_t kMaxDepth = 64;

void append_string(std::string& out, std::string_view s) {
  static constexpr std::string_view hex = "0123456789abcdef";
  out += '"';
  std::string clean;
  if (first_invalid_utf8(s)) {
    for (const char32_t cp : decode_utf8(s)) append_utf8(clean, cp);
    s = clean;
  }
  for (const char c : s) {
    const auto u = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\') { out += '\\'; out += c; }
    else if (c == '\n') out += "\\n";
    else if (u < 0x20 || u == 0x7F) { out += "\\u00"; out += hex[u >> 4]; out += hex[u & 15]; }
    else out += c;
  }
  out += '"';
}

/// Builds our value from the parser's events: keeps the order of members and the number texts.
class Builder : public nlohmann::json_sax<nlohmann::json> {
 public:
  explicit Builder(std::string& error) : error_(error) {}
  Json root;

  bool null() override { return add(Json()); }
  bool boolean(bool b) override { return add(Json(b)); }
  bool number_integer(std::int64_t n) override { return add(Json(n)); }
  bool number_unsigned(std::uint64_t n) override {
    if (n > static_cast<std::uint64_t>(INT64_MAX)) return add(Json::number(std::to_string(n)));
    return add(Json(static_cast<std::int64_t>(n)));
  }
  bool number_float(double, const std::string& text) override { return add(Json::number(text)); }
  bool string(std::string& s) override { return add(Json(std::move(s))); }
  bool binary(nlohmann::json::binary_t&) override { return false; }
  bool start_object(std::size_t) override { return open(Json::object()); }
  bool start_array(std::size_t) override { return open(Json::array()); }
  bool end_object() override { return close(); }
  bool end_array() override { return close(); }
  bool key(std::string& k) override {
    if (!seen_.back().insert(k).second) {
      error_ = "the key \"" + visible(k) + "\" stands twice";
      return false;
    }
    keys_.back() = std::move(k);
    return true;
  }
  bool parse_error(std::size_t at, const std::string&, const nlohmann::detail::exception&) override {
    error_ = "not valid JSON at byte " + std::to_string(at);
    return false;
  }

 private:
  bool add(Json value) {
    if (stack_.empty()) root = std::move(value);
    else if (stack_.back().as_object() != nullptr) members_.back().emplace_back(keys_.back(), std::move(value));
    else elements_.back().push_back(std::move(value));
    return true;
  }
  bool open(Json kind) {
    if (stack_.size() >= kMaxDepth) {
      error_ = "nested more than 64 deep";
      return false;
    }
    stack_.push_back(std::move(kind));
    members_.emplace_back();
    elements_.emplace_back();
    keys_.emplace_back();
    seen_.emplace_back();
    return true;
  }
  bool close() {
    Json done = stack_.back().as_object() != nullptr ? Json(std::move(members_.back()))
                                                     : Json(std::move(elements_.back()));
    stack_.pop_back();
    members_.pop_back();
    elements_.pop_back();
    keys_.pop_back();
    seen_.pop_back();
    return add(std::move(done));
  }

  std::string& error_;
  std::vector<Json> stack_;
  std::vector<Json::Object> members_;
  std::vector<Json::Array> elements_;
  std::vector<std::string> keys_;
  std::vector<std::set<std::string>> seen_;
};

}  // namespace

const Json* Json::find(std::string_view key) const {
  if (const Object* o = as_object())
    for (const Member& m : *o)
      if (m.first == key) return &m.second;
  return nullptr;
}

std::string Json::text(std::string_view key) const {
  const Json* j = find(key);
  const std::string* s = j == nullptr ? nullptr : j->as_string();
  return s == nullptr ? std::string() : *s;
}

Json& Json::set(std::string key, Json value) {
  if (is_null()) value_ = Object{};
  auto& o = std::get<Object>(value_);
  for (Member& m : o)
    if (m.first == key) {
      m.second = std::move(value);
      return *this;
    }
  o.emplace_back(std::move(key), std::move(value));
  return *this;
}

Json& Json::push(Json value) {
  if (is_null()) value_ = Array{};
  std::get<Array>(value_).push_back(std::move(value));
  return *this;
}

namespace {

struct Dumper {
  int indent;
  std::string out;

  void line(int depth) {
    if (indent < 0) return;
    out += '\n';
    out.append(static_cast<std::size_t>(indent) * static_cast<std::size_t>(depth), ' ');
  }

  void value(const Json& j, int depth) {
    if (j.is_null()) out += "null";
    else if (const bool* b = j.as_bool()) out += *b ? "true" : "false";
    else if (const auto* n = j.as_int()) out += std::to_string(*n);
    else if (const auto* s = j.as_string()) append_string(out, *s);
    else if (const auto* a = j.as_array()) array(*a, depth);
    else if (const auto* o = j.as_object()) object(*o, depth);
    else out += j.number_text();
  }
  void array(const Json::Array& a, int depth) {
    out += '[';
    for (std::size_t i = 0; i < a.size(); ++i) {
      if (i > 0) out += indent < 0 ? ", " : ",";
      line(depth + 1);
      value(a[i], depth + 1);
    }
    if (!a.empty()) line(depth);
    out += ']';
  }
  void object(const Json::Object& o, int depth) {
    out += '{';
    for (std::size_t i = 0; i < o.size(); ++i) {
      if (i > 0) out += indent < 0 ? ", " : ",";
      line(depth + 1);
      append_string(out, o[i].first);
      out += ": ";
      value(o[i].second, depth + 1);
    }
    if (!o.empty()) line(depth);
    out += '}';
  }
};

}  // namespace

std::string Json::number_text() const {
  const auto* n = std::get_if<Number>(&value_);
  return n == nullptr ? std::string() : n->text;
}

std::string Json::dump(int indent) const {
  Dumper d{indent, {}};
  d.value(*this, 0);
  return std::move(d.out);
}

std::optional<Json> parse_json(std::string_view text, std::string& error) {
  Builder builder(error);
  error.clear();
  if (!nlohmann::json::sax_parse(text.begin(), text.end(), &builder)) {
    if (error.empty()) error = "not valid JSON";
    return std::nullopt;
  }
  return std::move(builder.root);
}

}  // namespace ohmleaf
