#include "cli/roff.h"

#include "base/text.h"

namespace ohmleaf::cli {
namespace {

/// A hyphen that is typed ("--json") stays one when it is copied from the page.
std::string escaped(std::string_view text, bool typed) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const char c = text[i];
    const bool option = c == '-' && (i == 0 || text[i - 1] == ' ' || text[i - 1] == '-' ||
                                     text[i - 1] == '"' || text[i - 1] == '`');
    if (c == '\\')
      out += "\\e";
    else if (c == '-' && (typed || option))
      out += "\\-";
    else if (c == '\n')
      out += ' ';
    else
      out += c;
  }
  if (!out.empty() && (out[0] == '.' || out[0] == '\'')) out.insert(0, "\\&");
  return out;
}

/// A line for each sentence, as the macros want it, and no blank at an end.
std::string sentences(std::string_view text, bool typed) {
  std::string out;
  const std::string all = escaped(trim(text), typed);
  for (std::size_t i = 0; i < all.size(); ++i) {
    const bool end = (all[i] == '.' || all[i] == ':') && i + 2 < all.size() && all[i + 1] == ' ' &&
                     ((all[i + 2] >= 'A' && all[i + 2] <= 'Z') || all[i + 2] == '`');
    out += all[i];
    if (!end) continue;
    out += '\n';
    while (i + 1 < all.size() && all[i + 1] == ' ') ++i;
  }
  return out + "\n";
}

}  // namespace

std::string roff_word(std::string_view text) {
  std::string out = "\"";
  for (const char c : escaped(text, true))
    out += c == '"' ? std::string("\\(dq") : std::string(1, c);
  return out + "\"";
}

std::string roff_plain(std::string_view text) {
  return escaped(text, true);
}

Roff::Roff(std::string_view name, int section, std::string_view date, std::string_view source) {
  std::string title;
  for (const char c : name) title += c >= 'a' && c <= 'z' ? static_cast<char>(c - 32) : c;
  out_ = ".TH " + title + " " + std::to_string(section) + " " + std::string(date) + " " +
         roff_word(source) + "\n";
}

void Roff::heading(std::string_view text) {
  out_ += ".SH " + roff_word(text) + "\n";
  fresh_ = true;
}
void Roff::subheading(std::string_view text) {
  out_ += ".SS " + roff_word(text) + "\n";
  fresh_ = true;
}
void Roff::paragraph(std::string_view text) {
  while (!text.empty()) {
    const std::size_t end = text.find("\n\n");
    if (!fresh_) out_ += ".PP\n";
    fresh_ = false;
    out_ += sentences(text.substr(0, end), false);
    text = end == std::string_view::npos ? std::string_view() : text.substr(end + 2);
  }
}
void Roff::line(std::string_view text) {
  out_ += sentences(text, false);
  fresh_ = false;
}
void Roff::item(std::string_view tag, std::string_view text) {
  out_ += ".TP\n.B " + roff_word(tag) + "\n" + sentences(text, false);
  fresh_ = false;
}
void Roff::raw(std::string_view macro) {
  out_ += std::string(macro) + "\n";
}
void Roff::example(std::string_view lines) {
  if (!fresh_) out_ += ".PP\n";
  fresh_ = false;
  out_ += ".nf\n";
  for (const std::string_view l : split(lines, '\n'))
    out_ += l.empty() ? "\\&\n" : escaped(l, true) + "\n";
  out_ += ".fi\n";
}

}  // namespace ohmleaf::cli
