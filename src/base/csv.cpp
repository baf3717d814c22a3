#include "base/csv.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "base/text.h"

namespace ohmleaf {
namespace {

class CsvReader {
 public:
  CsvReader(std::string_view text, SourceId source, char delimiter, Diagnostics& out)
      : text_(text), source_(source), delimiter_(delimiter), out_(out) {}

  std::optional<std::vector<CsvRow>> read() {
    std::vector<CsvRow> rows;
    if (text_.starts_with("\xEF\xBB\xBF")) at_ = 3;
    while (at_ < text_.size()) {
      CsvRow row;
      do {
        if (!cell(row)) return std::nullopt;
      } while (next_cell());
      end_of_line();
      bool empty = true;
      for (const CsvCell& c : row) empty = empty && trim(c.text).empty();
      if (empty) continue;
      if (rows.size() == kCsvMaxRows)
        return fail(row.front().span, "csv-too-large",
                    fmt::format("the file has more than {} rows", kCsvMaxRows),
                    "Export the circuits of one job alone.");
      rows.push_back(std::move(row));
    }
    return rows;
  }

 private:
  std::nullopt_t fail(Span span, const char* id, std::string message, std::string hint) {
    out_.error(id, span, std::move(message), {std::move(hint)});
    return std::nullopt;
  }
  Span span(std::size_t begin, std::size_t end) const {
    return {source_, static_cast<std::uint32_t>(begin), static_cast<std::uint32_t>(end)};
  }
  bool at_line_end() const {
    return at_ == text_.size() || text_[at_] == '\n' || text_[at_] == '\r';
  }
  bool next_cell() {
    if (at_ >= text_.size() || text_[at_] != delimiter_) return false;
    ++at_;
    return true;
  }
  void end_of_line() {
    if (at_ < text_.size() && text_[at_] == '\r') ++at_;
    if (at_ < text_.size() && text_[at_] == '\n') ++at_;
  }

  bool cell(CsvRow& row) {
    const std::size_t begin = at_;
    if (row.size() == kCsvMaxCells) {
      fail(span(begin, std::min(begin + 1, text_.size())), "csv-too-large",  // it may be the file's end
           fmt::format("the row has more than {} cells", kCsvMaxCells),
           "Is this the right file, and the right delimiter?");
      return false;
    }
    // Blanks before a quotation mark are the program's, not the cell's.
    std::size_t mark = at_;
    while (mark < text_.size() && text_[mark] == ' ' && delimiter_ != ' ') ++mark;
    CsvCell out;
    if (mark < text_.size() && text_[mark] == '"') {
      at_ = mark;
      if (!quoted(out)) return false;
    } else {
      while (!at_line_end() && text_[at_] != delimiter_) ++at_;
      out.text = text_.substr(begin, at_ - begin);
    }
    out.span = span(begin, at_);
    row.push_back(std::move(out));
    return true;
  }

  bool quoted(CsvCell& out) {
    const std::size_t begin = at_++;
    for (;;) {
      const std::size_t mark = text_.find('"', at_);
      if (mark == std::string_view::npos) {
        fail(span(begin, begin + 1), "csv-quotation",
             "the quotation mark that opens this cell is never closed",
             "Write \"\" for a mark within a cell.");
        return false;
      }
      out.text += text_.substr(at_, mark - at_);
      at_ = mark + 1;
      if (at_ == text_.size() || text_[at_] != '"') break;
      out.text += '"';
      ++at_;
    }
    while (at_ < text_.size() && text_[at_] == ' ' && delimiter_ != ' ') ++at_;
    if (at_line_end() || text_[at_] == delimiter_) return true;
    fail(span(begin, at_ + 1), "csv-quotation", "text stands behind the closed quotation mark",
         "Put the mark at the end of the cell, or check which delimiter the file has.");
    return false;
  }

  std::string_view text_;
  SourceId source_;
  char delimiter_;
  Diagnostics& out_;
  std::size_t at_ = 0;
};

/// Digits with at most one point between them, and one sign: nothing that could be worked out.
bool is_plain_number(std::string_view text) {
  if (text.starts_with('-') || text.starts_with('+')) text.remove_prefix(1);
  const auto digit = [](char c) { return c >= '0' && c <= '9'; };
  return !text.empty() && digit(text.front()) && digit(text.back()) &&
         std::count(text.begin(), text.end(), '.') <= 1 &&
         std::all_of(text.begin(), text.end(), [&](char c) { return digit(c) || c == '.'; });
}

}  // namespace

std::optional<std::vector<CsvRow>> parse_csv(const Sources& sources, SourceId source,
                                             char delimiter, Diagnostics& out) {
  const std::string& text = sources.get(source).text();
  if (text.size() > kCsvMaxBytes) {
    out.error("file-too-large", Span{source, 0, 0},
              fmt::format("the file is larger than {} MiB", kCsvMaxBytes >> 20),
              {"Such a file has a few kilobytes: is this the right one?"});
    return std::nullopt;
  }
  if (const auto bad = first_invalid_utf8(text)) {
    const auto at = static_cast<std::uint32_t>(*bad);
    out.error("not-utf8", Span{source, at, at + 1}, "the file is not UTF-8 from here on",
              {"Export it as \"CSV UTF-8\", or save it again so."});
    return std::nullopt;
  }
  if (const std::size_t zero = text.find('\0'); zero != std::string::npos) {
    const auto at = static_cast<std::uint32_t>(zero);
    out.error("not-utf8", Span{source, at, at + 1}, "the file holds a zero byte: it is no text",
              {"Export it as \"CSV UTF-8\", or save it again so."});
    return std::nullopt;
  }
  return CsvReader(text, source, delimiter, out).read();
}

bool begins_formula(std::string_view cell) {
  static constexpr std::string_view kSigns[] = {
      "=", "+", "-", "@", "\t", "\r", "\n", "\uFF1D", "\uFF0B", "\uFF0D", "\uFF20"};
  const bool sign = std::any_of(std::begin(kSigns), std::end(kSigns),
                                [&](std::string_view s) { return cell.starts_with(s); });
  return sign && !is_plain_number(cell);
}

std::string csv_row(const std::vector<std::string>& cells) {
  std::string out;
  for (const std::string& cell : cells) {
    if (&cell != &cells.front()) out += ',';
    const std::string_view guard = begins_formula(cell) ? "'" : "";
    if (cell.find_first_of(",;\t\"\r\n") == std::string::npos) {
      out += guard;
      out += cell;
      continue;
    }
    out += '"';
    out += guard;
    for (const char c : cell) out += c == '"' ? std::string("\"\"") : std::string(1, c);
    out += '"';
  }
  return out + "\r\n";
}

}  // namespace ohmleaf
