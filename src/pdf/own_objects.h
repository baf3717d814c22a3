#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

namespace ohmleaf::pdf {

inline constexpr std::size_t kTableEntry = 20;  ///< bytes of a line of the table (ISO 32000-1, 7.5.4)

/// Objects that stand in a file after the library's, as text: what there is one of for every printed
/// cell. As objects of the library they would take most of the memory of a long document.
class OwnObjects {
 public:
  /// The number that the first has: one more than the library's last. They follow in order.
  void begin(std::int64_t first) { first_ = first; }
  void add(std::string_view value);
  bool empty() const { return offsets_.empty(); }
  /// The bytes that they will take, with their lines in the table.
  std::size_t size_in_file() const { return text_.size() + offsets_.size() * kTableEntry; }

  /// Puts them into the file that the library wrote, before its cross-reference table, which is
  /// written anew. False where the file is not as the library writes it.
  bool append_to(std::string& file) const;

 private:
  std::int64_t first_ = 0;
  std::string text_;
  std::vector<std::size_t> offsets_;  ///< of each, in `text_`
};

}  // namespace ohmleaf::pdf
