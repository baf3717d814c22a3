#pragma once
#include <algorithm>
#include <concepts>
#include <type_traits>

#include "base/text.h"
#include "record/field.h"
#include "record/job.h"
#include "record/reader.h"
#include "record/words.h"

// How each type of field is read, shown and described: one codec a type. Here the scalars; lists
// and tables stand in codec.h.

namespace ohmleaf::record {

template <class T>
struct Codec;

/// What people call a quantity, and its bounds: wide enough for any job, narrow enough for a
/// figure in the wrong unit.
template <class Q>
inline constexpr NumberKind number_kind{"number", {}, 0, 0};
template <>
inline constexpr NumberKind number_kind<Ohms>{"resistance", "Ω", 0, 0};
template <>
inline constexpr NumberKind number_kind<Megohms>{"insulation resistance", "MΩ", 0, 0};
template <>
inline constexpr NumberKind number_kind<Millis>{"time", "ms", 0, 100000};
template <>
inline constexpr NumberKind number_kind<Kiloamps>{"fault current", "kA", 0, 200, false};
template <>
inline constexpr NumberKind number_kind<Milliamps>{"residual current", "mA", 0, 30000, false};
template <>
inline constexpr NumberKind number_kind<SquareMm>{"conductor size", "mm²", 0, 1000, false};
template <>
inline constexpr NumberKind number_kind<Metres>{"length", "m", 0, 10000, false};
template <>
inline constexpr NumberKind number_kind<Millimetres>{"depth", "mm", 0, 1000, false};
template <>
inline constexpr NumberKind number_kind<Volts>{"voltage", "V", 0, 5000, false};
template <>
inline constexpr NumberKind number_kind<Amps>{"current", "A", 0, 6300, false};
template <>
inline constexpr NumberKind number_kind<Watts>{"power", "W", 0, 1000000};
template <>
inline constexpr NumberKind number_kind<Percent>{"share", "%", 0, 100};
template <>
inline constexpr NumberKind number_kind<Celsius>{"temperature", "°C", -40, 120};

/// Stores what was read with its places; a value that was refused leaves the field empty.
template <class T>
void put(Field<T>& field, const Value& value, std::optional<T> read) {
  field.value = std::move(read);
  field.span = value.node.span;
  field.key_span = value.node.key_span;
}

/// What a number may be, for the shape of its key.
inline void shape_number(Shape& s, Written written, const NumberKind& kind, const Rule& rule) {
  s.kind = View::Kind::text;
  s.type = kind.type;
  s.written = written;
  const bool ruled = rule.most > 0;
  s.allowed.least = ruled ? rule.least : kind.least;
  s.allowed.most = ruled ? rule.most : kind.most;
  s.allowed.zero = kind.zero;
  s.allowed.numbers.assign(rule.numbers.begin(), rule.numbers.end());
}

template <>
struct Codec<Text> {
  static void read(Reader& in, const Value& value, Text& field) {
    auto text = read_text(in, value);
    if (text && text->empty()) text.reset();  // an empty text says nothing: not given
    put(field, value, std::move(text));
  }
  static View view(const Text& f) { return f ? View::of_text(*f, {}, f.span) : View(); }
  static void shape(Shape& s, const Rule& rule) {
    s.kind = View::Kind::text;
    s.type = rule.lines ? "text of one or more lines" : "text";
    s.words.assign(rule.words.begin(), rule.words.end());
    s.own = rule.words.empty();
    s.written = Written::text;
    s.allowed.pattern = rule.pattern;
    s.allowed.form = rule.form;
    s.allowed.lines = rule.lines;
  }
};

template <>
struct Codec<Flag> {
  static void read(Reader& in, const Value& value, Flag& field) {
    put(field, value, read_flag(in, value));
  }
  static View view(const Flag& f) { return f ? View::of_flag(*f, f.span) : View(); }
  static void shape(Shape& s, const Rule&) {
    s.kind = View::Kind::flag;
    s.type = "true or false";
    s.written = Written::flag;
  }
};

template <class T>
requires std::same_as<T, Date> || std::same_as<T, DateTime>
struct Codec<Field<T>> {
  static void read(Reader& in, const Value& value, Field<T>& field) {
    if constexpr (std::same_as<T, Date>)
      put(field, value, read_date(in, value));
    else
      put(field, value, read_date_time(in, value));
  }
  static View view(const Field<T>& f) {
    View v;
    if (!f) return v;
    v.kind = View::Kind::date;
    v.text = f->iso();
    v.span = f.span;
    return v;
  }
  static void shape(Shape& s, const Rule&) {
    s.kind = View::Kind::date;
    s.type = std::same_as<T, Date> ? "date" : "date and time";
    s.written = std::same_as<T, Date> ? Written::date : Written::date_time;
  }
};

template <>
struct Codec<Field<Decimal>> {
  static void read(Reader& in, const Value& value, Field<Decimal>& field) {
    put(field, value, read_number(in, value, number_kind<Decimal>));
  }
  static View view(const Field<Decimal>& f) {
    return f ? View::of_text(f->str(), {}, f.span) : View();
  }
  static void shape(Shape& s, const Rule& rule) {
    shape_number(s, Written::number, number_kind<Decimal>, rule);
  }
};

template <class U>
struct Codec<Field<Quantity<U>>> {
  using Q = Quantity<U>;
  static void read(Reader& in, const Value& value, Field<Q>& field) {
    const auto number = read_number(in, value, number_kind<Q>);
    put(field, value, number ? std::optional(Q(*number)) : std::nullopt);
  }
  static View view(const Field<Q>& f) {
    return f ? View::of_text(f->str(), std::string(U::symbol), f.span) : View();
  }
  static void shape(Shape& s, const Rule& rule) {
    shape_number(s, Written::number, number_kind<Q>, rule);
    s.unit = U::symbol;
  }
};

template <class U>
struct Codec<Measured<Quantity<U>>> {
  using Q = Quantity<U>;
  static constexpr bool current = std::same_as<Q, Kiloamps>, size = std::same_as<Q, SquareMm>;

  static void read(Reader& in, const Value& value, Measured<Q>& field) {
    std::optional<RawReading> raw;
    if constexpr (current)
      raw = read_fault_current(in, value);
    else if constexpr (size)
      raw = read_size(in, value, number_kind<Q>);
    else
      raw = read_reading(in, value, number_kind<Q>);
    std::optional<Reading<Q>> out;
    if (raw) out = Reading<Q>{raw->kind, Q(raw->value), raw->text, raw->reason};
    put(field, value, std::move(out));
  }
  static View view(const Measured<Q>& f) {
    if (!f) return View();
    const bool unit = f->is_number() && !current;  // a fault current carries its own in the text
    return View::of_text(f->text, unit ? std::string(U::symbol) : std::string(), f.span);
  }
  static void shape(Shape& s, const Rule& rule) {
    shape_number(s,
                 current ? Written::fault_current
                 : size  ? Written::size
                         : Written::reading,
                 number_kind<Q>, rule);
    if (!current) s.unit = U::symbol;
  }
};

/// Choices: every enumeration that has its words.
template <class E>
requires std::is_enum_v<E>
struct Codec<Field<E>> {
  static void read(Reader& in, const Value& value, Field<E>& field) {
    const auto words = Words<E>::all();
    std::optional<E> found;
    if (value.node.kind == TomlKind::string) found = Words<E>::from(trim(value.node.text));
    if (!found)
      if (const auto word = read_word(in, value, words)) found = Words<E>::from(*word);
    put(field, value, found);
  }
  static View view(const Field<E>& f) {
    return f ? View::of_text(std::string(Words<E>::to(*f)), {}, f.span) : View();
  }
  static void shape(Shape& s, const Rule&) {
    s.kind = View::Kind::text;
    s.type = "one of a few words";
    s.written = Written::text;
    for (const std::string_view w : Words<E>::all()) s.words.emplace_back(w);
  }
};

template <>
struct Codec<Field<limits::Device>> {
  static void read(Reader& in, const Value& value, Field<limits::Device>& field) {
    put(field, value, read_device(in, value));
  }
  static View view(const Field<limits::Device>& f) {
    return f ? view_of_device(*f, f.span) : View();
  }
  static void shape(Shape& s, const Rule&) { shape_of_device(s); }
};

}  // namespace ohmleaf::record
