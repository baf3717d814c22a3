#include "cli/questions.h"

#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"

namespace ohmleaf::cli {
namespace {

/// The choice meant by its number; anything else stays as typed.
std::string chosen(const Wanted& w, const std::string& typed) {
  if (typed.empty() || typed.size() > 3 ||
      !std::all_of(typed.begin(), typed.end(), [](char c) { return c >= '0' && c <= '9'; }))
    return typed;
  const auto number = static_cast<std::size_t>(std::stoul(typed));
  return number >= 1 && number <= w.choices.size() ? w.choices[number - 1] : typed;
}

std::string fault(const Wanted& w, const std::string& answer) {
  const bool known = std::find(w.choices.begin(), w.choices.end(), answer) != w.choices.end();
  if (w.only_choices && !known)
    return fmt::format("\"{}\" is not one of: {}", answer, join(w.choices, ", "));
  return w.wrong ? w.wrong(answer) : std::string();
}

}  // namespace

bool Questions::take(const Wanted& w) {
  if (!w.into->empty()) {
    const std::string bad = fault(w, *w.into);
    if (bad.empty()) return true;
    e_.err("ohmleaf: error: " + w.flag + ": " + visible(bad) + "\n");
    code_ = kInput;
    return false;
  }
  if (on_terminal()) return ask(w);
  if (w.needed)
    missing_.push_back(w.flag);
  else
    *w.into = w.otherwise;
  return true;
}

bool Questions::ask(const Wanted& w) {
  if (!begun_)
    say_.line(
        "Enter takes what stands in brackets. Ctrl-C stops; nothing is written "
        "before the last answer.",
        Tone::quiet);
  begun_ = true;
  for (std::size_t i = 0; i < w.choices.size(); ++i)
    say_.detail(fmt::format("{}", i + 1),
                i < w.notes.size() ? w.choices[i] + ": " + w.notes[i] : w.choices[i]);
  for (;;) {
    const auto typed = say_.ask(w.words + (w.otherwise.empty() ? "" : " [" + w.otherwise + "]"));
    if (!typed) {
      code_ = say_.interrupted() ? kInterrupted : say_.open() ? kInput : kSystem;
      if (code_ == kInput)
        e_.err(
            "ohmleaf: error: the input ended before the last answer\n  → Nothing was written.\n");
      return false;
    }
    const std::string answer = typed->empty() ? w.otherwise : chosen(w, *typed);
    const std::string bad =
        answer.empty() && w.otherwise.empty() && !w.needed ? std::string() : fault(w, answer);
    if (bad.empty() && (!w.needed || !answer.empty())) {
      *w.into = answer;
      return true;
    }
    say_.line(bad.empty() ? "This is needed." : bad, Tone::bad);
  }
}

int Questions::settle(const std::string& example) {
  if (code_ != kFine || missing_.empty()) return code_;
  e_.err("ohmleaf: error: there is no terminal to ask on, and these are not given: " +
         join(missing_, ", ") + "\n  → " + example + "\n");
  return kInput;
}

}  // namespace ohmleaf::cli
