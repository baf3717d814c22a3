#pragma once
#include <cstdint>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "base/source.h"

namespace ohmleaf::record {

/// A record as a form sees it: groups of named values, lists, and texts as they were written.
/// Made from the table of keys, so a form can bind whatever a job can say, and nothing else.
struct View {
  enum class Kind { none, text, flag, date, group, list };
  Kind kind = Kind::none;
  std::string text;  ///< text as written; "true"/"false"; ISO date or date and time
  std::string unit;  ///< "Ω", or empty
  Span span;
  struct Member;
  std::vector<Member> members;  ///< group
  std::vector<View> items;      ///< list

  class Later;
  std::shared_ptr<const Later> later;  ///< further items or members, made when they are asked for

  static View of_text(std::string text, std::string unit = {}, Span span = {});
  static View of_flag(bool value, Span span = {});
  static View group();
  static View list();
  static View group(std::shared_ptr<const Later> members);
  static View list(std::shared_ptr<const Later> items);

  bool present() const;                       ///< not none, not an empty text, list or group
  bool truthy() const;                        ///< present, and a flag only where true
  const View* find(std::string_view name) const;
  /// "supply.ze"; null where a step does not exist.
  const View* at(std::string_view path) const;
  View& set(std::string name, View value);    ///< adds or replaces; returns the stored member
  /// Every item of a list in turn; one that is made for this is gone after it.
  void each(const std::function<void(const View&)>& use) const;
  View whole() const;  ///< a copy in which everything is made
};

struct View::Member {
  std::string first;  ///< the name
  View second;
};

/// What is made when it is asked for: a list of ten thousand circuits never stands there whole.
class View::Later {
 public:
  virtual ~Later();
  virtual std::size_t count() const = 0;
  virtual std::string_view name(std::size_t i) const = 0;  ///< of a group's member
  virtual View make(std::size_t i) const = 0;
  /// Of the member of this name; `count()` where there is none.
  virtual std::size_t index(std::string_view name) const;
  /// The member of this name, made once and then kept; null where there is none.
  const View* member(std::string_view name) const;

 private:
  mutable std::vector<std::unique_ptr<View>> made_;
};

/// How a value is written in a file, for whoever writes one: editors, manuals.
enum class Written {
  unwritten,  ///< never stands in a file: only the program makes it
  table,      ///< [supply]
  tables,     ///< [[circuit]]
  keyed,      ///< [person.rh]
  any_table,  ///< keys of the writer's own, texts and tables of texts below them
  own,        ///< keys of the writer's own, one value below each
  text,
  texts,      ///< one text, or a list of them
  flag,
  date,
  date_time,
  whole,
  number,
  reading,        ///< 0.42, ">999", "LIM: why", "N/A: why"
  fault_current,  ///< "1.1 kA", with its unit
  size,           ///< a number, or "N/A: why"
  device,         ///< words of the trade, or a table
  answer,         ///< true, false, "N/A: why", "LIM: why"
};

/// What a key allows beyond the way it is written.
struct Allowed {
  std::int64_t least = 0, most = 0;  ///< of a number; no upper bound where `most` is 0
  bool zero = true;                  ///< zero may stand there
  std::vector<std::int64_t> numbers; ///< the only ones, where not empty
  std::string_view pattern;          ///< regular expression (ECMA-262) of a text, where not empty
  std::string_view form;             ///< the same in words
  bool lines = false;                ///< a text may run over several lines
};

struct Shape;

/// The members of a shape: its own, or those of a table that is made when it is first asked for and
/// then serves every shape that has them.
class ShapeMembers {
 public:
  using Table = const std::vector<Shape>& (*)();
  ShapeMembers() = default;
  ShapeMembers(std::vector<Shape> own);
  ShapeMembers(Table table) : table_(table) {}

  const std::vector<Shape>& all() const;
  bool empty() const;
  void push_back(Shape member);

 private:
  Table table_ = nullptr;
  std::shared_ptr<const std::vector<Shape>> own_;  ///< shared by copies, which never change it
};

/// What may stand at a path, known without a job: forms are checked against it when loaded.
struct Shape {
  std::string name;
  View::Kind kind = View::Kind::group;
  std::string type;   ///< for people: "resistance", "date", "true or false" …
  std::string unit;
  bool required = false;
  std::string help;
  bool own = false;                ///< the installer's or the client's own words, in their language
  std::vector<std::string> words;  ///< the allowed words of a choice
  Written written = Written::unwritten;
  Allowed allowed;
  ShapeMembers members;            ///< group, and the element of a list

  /// A member named "*" stands for any name: the installer's own fields.
  const Shape* find(std::string_view name) const;
  const Shape* at(std::string_view path) const;   ///< steps into lists too
};

inline auto begin(const ShapeMembers& members) { return members.all().begin(); }
inline auto end(const ShapeMembers& members) { return members.all().end(); }

/// A table of shapes that `make` makes. Never destroyed: at the end of a program that would only take
/// time.
template <std::vector<Shape> (*make)()>
const std::vector<Shape>& table_of() {
  static const std::vector<Shape>& made = *new std::vector<Shape>(make());
  return made;
}

}  // namespace ohmleaf::record
