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
  /// An empty file; a failure shows at the first call.
  static std::unique_ptr<Objects> make();
  virtual ~Objects() = default;
  Objects() = default;
  Objects(const Objects&) = delete;
  Objects& operator=(const Objects&) = delete;

  virtual bool ok() = 0;

  virtual Object* dictionary() = 0;
  virtual Object* array() = 0;
  /// A dictionary with a number of its own: may be put in several places.
  virtual Object* indirect() = 0;
  virtual Object* stream(std::string_view bytes, bool compress = true) = 0;
  /// A stream of what was compressed before (zlib).
  virtual Object* deflated(std::string_view bytes) = 0;
  /// Bytes as `stream` compresses them; nothing where memory is short.
  virtual std::string deflate(std::string_view bytes) = 0;
  /// The entries of a dictionary that has none, as they stand in the file ("/S/TD/P 12 0 R").
  virtual void set_entries(Object* dictionary, std::string entries) = 0;
  /// "12 0 R", for such entries: of an object with a number of its own.
  virtual std::string reference(Object* indirect) = 0;
  /// The number of the first object that `own` adds. From here on the library makes no more
  /// objects with a number.
  virtual std::int64_t begin_own() = 0;
  /// An object as it stands in the file ("<</S/TD/P 12 0 R>>"); they are numbered in order.
  virtual void own(std::string_view value) = 0;
  /// A byte string.
  virtual Object* bytes(std::string value) = 0;
  /// A text string: as it is where ASCII, else UTF-16 with its mark.
  virtual Object* text(std::string_view value) = 0;
  virtual Object* null() = 0;
  virtual Object* number(std::int64_t value) = 0;

  virtual void put(Object* dictionary, const char* key, Object* value) = 0;
  virtual void put_name(Object* dictionary, const char* key, const std::string& value) = 0;
  virtual void put_number(Object* dictionary, const char* key, std::int64_t value) = 0;
  virtual void put_true(Object* dictionary, const char* key) = 0;
  virtual void remove(Object* dictionary, const char* key) = 0;
  virtual void push(Object* array, Object* value) = 0;
  virtual void push_name(Object* array, const char* value) = 0;
  virtual void push_number(Object* array, std::int64_t value) = 0;
  /// A length in thousandths of a point as a number in points.
  virtual void push_thousandths(Object* array, std::int64_t value) = 0;

  virtual Object* catalog() = 0;
  virtual Object* info() = 0;
  virtual Object* trailer() = 0;
  /// Appends a page with these drawing operators; its dictionary is the caller's to fill.
  virtual Object* add_page(std::string_view operators) = 0;

  /// The whole file. Nothing, and a report, after any failure.
  virtual std::optional<std::string> save(Diagnostics& out) = 0;
};

}  // namespace ohmleaf::pdf
