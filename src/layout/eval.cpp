#include "layout/eval.h"

#include <algorithm>
#include <array>

#include "base/date.h"
#include "base/text.h"
#include "layout/translation.h"

namespace ohmleaf::layout {
namespace {

using record::View;

Face with_tone(Face face, Tone tone) {
  if (tone == Tone::strong) return Face::bold;
  if (tone == Tone::emphasis) return Face::italic;
  return face;
}

Color with_tone(Color color, Tone tone, const Theme& theme) {
  if (tone == Tone::muted) return theme.muted;
  if (tone == Tone::accent) return theme.accent;
  return color;
}

bool has_text(const View* v) {
  if (!v || !v->present()) return false;
  if (v->kind != View::Kind::group) return true;
  const View* text = v->find("text");
  return text && text->present();
}

/// "BS 7671", "type A": what stands before a space that belongs to what follows it.
bool belongs_to_next(std::string_view before, char next) {
  const auto ends = [&](std::string_view word) {
    if (!before.ends_with(word)) return false;
    if (before.size() == word.size()) return true;
    const char c = before[before.size() - word.size() - 1];
    return c == ' ' || c == '(';
  };
  if (before.ends_with("≤") || before.ends_with("≥")) return true;
  return (ends("BS") && next >= '0' && next <= '9') || (ends("type") && next >= 'A' && next <= 'Z');
}

void capitalise(std::string& text) {
  if (text.find_first_of(" ,") <= 2) return;  // "r1", "rn": a small letter that means something
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z')
    text[0] = static_cast<char>(text[0] - 'a' + 'A');
}

}  // namespace

std::string glued(const std::string& text) {
  static constexpr std::array<std::string_view, 14> kUnits{"A",   "kA", "mA", "V", "Ω", "MΩ", "mm",
                                                           "mm²", "m",  "ms", "s", "W", "%",  "°C"};
  std::string out;
  std::size_t begin = 0;
  for (std::size_t i = text.find(' '); i < text.size(); i = text.find(' ', i + 1)) {
    if (i == 0 || i + 1 == text.size()) continue;
    const std::string_view before = std::string_view(text).substr(0, i);
    const std::string_view rest = std::string_view(text).substr(i + 1);
    bool stays = belongs_to_next(before, rest.front());
    if (!stays && before.back() >= '0' && before.back() <= '9') {
      const std::string_view word = rest.substr(0, rest.find_first_of(" ,;:)."));
      stays = std::find(kUnits.begin(), kUnits.end(), word) != kUnits.end();
    }
    if (!stays) continue;
    if (begin == 0) out.reserve(text.size() + 8);  // for some spaces that are a byte longer
    out.append(text, begin, i - begin);
    out += "\u00A0";
    begin = i + 1;
  }
  return begin == 0 ? text : out.append(text, begin);
}

const View* Evaluator::find(const Binding& b) const {
  const View* from = &root_;
  if (b.up > 0) {
    if (static_cast<std::size_t>(b.up) > items_.size()) return nullptr;
    from = items_[items_.size() - static_cast<std::size_t>(b.up)];
  }
  const View* v = b.path.empty() ? from : from->at(b.path);
  return v && v->kind != View::Kind::none ? v : nullptr;
}

bool Evaluator::draft() const {
  if (!form_.certificate) return false;
  const View* v = root_.at("issue.draft");
  return v && v->truthy();
}

std::string Evaluator::signed_line() const {
  const View* signer = root_.at("issue.signed_by");
  if (!signer || signer->text.empty()) return {};
  std::string text(word("signed"));
  const std::size_t at = text.find("{}");
  if (at != std::string::npos) text.replace(at, 2, signer->text);
  return text;
}

std::string Evaluator::banner() const {
  if (!form_.certificate) return std::string(word("no_certificate"));
  if (draft()) return std::string(word("draft"));
  const View* redacted = root_.at("issue.redacted");
  if (!redacted || !redacted->truthy()) return {};
  const View* number = root_.at("issue.number");
  std::string text(word("redacted"));
  const std::size_t at = text.find("{}");
  if (at != std::string::npos) text.replace(at, 2, number ? number->text : "");
  return text;
}

bool Evaluator::truthy(const std::optional<Binding>& binding) const {
  if (!binding) return true;
  const View* v = find(*binding);
  return v && v->truthy();
}

std::string Evaluator::word(std::string_view key) const {
  if (const auto it = form_.words.find(key); it != form_.words.end()) return it->second;
  for (const EngineWord& w : engine_words())
    if (w.key == key) return std::string(w.english);
  return std::string(key);
}

std::string Evaluator::mapped(const std::string& value, const WordMap& map) const {
  if (const auto it = map.find(value); it != map.end()) return it->second;
  return value;
}

std::string Evaluator::in_language(const std::string& text,
                                   const std::optional<Binding>& binding) const {
  if (!form_.translation || (binding && binding->own)) return text;
  return form_.translation->text(text);
}

std::string Evaluator::date_words(std::string_view iso) const {
  const auto month_name = [&](int month) {
    const std::string names = word("months");
    const auto parts = split(names, ' ');
    const auto i = static_cast<std::size_t>(month - 1);
    return i < parts.size() ? std::string(parts[i]) : std::to_string(month);
  };
  const auto words = [&](const Date& d) {
    return std::to_string(d.day) + "\u00A0" + month_name(d.month) + "\u00A0" +
           std::to_string(d.year);
  };
  if (const auto d = Date::parse(iso)) return words(*d);
  if (const auto t = DateTime::parse(iso)) {
    const auto two = [](int n) { return (n < 10 ? "0" : "") + std::to_string(n); };
    return words(t->date) + ", " + two(t->hour) + ":" + two(t->minute);
  }
  return std::string(iso);
}

std::string Evaluator::text_of(const View* v, const Run& how) const {
  if (!has_text(v)) return {};
  if (v->kind == View::Kind::group) v = v->find("text");
  std::string out;
  switch (v->kind) {
    case View::Kind::list:
      v->each([&](const View& item) {
        const std::string one = text_of(&item, how);
        if (!one.empty()) out += (out.empty() ? "" : how.join) + one;
      });
      return out;
    case View::Kind::date:
      out = date_words(v->text);
      break;
    case View::Kind::flag:
      out = mapped(v->text, how.words);
      if (out == v->text) out = word(v->text == "true" ? "yes" : "no");
      break;
    default:
      out = mapped(v->text, how.words);
      if (out == v->text) out = in_language(out, how.binding);
      out = glued(out);
      break;
  }
  if (how.format == Format::unit && !v->unit.empty()) out += "\u00A0" + v->unit;
  if (how.format == Format::capital) capitalise(out);
  return printable(out);
}

std::string Evaluator::text(const Run& run) const {
  if (!run.binding) return run.text;
  const std::string value = text_of(find(*run.binding), run);
  if (!value.empty()) return run.before + value + run.after;
  return run.empty ? *run.empty : word("empty");
}

bool Evaluator::any(const Runs& runs) const {
  bool bound = false;
  for (const Run& run : runs) {
    if (!run.binding) continue;
    bound = true;
    if (has_text(find(*run.binding))) return true;
  }
  return !bound && !runs.empty();
}

std::string Evaluator::plain(const Runs& runs) const {
  std::string out;
  for (const Run& run : runs) out += text(run);
  return out;
}

Rich Evaluator::rich(const Runs& runs, Face face, Color color) const {
  Rich out;
  for (const Run& run : runs) {
    std::string t = text(run);
    if (t.empty()) continue;
    Chunk chunk{std::move(t), with_tone(face, run.tone), with_tone(color, run.tone, form_.theme)};
    const bool absent = run.binding && !has_text(find(*run.binding));
    if (absent) {
      chunk.face = Face::italic;
      chunk.color = form_.theme.muted;
    }
    if (!out.empty() && out.back().face == chunk.face && out.back().color == chunk.color)
      out.back().text += chunk.text;
    else
      out.push_back(std::move(chunk));
  }
  return out;
}

std::string Evaluator::raw(const Binding& binding) const {
  const View* v = find(binding);
  if (!v) return {};
  if (v->kind != View::Kind::group) return v->text;
  const View* verdict = v->find("verdict");
  if (verdict && !verdict->text.empty()) return verdict->text;
  const View* text = v->find("text");  // a tick that no check looks at
  return text && (text->text == "yes" || text->text == "no") ? text->text : std::string();
}

std::optional<checks::Verdict> Evaluator::verdict(const Binding& binding) const {
  using checks::Verdict;
  struct Named {
    std::string_view word;
    Verdict verdict;
  };
  static constexpr std::array kNamed{
      Named{"pass", Verdict::pass},
      Named{"borderline", Verdict::borderline},
      Named{"doubtful", Verdict::doubtful},
      Named{"missing", Verdict::missing},
      Named{"fail", Verdict::fail},
      Named{"note", Verdict::note},
      Named{"not applicable", Verdict::not_applicable},
      Named{"true", Verdict::pass},
      Named{"yes", Verdict::pass},
      Named{"in order", Verdict::pass},
      Named{"false", Verdict::fail},
      Named{"no", Verdict::fail},
      Named{"not in order", Verdict::fail},
      Named{"limitation", Verdict::borderline},
      Named{"not recorded", Verdict::missing},
  };
  const std::string word = raw(binding);
  for (const Named& n : kNamed)
    if (n.word == word) return n.verdict;
  return std::nullopt;
}

}  // namespace ohmleaf::layout
