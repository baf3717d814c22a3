#include <algorithm>

#include "base/text.h"
#include "layout/translation.h"

// A form's own texts. A text is an array of runs; neighbours of one tone make one sentence, in
// which each value is a hole: [ "Tested on ", { path = "date" }, "." ] has the key "Tested on {}.".
// A value with words of its own before it stands alone: { path = ".caution", before = " Caution: "
// } has the key "Caution: {}".

namespace ohmleaf::layout {
namespace {

class FormTranslator {
 public:
  FormTranslator(const Translation& words, std::vector<std::string>* untranslated)
      : words_(words), untranslated_(untranslated) {}

  void runs(Runs& all) {
    Runs out;
    for (std::size_t i = 0; i < all.size();) {
      const std::size_t end = sentence_end(all, i);
      sentence({all.begin() + static_cast<std::ptrdiff_t>(i),
                all.begin() + static_cast<std::ptrdiff_t>(end)},
               out);
      i = end;
    }
    all = std::move(out);
  }

  void text(std::string& t) {
    const std::string_view front = lead(t), all = t;
    const std::string_view back = front.size() == t.size() ? std::string_view() : tail(t);
    const std::string_view key = all.substr(front.size(), all.size() - front.size() - back.size());
    if (const Pattern* p = line(key))
      t = std::string(front) + p->translated.front() + std::string(back);
  }

  void words(WordMap& map) {
    for (auto& [value, shown] : map) text(shown);
  }

  void block(Block& b) {
    runs(b.text);
    runs(b.caption);
    runs(b.reason);
    words(b.words);
    for (FieldSpec& f : b.fields) {
      runs(f.label);
      runs(f.value);
      words(f.words);
    }
    for (ColumnSpec& c : b.columns) {
      runs(c.heading);
      runs(c.value);
      text(c.group);
      words(c.words);
    }
    for (Block& inner : b.blocks) block(inner);
  }

 private:
  static bool stands_alone(const Run& r) { return r.binding && !r.before.empty(); }

  static std::size_t sentence_end(const Runs& all, std::size_t begin) {
    if (stands_alone(all[begin])) return begin + 1;
    const Run* literal = nullptr;
    for (std::size_t i = begin; i < all.size(); ++i) {
      if (stands_alone(all[i])) return i;
      if (all[i].binding) continue;
      if (literal && literal->tone != all[i].tone) return i;
      literal = &all[i];
    }
    return all.size();
  }

  const Pattern* line(std::string_view key) {
    if (!has_words(key)) return nullptr;
    const Pattern* p = words_.form_line(key);
    if (!p && untranslated_) untranslated_->emplace_back(key);
    return p;
  }

  /// What stands around the words and is the same in every language.
  static std::string_view lead(std::string_view text) {
    std::size_t n = 0;
    for (bool more = true; more && n < text.size();) {
      more = false;
      for (const std::string_view s : {" ", "\u00A0", "\n", "·", "–", ".", ",", ";", ":", "("})
        if (text.substr(n).starts_with(s)) {
          n += s.size();
          more = true;
          break;
        }
    }
    return text.substr(0, n);
  }
  static std::string_view tail(std::string_view text) {
    std::size_t n = text.size();
    while (n > 0 && (text[n - 1] == ' ' || text[n - 1] == '\n')) --n;
    return text.substr(n);
  }

  void sentence(Runs part, Runs& out) {
    std::string key;
    Runs values;
    Tone tone = Tone::normal;
    for (Run& r : part) {
      if (r.binding) {
        value(r);
        key += "{}";
        values.push_back(r);
      } else {
        key += r.text;
        tone = r.tone;
      }
    }
    const std::string_view front = lead(key);
    const std::string_view back = front.size() == key.size() ? std::string_view() : tail(key);
    const Pattern* p =
        line(std::string_view(key).substr(front.size(), key.size() - front.size() - back.size()));
    if (!p) {
      out.insert(out.end(), part.begin(), part.end());
      return;
    }
    const auto literal = [&](std::string text) {
      if (text.empty()) return;
      Run r;
      r.text = std::move(text);
      r.tone = tone;
      out.push_back(std::move(r));
    };
    literal(std::string(front) + p->translated.front() +
            (p->order.empty() ? std::string(back) : std::string()));
    for (std::size_t i = 0; i < p->order.size(); ++i) {
      out.push_back(values[p->order[i]]);
      const bool last = i + 1 == p->order.size();
      literal(p->translated[i + 1] + (last ? std::string(back) : std::string()));
    }
  }

  /// Before and after a value make a sentence with it; what stands for an absent one is its own.
  void value(Run& r) {
    words(r.words);
    if (r.empty) text(*r.empty);
    if (!has_words(r.before) && !has_words(r.after)) return;
    const std::string_view front = lead(r.before), back = tail(r.after);
    const std::string key =
        r.before.substr(front.size()) + "{}" + r.after.substr(0, r.after.size() - back.size());
    if (const Pattern* p = line(key)) {
      r.before = std::string(front) + p->translated.front();
      r.after = p->translated.back() + std::string(back);
    }
  }

  const Translation& words_;
  std::vector<std::string>* untranslated_;
};

}  // namespace

Form translated(const Form& form, std::shared_ptr<const Translation> translation,
                std::vector<std::string>* untranslated) {
  Form out = form;
  if (form.language != translation->language) {
    FormTranslator to(*translation, untranslated);
    to.text(out.title);
    for (Runs* r : {&out.page.header_left, &out.page.header_middle, &out.page.footer_left,
                    &out.page.footer_right})
      to.runs(*r);
    for (Block& b : out.blocks) to.block(b);
    out.words = translation->words;
    out.language = translation->language;
  } else {
    for (const auto& [key, word] : translation->words) out.words.emplace(key, word);
  }
  out.translation = std::move(translation);
  return out;
}

}  // namespace ohmleaf::layout
