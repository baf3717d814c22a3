#include "pdf/own_objects.h"

#include <fmt/format.h>

#include <array>
#include <charconv>
#include <optional>

namespace ohmleaf::pdf {
namespace {

constexpr std::size_t kLargest = 9'999'999'999;
constexpr std::string_view kStart = "startxref\n", kTable = "xref\n0 ";

std::optional<std::size_t> number_at(std::string_view text, std::size_t at) {
  std::size_t n = 0;
  if (at > text.size()) return std::nullopt;
  const auto [end, error] = std::from_chars(text.data() + at, text.data() + text.size(), n);
  if (error != std::errc() || end == text.data() + text.size() || *end != '\n') return std::nullopt;
  return n;
}

/// A file's cross-reference table and what stands after it.
struct Tail {
  std::size_t at = 0;  ///< of the table
  std::size_t count = 0;
  std::string entries, trailer;  ///< the trailer up to "startxref"
};

std::optional<Tail> tail_of(std::string_view file) {
  Tail tail;
  const std::size_t start = file.rfind(kStart);
  if (start == std::string_view::npos) return std::nullopt;
  const auto at = number_at(file, start + kStart.size());
  if (!at || *at >= start || file.substr(*at, kTable.size()) != kTable) return std::nullopt;
  const auto count = number_at(file, *at + kTable.size());
  if (!count || *count > start / kTableEntry) return std::nullopt;
  const std::size_t entries = file.find('\n', *at + kTable.size()) + 1;
  const std::size_t trailer = entries + *count * kTableEntry;
  if (trailer >= start || file.substr(trailer, 8) != "trailer\n") return std::nullopt;
  tail.at = *at;
  tail.count = *count;
  tail.entries = file.substr(entries, trailer - entries);
  tail.trailer = file.substr(trailer, start - trailer);
  return tail;
}

void append_entry(std::string& table, std::size_t offset) {
  std::array<char, kTableEntry + 1> line{"0000000000 00000 n\r\n"};
  for (std::size_t i = 10; i-- > 0 && offset > 0; offset /= 10)
    line[i] = static_cast<char>('0' + offset % 10);
  table.append(line.data(), kTableEntry);
}

}  // namespace

void OwnObjects::add(std::string_view value) {
  const auto number = static_cast<std::size_t>(first_) + offsets_.size();
  offsets_.push_back(text_.size());
  text_ += fmt::format_int(number).c_str();
  text_ += " 0 obj\n";
  text_ += value;
  text_ += "\nendobj\n";
}

bool OwnObjects::append_to(std::string& file) const {
  auto tail = tail_of(file);
  if (!tail || tail->count != static_cast<std::size_t>(first_)) return false;
  const std::string size = fmt::format("/Size {}\n", tail->count);
  const std::size_t place = tail->trailer.find(size);
  if (place == std::string::npos || tail->at + text_.size() > kLargest) return false;
  const std::size_t count = tail->count + offsets_.size();
  tail->trailer.replace(place, size.size(), fmt::format("/Size {}\n", count));

  file.resize(tail->at);
  file.reserve(tail->at + text_.size() + count * kTableEntry + tail->trailer.size() + 64);
  file += text_;
  const std::size_t table = file.size();
  file += fmt::format("{}{}\n", kTable, count);
  file += tail->entries;
  for (const std::size_t offset : offsets_) append_entry(file, tail->at + offset);
  file += tail->trailer;
  file += fmt::format("{}{}\n%%EOF\n", kStart, table);
  return true;
}

}  // namespace ohmleaf::pdf
