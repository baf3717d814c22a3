#pragma once
// The strings and rules of a document, as bench_strings writes them, for the bare programs. Read
// quickly: it is their drawing that is measured.
#include <charconv>
#include <fstream>
#include <iterator>
#include <string>
#include <string_view>
#include <vector>

namespace compare {

struct Item {
  enum class Kind { page, text, box, rule, form } kind = Kind::page;
  std::vector<double> numbers;  ///< in the order of the file, without face and rotation
  int face = 0;
  bool rotated = false;
  std::string text;
};

/// What stands before the next tab, or all of it.
inline std::string_view field(std::string_view& line) {
  const std::size_t tab = line.find('\t');
  const std::string_view out = line.substr(0, tab);
  line = tab == std::string_view::npos ? std::string_view() : line.substr(tab + 1);
  return out;
}

inline double number(std::string_view text) {
  double value = 0;
  std::from_chars(text.data(), text.data() + text.size(), value);
  return value;
}

inline Item item(std::string_view line) {
  Item one;
  switch (const std::string_view word = field(line); word.empty() ? ' ' : word[0]) {
    case 't':
      one.kind = Item::Kind::text;
      break;
    case 'b':
      one.kind = Item::Kind::box;
      break;
    case 'r':
      one.kind = Item::Kind::rule;
      break;
    case 'f':
      one.kind = Item::Kind::form;
      break;
    default:
      break;
  }
  const std::size_t numbers = one.kind == Item::Kind::text ? 3 : 64;
  while (!line.empty() && one.numbers.size() < numbers) one.numbers.push_back(number(field(line)));
  if (one.kind != Item::Kind::text) return one;
  one.face = static_cast<int>(number(field(line)));
  one.rotated = field(line) == "1";
  one.text = std::string(line);
  return one;
}

inline std::vector<Item> read(const char* path) {
  std::vector<Item> items;
  std::ifstream file(path, std::ios::binary);
  const std::string all(std::istreambuf_iterator<char>(file), {});
  for (std::string_view rest = all; !rest.empty();) {
    const std::size_t end = std::min(rest.find('\n'), rest.size());
    if (end > 0) items.push_back(item(rest.substr(0, end)));
    rest.remove_prefix(std::min(end + 1, rest.size()));
  }
  return items;
}

inline const char* const kFaces[] = {"Regular", "Bold", "Italic"};

/// "FOLDER/OhmleafSans-Bold.ttf"
inline std::string font_path(const std::string& folder, int face) {
  return folder + "/OhmleafSans-" + kFaces[face] + ".ttf";
}

}  // namespace compare
