#pragma once
// The strings and rules of a document, as bench_strings writes them, for the bare programs.
#include <fstream>
#include <sstream>
#include <string>
#include <vector>

namespace compare {

struct Item {
  enum class Kind { page, text, box, rule, form } kind = Kind::page;
  std::vector<double> numbers;  ///< in the order of the file, without face and rotation
  int face = 0;
  bool rotated = false;
  std::string text;
};

inline std::vector<Item> read(const char* path) {
  std::vector<Item> items;
  std::ifstream file(path);
  for (std::string line; std::getline(file, line);) {
    std::istringstream in(line);
    std::string word;
    std::getline(in, word, '\t');
    Item item;
    item.kind = word == "page"   ? Item::Kind::page
                : word == "text" ? Item::Kind::text
                : word == "box"  ? Item::Kind::box
                : word == "rule" ? Item::Kind::rule
                                 : Item::Kind::form;
    if (item.kind == Item::Kind::text) {
      double x = 0, y = 0, size = 0;
      in >> x >> y >> size >> item.face >> item.rotated;
      in.get();
      std::getline(in, item.text);
      item.numbers = {x, y, size};
    } else {
      for (double n = 0; in >> n;) item.numbers.push_back(n);
    }
    items.push_back(std::move(item));
  }
  return items;
}

inline const char* const kFaces[] = {"Regular", "Bold", "Italic"};

/// "FOLDER/OhmleafSans-Bold.ttf"
inline std::string font_path(const std::string& folder, int face) {
  return folder + "/OhmleafSans-" + kFaces[face] + ".ttf";
}

}  // namespace compare
