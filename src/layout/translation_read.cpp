#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>

#include "base/text.h"
#include "base/toml.h"
#include "layout/translation.h"
#include "layout/word_rules.h"

namespace ohmleaf::layout {
namespace {

constexpr std::array<std::string_view, 6> kKeys{"format", "language", "name",
                                                "words",  "form",     "text"};

std::string stem(std::string_view name) {
  if (const auto slash = name.find_last_of('/'); slash != std::string_view::npos)
    name.remove_prefix(slash + 1);
  if (name.ends_with(".toml")) name.remove_suffix(5);
  if (name.starts_with("words-")) name.remove_prefix(6);
  return std::string(name);
}

/// "cy", "en-GB", "zh-Hant": letters and digits in groups of at most eight.
bool is_language_tag(std::string_view tag) {
  bool first = true;
  for (const std::string_view part : split(tag, '-')) {
    const bool letters = std::all_of(part.begin(), part.end(), [](char c) {
      return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
    });
    const bool digits_too = std::all_of(part.begin(), part.end(), [](char c) {
      return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
    });
    if (part.empty() || part.size() > 8 || !digits_too) return false;
    if (first && (!letters || part.size() < 2 || part.size() > 3)) return false;
    first = false;
  }
  return true;
}

/// Numbers and the signs that carry a verdict, sorted: they must be the same on both sides.
std::vector<std::string> figures(std::string_view text) {
  std::vector<std::string> out;
  std::string number;
  const auto close = [&] {
    while (!number.empty() && (number.back() == '.' || number.back() == ',')) number.pop_back();
    if (!number.empty()) out.push_back(number);
    number.clear();
  };
  for (const char32_t c : decode_utf8(text)) {
    const bool digit = c >= '0' && c <= '9';
    if (digit || (!number.empty() && (c == '.' || c == ','))) {
      number += static_cast<char>(c);
      continue;
    }
    close();
    if (c == U'≤' || c == U'≥' || c == U'<' || c == U'>' || c == U'Ω' || c == U'Δ' || c == U'%' ||
        c == U'±' || c == U'√' || c == U'×' || c == U'÷')
      append_utf8(out.emplace_back(), c);
  }
  close();
  std::sort(out.begin(), out.end());
  return out;
}

class WordsReader {
 public:
  WordsReader(Translation& to, Diagnostics& out) : to_(to), out_(out) {}

  bool read(const TomlNode& root) {
    const TomlNode* format = root.find("format");
    if (!format || format->kind != TomlKind::integer || format->text != "1") {
      wrong("words-format", format ? format->span : root.span,
            format ? "this words file is of a format that is not known here"
                   : "the words file does not say its format",
            "Write format = 1 on the first line.");
      return false;
    }
    for (const TomlNode& c : root.children)
      if (std::find(kKeys.begin(), kKeys.end(), c.key) == kKeys.end())
        unknown(c, "a words file", {kKeys.begin(), kKeys.end()});
    head(root);
    if (const TomlNode* n = table(root, "words")) engine(*n);
    if (const TomlNode* n = table(root, "form")) lines(*n, true);
    if (const TomlNode* n = table(root, "text")) lines(*n, false);
    return ok_;
  }

 private:
  void wrong(std::string id, Span span, std::string message, std::string hint,
             std::vector<Label> labels = {}) {
    Diagnostic& d = out_.error(std::move(id), span, std::move(message), {std::move(hint)});
    d.labels = std::move(labels);
    ok_ = false;
  }

  void unknown(const TomlNode& node, std::string_view what,
               const std::vector<std::string_view>& known) {
    const auto near = nearest(node.key, known);
    std::string all;
    for (const std::string_view k : known) all += (all.empty() ? "" : ", ") + std::string(k);
    wrong("words-unknown-key", node.key_span,
          fmt::format("{} has no key \"{}\"", what, visible(node.key)),
          near ? "Did you mean \"" + *near + "\"?" : "Its keys are: " + all + ".");
  }

  void head(const TomlNode& root) {
    const TomlNode* tag = root.find("language");
    if (tag && tag->kind == TomlKind::string && is_language_tag(tag->text))
      to_.language = tag->text;
    else
      wrong("words-language", tag ? tag->span : root.span,
            tag ? "this is no language tag" : "the words file does not say its language",
            "Write language = \"cy\": the tag of BCP 47, which readers of the pages are told.");
    const TomlNode* name = root.find("name");
    if (name && name->kind == TomlKind::string) to_.title = to_nfc(name->text);
  }

  const TomlNode* table(const TomlNode& root, std::string_view key) {
    const TomlNode* n = root.find(key);
    if (n && !n->is_table()) {
      wrong("words-type", n->span.valid() ? n->span : n->key_span,
            fmt::format("\"{}\" is a table of texts", key),
            fmt::format("Write [{}], and below it \"English\" = \"translation\".", key));
      return nullptr;
    }
    return n;
  }

  bool printable_text(const TomlNode& node) {
    if (node.kind != TomlKind::string) {
      wrong("words-type", node.span, "a translation is text", "Put it in quotation marks.");
      return false;
    }
    for (const std::string_view side : {std::string_view(node.key), std::string_view(node.text)})
      for (const char32_t c : decode_utf8(side))
        if (c != '\n' && is_forbidden_in_text(c)) {
          wrong("words-character", node.span,
                fmt::format("a character that may not be printed (U+{:04X}) stands here",
                            static_cast<std::uint32_t>(c)),
                "Remove it.");
          return false;
        }
    if (!trim(node.text).empty()) return true;
    wrong("words-empty", node.span, "the translation is empty",
          "Fill it in, or take the line out: the English text is then printed.");
    return false;
  }

  void engine(const TomlNode& table) {
    std::vector<std::string_view> known;
    for (const EngineWord& w : engine_words()) known.push_back(w.key);
    for (const TomlNode& n : table.children) {
      const auto words = engine_words();
      const auto it = std::find_if(words.begin(), words.end(),
                                   [&](const EngineWord& w) { return w.key == n.key; });
      if (it == words.end()) {
        unknown(n, "[words]", known);
        continue;
      }
      if (!printable_text(n)) continue;
      check_engine(n);
      to_.words[n.key] = to_nfc(n.text);
    }
    // Two words that are sound each by itself may still be one another's contrary.
    if (const auto fault = ok_ ? fault_in_map(to_.words) : std::nullopt)
      wrong("words-" + fault->id, table.find(fault->key)->span, fault->what, fault->hint);
  }

  void check_engine(const TomlNode& n) {
    if (const auto fault = fault_in_engine_words({{n.key, n.text}}))
      wrong("words-" + fault->id, n.span, fault->what, fault->hint);
    if (n.key == "months" && split(trim(n.text), ' ').size() != 12)
      wrong("words-months", n.span, "these are not twelve months",
            "Write the twelve names in one text, with a space between them.");
  }

  void lines(const TomlNode& table, bool form) {
    std::map<std::string, Span, std::less<>> seen;
    for (const TomlNode& n : table.children) {
      if (!printable_text(n)) continue;
      Pattern p;
      p.english = to_nfc(n.key);
      p.span = n.key_span;
      std::string folded = p.english;
      if (!folded.empty() && folded[0] >= 'A' && folded[0] <= 'Z')
        folded[0] = static_cast<char>(folded[0] - 'A' + 'a');
      if (const auto [it, fresh] = seen.emplace(folded, n.key_span); !fresh && !form) {
        wrong("words-twice", n.key_span,
              fmt::format("\"{}\" stands here twice", visible(p.english)),
              "A capital first letter makes no difference: keep one of the two lines.",
              {{it->second, "the first one"}});
        continue;
      }
      if (!english_side(n, p, form) || !own_side(n, p)) continue;
      if (form)
        to_.add_form(std::move(p));
      else
        to_.add_text(std::move(p));
    }
  }

  bool english_side(const TomlNode& n, Pattern& p, bool form) {
    std::string literal;
    for (std::size_t i = 0; i < p.english.size(); ++i) {
      const bool value = p.english.compare(i, 3, "{#}") == 0;
      if (value || p.english.compare(i, 2, "{}") == 0) {
        p.literals.push_back(std::move(literal));
        p.values.push_back(value);
        literal.clear();
        i += value ? 2 : 1;
        continue;
      }
      if (p.english[i] == '{' || p.english[i] == '}') {
        wrong("words-hole", n.key_span, "a hole of the English text is written {} or {#}",
              "Number the holes on the right side only: \"{} of {}\" = \"{0} o {1}\".");
        return false;
      }
      literal += p.english[i];
    }
    p.literals.push_back(std::move(literal));
    for (std::size_t i = 1; !form && i + 1 < p.literals.size(); ++i)
      if (p.literals[i].empty()) {
        wrong("words-hole", n.key_span, "two holes stand side by side",
              "Put a character between them: nothing says where one ends.");
        return false;
      }
    for (const std::string& l : p.literals)
      p.weight += static_cast<std::size_t>(
          std::count_if(l.begin(), l.end(), [](char c) { return c != ' '; }));
    if (p.weight > 0) return true;
    wrong("words-hole", n.key_span, "a text of holes alone fits everything",
          "Give it at least one character of its own.");
    return false;
  }

  bool own_side(const TomlNode& n, Pattern& p) {
    const std::string own = to_nfc(n.text);
    const std::size_t holes = p.literals.size() - 1;
    std::vector<int> used(holes, 0);
    std::string literal, plain;
    for (std::size_t i = 0; i < own.size(); ++i) {
      if (own[i] != '{' && own[i] != '}') {
        literal += own[i];
        continue;
      }
      const std::size_t close = own.find('}', i);
      const std::string digits =
          own[i] == '{' && close != std::string::npos ? own.substr(i + 1, close - i - 1) : "";
      const bool number = !digits.empty() && digits.size() <= 2 &&
                          digits.find_first_not_of("0123456789") == std::string::npos;
      const std::size_t hole = number ? static_cast<std::size_t>(std::stoi(digits)) : holes;
      if (hole >= holes) return hole_wrong(n, holes, "a hole stands here that the English has not");
      ++used[hole];
      p.order.push_back(hole);
      p.translated.push_back(literal);
      plain += literal + " ";
      literal.clear();
      i = close;
    }
    plain += literal;
    p.translated.push_back(std::move(literal));
    for (const int n_used : used)
      if (n_used != 1)
        return hole_wrong(n, holes,
                          n_used == 0
                              ? "a hole of the English text is lost in the translation"
                              : "a hole of the English text stands twice in the translation");
    return same_figures(n, p, plain);
  }

  bool hole_wrong(const TomlNode& n, std::size_t holes, std::string message) {
    std::string all;
    for (std::size_t i = 0; i < holes; ++i) all += (i ? ", " : "") + fmt::format("{{{}}}", i);
    wrong(
        "words-hole", n.span, std::move(message),
        holes == 0 ? "Write it without braces." : "Each of these stands in it once: " + all + ".");
    return false;
  }

  /// A number, an ohm or a sign that is changed by a slip of the pen would change a limit.
  bool same_figures(const TomlNode& n, const Pattern& p, const std::string& plain) {
    std::string english;
    for (const std::string& l : p.literals) english += l + " ";
    if (figures(english) == figures(plain)) return true;
    wrong("words-figure", n.span,
          fmt::format("the numbers and signs of the translation are not those of \"{}\"",
                      visible(p.english)),
          "Numbers, Ω, %, ≤, ≥, ± and the like stand alike on both sides.");
    return false;
  }

  Translation& to_;
  Diagnostics& out_;
  bool ok_ = true;
};

}  // namespace

std::optional<Translation> load_translation(const Sources& sources, SourceId source,
                                            Diagnostics& out) {
  const auto root = parse_toml(sources, source, out);
  if (!root) return std::nullopt;
  Translation t;
  t.name = t.title = stem(sources.get(source).name());
  if (!WordsReader(t, out).read(*root)) return std::nullopt;
  return t;
}

}  // namespace ohmleaf::layout
