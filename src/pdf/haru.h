#pragma once
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "base/diagnostic.h"

namespace ohmleaf::pdf {

/// A PDF object of the file being written, which owns it. Null after a failure.
struct Object;

/// A PDF file under construction, as objects. The first failure is kept; after it every call
/// does nothing and takes and gives null, and `save` reports it: callers ask once, at the end.
class Objects {
 public:
  Objects();
  ~Objects();
  Objects(const Objects&) = delete;
  Objects& operator=(const Objects&) = delete;
  bool ok();

  Object* dictionary();
  Object* array();
  /// A dictionary with a number of its own: may be put in several places.
  Object* indirect();
  Object* stream(std::string_view bytes, bool compress = true);
  /// The entries of a dictionary that has none, as they stand in the file ("/S/TD/P 12 0 R").
  void set_entries(Object* dictionary, std::string entries);
  /// "12 0 R", for such entries: of an object with a number of its own.
  std::string reference(Object* indirect);
  /// The number of the first object that `own` adds. From here on the library makes no more
  /// objects with a number.
  std::int64_t begin_own();
  /// An object as it stands in the file ("<</S/TD/P 12 0 R>>"); they are numbered in order.
  void own(std::string_view value);
  /// A byte string.
  Object* bytes(std::string value);
  /// A text string: as it is where ASCII, else UTF-16 with its mark.
  Object* text(std::string_view value);
  Object* null();
  Object* number(std::int64_t value);

  void put(Object* dictionary, const char* key, Object* value);
  void put_name(Object* dictionary, const char* key, const std::string& value);
  void put_number(Object* dictionary, const char* key, std::int64_t value);
  void put_true(Object* dictionary, const char* key);
  void remove(Object* dictionary, const char* key);
  void push(Object* array, Object* value);
  void push_name(Object* array, const char* value);
  void push_number(Object* array, std::int64_t value);
  /// A length in thousandths of a point as a number in points.
  void push_thousandths(Object* array, std::int64_t value);

  Object* catalog();
  Object* info();
  Object* trailer();
  /// Appends a page with these drawing operators; its dictionary is the caller's to fill.
  Object* add_page(std::string_view operators);

  /// The whole file. Nothing, and a report, after any failure.
  std::optional<std::string> save(Diagnostics& out);

 private:
  struct Library;
  std::unique_ptr<Library> library_;
};

/// Text as the bytes of a UTF-16 text string with its mark.
std::string utf16_with_mark(std::string_view text);
/// A text string as it stands in the file: "(CU1)", or <FEFF…>.
std::string written_text(std::string_view text);
/// Printable ASCII only.
bool is_plain_ascii(std::string_view text);

}  // namespace ohmleaf::pdf
