#include "cli/dialogue.h"

#include "base/text.h"

namespace ohmleaf::cli {
namespace {

constexpr int kLabel = 9;
constexpr int kRoom = 12;  ///< columns left for the answer behind a long question

}  // namespace

void Dialogue::put(std::string_view text) {
  if (open_) open_ = e_.out(text);
}

void Dialogue::heading(std::string_view text) {
  put("\n");
  line(text, Tone::strong);
}

void Dialogue::detail(std::string_view label, std::string_view value) {
  if (value.empty()) return;
  put(wrapped(visible(value), "  " + padded(label, kLabel), std::string(kLabel + 2, ' '), width()));
}

void Dialogue::line(std::string_view text, Tone tone) {
  const std::string whole = wrapped(visible(text), "", "", width());
  put(style_(tone, std::string_view(whole).substr(0, whole.size() - 1)) + "\n");
}

std::optional<std::string> Dialogue::ask(std::string_view prompt) {
  std::string shown = wrapped(visible(prompt) + " >", "", "  ", width() - kRoom);
  shown.pop_back();
  put(style_(Tone::strong, shown) + " ");
  if (!open_) return std::nullopt;
  const auto typed = e_.read_line ? e_.read_line() : std::nullopt;
  // What is typed ends its own line; what is piped in is shown, so that the record can be followed.
  if (!typed)
    put("\n");
  else if (!e_.in_is_terminal)
    put(visible(*typed) + "\n");
  return typed ? std::optional(std::string(trim(*typed))) : std::nullopt;
}

bool Dialogue::interrupted() const {
  return e_.interrupted && e_.interrupted();
}

}  // namespace ohmleaf::cli
