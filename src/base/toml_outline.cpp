#include "base/toml_outline.h"

#include <algorithm>
#include <map>

#include "base/text.h"

namespace ohmleaf {
namespace {

bool bare(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' ||
         c == '-';
}

void skip_blanks(std::string_view text, std::size_t& at) {
  while (at < text.size() && (text[at] == ' ' || text[at] == '\t')) ++at;
}

std::size_t end_of_line(std::string_view text, std::size_t at) {
  const auto end = text.find('\n', at);
  return end == std::string_view::npos ? text.size() : end;
}

/// Behind a text in quotation marks that begins at `at`, of one line or of several.
std::size_t behind_string(std::string_view text, std::size_t at) {
  const char quote = text[at];
  const std::string three(3, quote);
  const bool lines = text.substr(at).starts_with(three);
  at += lines ? 3 : 1;
  while (at < text.size()) {
    if (quote == '"' && text[at] == '\\') {
      at += 2;
    } else if (lines && text.substr(at).starts_with(three)) {
      at += 3;
      while (at < text.size() && text[at] == quote) ++at;  // up to two belong to the text
      return at;
    } else if (!lines && (text[at] == quote || text[at] == '\n')) {
      return at + 1;
    } else {
      ++at;
    }
  }
  return text.size();
}

/// Where the line ends on which a value ends that begins at `at`.
std::size_t end_of_value(std::string_view text, std::size_t at) {
  int depth = 0;
  while (at < text.size()) {
    const char c = text[at];
    if (c == '"' || c == '\'') {
      at = behind_string(text, at);
      continue;
    }
    if (c == '#') {
      at = end_of_line(text, at);
      continue;
    }
    if (c == '[' || c == '{') ++depth;
    if (c == ']' || c == '}') --depth;
    if (c == '\n' && depth <= 0) return at;
    ++at;
  }
  return text.size();
}

class Outline {
 public:
  explicit Outline(std::string_view text) : text_(text) {}

  std::vector<TomlLine> run() {
    std::size_t at = text_.starts_with("\xEF\xBB\xBF") ? 3 : 0;
    while (at < text_.size()) at = line(at);
    return std::move(lines_);
  }

 private:
  std::size_t line(std::size_t begin) {
    TomlLine out;
    std::size_t at = begin, end = end_of_line(text_, begin);
    skip_blanks(text_, at);
    if (at < end && text_[at] == '#') {
      out.kind = TomlLine::Kind::comment;
    } else if (at < end && text_[at] == '[') {
      out.kind = TomlLine::Kind::header;
      header(at);
      out.path = table_;
    } else if (at < end && text_[at] != '\r') {
      const auto keys = toml_dotted_key(text_, at);
      skip_blanks(text_, at);
      if (!keys.empty() && at < text_.size() && text_[at] == '=') {
        out.kind = TomlLine::Kind::entry;
        out.path = table_;
        for (const std::string& key : keys) out.path.push_back({key, -1});
        end = end_of_value(text_, at + 1);
      }
    }
    out.begin = static_cast<std::uint32_t>(begin);
    out.next = static_cast<std::uint32_t>(std::min(text_.size(), end + 1));
    if (end > begin && text_[end - 1] == '\r') --end;
    out.end = static_cast<std::uint32_t>(end);
    lines_.push_back(std::move(out));
    return lines_.back().next;
  }

  /// Each step of a header that is a list means its latest element.
  void header(std::size_t at) {
    const bool list = text_.substr(at).starts_with("[[");
    at += list ? 2 : 1;
    const auto keys = toml_dotted_key(text_, at);
    table_.clear();
    for (std::size_t i = 0; i < keys.size(); ++i) {
      table_.push_back({keys[i], -1});
      const std::string name = toml_path_text(table_);
      const auto known = latest_.find(name);
      if (list && i + 1 == keys.size())
        table_.back().index = known == latest_.end() ? (latest_[name] = 0) : ++known->second;
      else if (known != latest_.end())
        table_.back().index = known->second;
    }
  }

  std::string_view text_;
  std::vector<TomlLine> lines_;
  TomlPath table_;
  std::map<std::string, int> latest_;
};

}  // namespace

TomlPath toml_path(std::string_view text) {
  TomlPath out;
  for (const std::string_view step : split(text, '.')) {
    TomlStep one;
    const auto bracket = step.find('[');
    one.key = std::string(step.substr(0, bracket));
    if (bracket != std::string_view::npos) {
      one.index = 0;
      for (const char c : step.substr(bracket + 1))
        if (c >= '0' && c <= '9' && one.index < 100'000) one.index = one.index * 10 + (c - '0');
    }
    out.push_back(std::move(one));
  }
  return out;
}

std::string toml_path_text(const TomlPath& path) {
  std::string out;
  for (const TomlStep& step : path) {
    if (!out.empty()) out += '.';
    out += step.key;
    if (step.index >= 0) out += "[" + std::to_string(step.index) + "]";
  }
  return out;
}

std::vector<TomlLine> toml_outline(std::string_view text) {
  return Outline(text).run();
}

std::vector<std::string> toml_dotted_key(std::string_view text, std::size_t& at) {
  std::vector<std::string> out;
  for (;;) {
    skip_blanks(text, at);
    const std::size_t begin = at;
    if (at < text.size() && (text[at] == '"' || text[at] == '\'')) {
      at = std::min(behind_string(text, at), text.size());
      if (at - begin < 2) return {};
      out.emplace_back(text.substr(begin + 1, at - begin - 2));
    } else {
      while (at < text.size() && bare(text[at])) ++at;
      if (at == begin) return {};
      out.emplace_back(text.substr(begin, at - begin));
    }
    std::size_t next = at;
    skip_blanks(text, next);
    if (next >= text.size() || text[next] != '.') return out;
    at = next + 1;
  }
}

}  // namespace ohmleaf
