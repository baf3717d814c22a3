#include "layout/text_flow.h"

#include <algorithm>
#include <array>
#include <memory_resource>
#include <optional>
#include <span>

#include "base/text.h"

namespace ohmleaf::layout {
namespace {

/// A piece of one chunk without spaces. A word is one or more atoms with no break between them.
struct Atom {
  std::string_view text;  ///< of the chunk
  std::size_t chunk = 0;
  Pt width;
};

struct Word {
  std::size_t first = 0, count = 0;  ///< its atoms
  Pt width;
  bool space_before = false;  ///< a space stands between it and the word before
  bool new_line = false;      ///< a line feed stands before it
  std::size_t space_chunk = 0;
};

bool breaks_after(std::string_view text, std::size_t at, std::size_t length) {
  const std::string_view c = text.substr(at, length);
  return c == "-" || c == "/" || c == "–" || c == "—" || c == ";" || c == ",";
}

std::size_t code_point_length(std::string_view text, std::size_t at) {
  std::size_t n = 1;
  while (at + n < text.size() && (static_cast<unsigned char>(text[at + n]) & 0xC0u) == 0x80u) ++n;
  return n;
}

/// How wide a space is, in each face at one size: asked for between all words.
class Spaces {
 public:
  Spaces(Pt size, const FontMetrics& metrics) : size_(size), metrics_(metrics) {}
  Pt of(Face face) {
    std::optional<Pt>& known = widths_[static_cast<std::size_t>(face) % widths_.size()];
    if (!known) known = metrics_.width(face, size_, " ");
    return *known;
  }

 private:
  Pt size_;
  const FontMetrics& metrics_;
  std::array<std::optional<Pt>, kFaceCount> widths_;
};

/// Splits rich text into words.
class Splitter {
 public:
  Splitter(const Rich& rich, Pt size, const FontMetrics& metrics)
      : rich_(rich), size_(size), metrics_(metrics) {}

  void run() {
    constexpr std::size_t kShortWord = 5;
    std::size_t bytes = 0;
    for (const Chunk& c : rich_) bytes += c.text.size();
    words_.reserve(bytes / kShortWord + 2);
    atoms_.reserve(bytes / kShortWord + 2);
    for (chunk_ = 0; chunk_ < rich_.size(); ++chunk_) chunk(rich_[chunk_].text);
    end_word();
  }
  std::span<const Word> words() const { return words_; }
  /// Nothing in it that `run` would look at twice.
  static bool is_one_word(std::string_view text) {
    return std::all_of(text.begin(), text.end(), goes_on);
  }
  std::span<const Atom> atoms(const Word& word) const {
    return std::span(atoms_).subspan(word.first, word.count);
  }

 private:
  void chunk(std::string_view text) {
    std::size_t begin = 0;
    for (std::size_t i = 0; i < text.size();) {
      if (goes_on(text[i])) {
        ++i;
        continue;
      }
      const std::size_t n = code_point_length(text, i);
      const bool space = text[i] == ' ', feed = text[i] == '\n';
      if (space || feed) {
        add(text.substr(begin, i - begin));
        end_word();
        if (feed) next_.new_line = true;
        if (space && !next_.space_before) next_.space_chunk = chunk_;
        next_.space_before = next_.space_before || space;
        begin = i + n;
      } else if (breaks_after(text, i, n) && i + n < text.size() && text[i + n] != ' ' &&
                 text.compare(i + n, 2, "\u00A0") != 0 && long_enough(text, begin, i + n)) {
        add(text.substr(begin, i + n - begin));
        end_word();
        begin = i + n;
      }
      i += n;
    }
    add(text.substr(begin));
  }

  /// No line can end before or after it, and it is one byte long.
  static bool goes_on(char c) {
    static constexpr auto kGoesOn = [] {
      std::array<bool, 256> of{};
      for (unsigned c = 0; c < 256; ++c)
        of[c] = (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '.';
      return of;
    }();
    return kGoesOn[static_cast<unsigned char>(c)];
  }

  /// "r1/rn" and "N/1" stay whole; "accessory-handover" may be broken.
  static bool long_enough(std::string_view text, std::size_t begin, std::size_t at) {
    const std::size_t end = std::min(text.find(' ', at), text.size());
    return at - begin > 3 && end - at > 3;
  }

  void add(std::string_view text) {
    if (text.empty()) return;
    atoms_.push_back({text, chunk_, metrics_.width(rich_[chunk_].face, size_, text)});
    next_.width += atoms_.back().width;
    ++next_.count;
  }

  void end_word() {
    // A second line feed in a row: an empty word keeps the empty line.
    if (next_.count == 0) return;
    words_.push_back(next_);
    next_ = Word{};
    next_.first = atoms_.size();
  }

  const Rich& rich_;
  Pt size_;
  const FontMetrics& metrics_;
  std::size_t chunk_ = 0;
  Word next_;
  // As many as a cell holds, without the heap.
  std::array<std::byte, 4096> room_;  // NOLINT(cppcoreguidelines-pro-type-member-init): memory, not values
  std::pmr::monotonic_buffer_resource memory_{room_.data(), room_.size()};
  std::pmr::vector<Word> words_{&memory_};
  std::pmr::vector<Atom> atoms_{&memory_};
};

/// Atoms of one chunk that stand together on a line: the chunk's own bytes, as long as what comes
/// next stands next in them.
struct Stretch {
  std::string_view text;
  std::size_t chunk = 0;
  Pt width;
  std::string joined{};  ///< in place of `text`, where spaces in a row became one

  bool goes_on_with(std::string_view next) const {
    return joined.empty() && text.data() + text.size() == next.data();
  }
  std::string take() { return joined.empty() ? std::string(text) : std::move(joined); }
};

class Breaker {
 public:
  enum class For { drawing, counting };
  Breaker(const Rich& rich, Pt size, Pt width, const FontMetrics& metrics, For purpose)
      : rich_(rich),
        size_(size),
        width_(width),
        metrics_(metrics),
        counts_(purpose == For::counting),
        split_(rich, size, metrics),
        spaces_(size, metrics) {}

  void run() {
    split_.run();
    for (const Word& word : split_.words()) place(word);
    end_line();
  }
  std::vector<TextLine> take_lines() { return std::move(lines_); }
  int count() const { return count_; }

 private:
  void place(const Word& word) {
    if (word.new_line && begun_) end_line();
    const Pt space =
        word.space_before && begun_ ? spaces_.of(rich_[word.space_chunk].face) : Pt{};
    if (used_ + space + word.width <= width_) {
      if (space.milli > 0) append({space_before(word), word.space_chunk, space});
      for (const Atom& atom : split_.atoms(word)) append(atom);
      return;
    }
    if (begun_) end_line();
    if (word.width <= width_) {
      for (const Atom& atom : split_.atoms(word)) append(atom);
    } else {
      break_word(word);
    }
  }

  void break_word(const Word& word) {
    for (const Atom& atom : split_.atoms(word)) {
      const Face face = rich_[atom.chunk].face;
      for (std::size_t i = 0; i < atom.text.size();) {
        const std::size_t n = code_point_length(atom.text, i);
        const std::string_view piece = atom.text.substr(i, n);
        const Pt wide = metrics_.width(face, size_, piece);
        if (used_ + wide > width_ && begun_) end_line();
        append({piece, atom.chunk, wide});
        i += n;
      }
    }
  }

  /// The space as it stands in the text, where it is the one before the word.
  std::string_view space_before(const Word& word) const {
    const auto atoms = split_.atoms(word);
    const std::string_view text = rich_[word.space_chunk].text;
    if (atoms.empty() || atoms[0].chunk != word.space_chunk || atoms[0].text.data() == text.data())
      return " ";
    return {atoms[0].text.data() - 1, 1};
  }

  void append(const Atom& atom) {
    used_ += atom.width;
    begun_ = true;
    if (counts_) return;
    if (line_.empty() || line_.back().chunk != atom.chunk) {
      line_.push_back({atom.text, atom.chunk, atom.width});
      return;
    }
    Stretch& last = line_.back();
    last.width += atom.width;
    if (last.goes_on_with(atom.text)) {
      last.text = {last.text.data(), last.text.size() + atom.text.size()};
    } else {
      if (last.joined.empty()) last.joined = last.text;
      last.joined += atom.text;
    }
  }

  void end_line() {
    ++count_;
    used_ = {};
    begun_ = false;
    if (counts_) return;
    TextLine out;
    out.fragments.reserve(line_.size());
    for (Stretch& atom : line_) {
      out.fragments.push_back(
          {out.width, atom.take(), rich_[atom.chunk].face, rich_[atom.chunk].color});
      out.width += atom.width;
    }
    lines_.push_back(std::move(out));
    line_.clear();
  }

  const Rich& rich_;
  Pt size_, width_;
  const FontMetrics& metrics_;
  bool counts_;
  Splitter split_;
  Spaces spaces_;
  std::vector<Stretch> line_;
  Pt used_;             ///< of the line at hand
  bool begun_ = false;  ///< something stands on it
  int count_ = 0;
  std::vector<TextLine> lines_;
};

}  // namespace

std::vector<TextLine> break_lines(const Rich& text, Pt size, Pt width, const FontMetrics& metrics) {
  Breaker breaker(text, size, width, metrics, Breaker::For::drawing);
  breaker.run();
  return breaker.take_lines();
}

int count_lines(const Rich& text, Pt size, Pt width, const FontMetrics& metrics) {
  Breaker breaker(text, size, width, metrics, Breaker::For::counting);
  breaker.run();
  return breaker.count();
}

TextExtent text_extent(const Rich& text, Pt size, const FontMetrics& metrics) {
  TextExtent extent;
  if (text.size() == 1 && Splitter::is_one_word(text[0].text)) {
    extent.longest_word = extent.natural = metrics.width(text[0].face, size, text[0].text);
    return extent;
  }
  Splitter split(text, size, metrics);
  split.run();
  Spaces spaces(size, metrics);
  Pt used;
  bool begun = false;  // as `Breaker` places words on a line without an end
  for (const Word& word : split.words()) {
    if (word.new_line && begun) {
      extent.natural = std::max(extent.natural, used);
      ++extent.lines;
      used = {};
      begun = false;
    }
    if (word.space_before && begun) used += spaces.of(text[word.space_chunk].face);
    used += word.width;
    begun = true;
    extent.longest_word = std::max(extent.longest_word, word.width);
  }
  extent.natural = std::max(extent.natural, used);
  return extent;
}

std::optional<TextLine> whole_line(const Rich& text, const TextExtent& extent) {
  if (text.size() != 1 || extent.lines != 1) return std::nullopt;
  const Chunk& c = text.front();
  if (c.text.empty() || c.text.front() == ' ' || c.text.back() == ' ' ||
      c.text.find('\n') != std::string::npos || c.text.find("  ") != std::string::npos)
    return std::nullopt;
  TextLine line;
  line.width = extent.natural;
  line.fragments.push_back({{}, c.text, c.face, c.color});
  return line;
}

std::string printable(std::string_view text) {
  const bool plain = std::all_of(text.begin(), text.end(),
                                 [](char c) { return c == '\n' || (c >= 0x20 && c < 0x7F); });
  if (plain) return std::string(text);
  std::string composed = to_nfc(text);
  const CodePoints points = code_points(composed);
  bool printed_as_it_is = true;
  for (const char32_t c : points)
    printed_as_it_is = printed_as_it_is && (c == U'\n' || !is_forbidden_in_text(c));
  if (printed_as_it_is) return composed;
  std::string out;
  for (const char32_t c : points) {
    if (c == U'\t' || c == U'\r')
      out += ' ';
    else if (c == U'\n' || !is_forbidden_in_text(c))
      append_utf8(out, c);
  }
  return out;
}

}  // namespace ohmleaf::layout
