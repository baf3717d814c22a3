#pragma once
#include <array>
#include <concepts>
#include <cstddef>
#include <memory>
#include <string_view>
#include <utility>

#include "quantity/reading.h"
#include "record/field.h"

// Readings that are taken conductor by conductor on three phases. Where one figure is written it
// is the worst of them; where each is written, the whole shows the worst, and each keeps its place.

namespace ohmleaf::record {

template <class Q>
using Measured = Field<Reading<Q>>;

/// Which of several readings speaks for all.
enum class Worst { highest, lowest };

/// Between what the readings are taken. `help` ends a sentence that begins with the name.
struct EachLine {
  static constexpr Worst worst = Worst::highest;
  static constexpr std::string_view help = "of that line", form = "one for each line";
  static constexpr std::array<std::string_view, 3> names{"L1", "L2", "L3"};
};
struct EachCurrent {
  static constexpr Worst worst = Worst::highest;
  static constexpr std::string_view help = "of that line alone, or of the three lines together",
                                    form = "one for each line and for three-phase";
  static constexpr std::array<std::string_view, 4> names{"L1", "L2", "L3", "three-phase"};
};
struct EachPair {
  static constexpr Worst worst = Worst::lowest;
  static constexpr std::string_view help = "between those two live conductors",
                                    form = "one for each pair of live conductors";
  static constexpr std::array<std::string_view, 6> names{"L1-L2", "L2-L3", "L3-L1",
                                                         "L1-N",  "L2-N",  "L3-N"};
};
struct EachLive {
  static constexpr Worst worst = Worst::lowest;
  static constexpr std::string_view help = "from that live conductor to earth",
                                    form = "one for each live conductor";
  static constexpr std::array<std::string_view, 4> names{"L1", "L2", "L3", "N"};
};

/// A field for each of several names. Nearly every reading is one figure: room is made when one of
/// them is first written to.
template <class F, std::size_t N>
class PartFields {
 public:
  PartFields() = default;
  PartFields(const PartFields& other)
      : fields_(other.fields_ ? std::make_unique<Fields>(*other.fields_) : nullptr) {}
  PartFields(PartFields&&) noexcept = default;
  PartFields& operator=(PartFields other) noexcept {
    fields_ = std::move(other.fields_);
    return *this;
  }
  ~PartFields() = default;

  static constexpr std::size_t size() { return N; }
  const F& operator[](std::size_t i) const {
    static const F none{};
    return fields_ ? (*fields_)[i] : none;
  }
  F& operator[](std::size_t i) {
    if (!fields_) fields_ = std::make_unique<Fields>();
    return (*fields_)[i];
  }

 private:
  using Fields = std::array<F, N>;
  std::unique_ptr<Fields> fields_;
};

/// One reading, or one for each name of `Set`. As a reading it is the worst of them, so whatever
/// judges one figure never judges too kindly.
template <class Q, class Set>
struct Split : Measured<Q> {
  using set = Set;
  PartFields<Measured<Q>, Set::names.size()> parts;

  Split() = default;
  /// One figure for all of them. (A template, so that `= {}` still means an empty one.)
  template <std::same_as<Measured<Q>> One>
  Split& operator=(One whole) {
    Measured<Q>::operator=(std::move(whole));
    parts = {};
    divided_ = false;
    return *this;
  }
  /// Whether the job gives them one by one. Names that it leaves out are empty parts.
  bool divided() const { return divided_; }
  /// The parts have been read: makes the worst of them the whole. `where` is their table.
  void divide(Span where, Span key) {
    divided_ = true;
    this->value.reset();
    this->span = where;
    this->key_span = key;
    for (std::size_t i = 0; i < parts.size(); ++i) {
      const Measured<Q>& part = std::as_const(parts)[i];
      if (!part || (this->value && !worse(*part, *this->value))) continue;
      this->value = part.value;
      this->span = part.span;
    }
  }

 private:
  /// What says nothing about a limit outranks every figure, so that it is never passed over.
  static int rank(const Reading<Q>& r) {
    constexpr bool highest = Set::worst == Worst::highest;
    switch (r.kind) {
      case ReadingKind::not_applicable:
        return 0;
      case ReadingKind::limitation:
        return 3;
      case ReadingKind::above:
        return highest ? 2 : 1;
      case ReadingKind::below:
        return highest ? 1 : 2;
      case ReadingKind::value:
        break;
    }
    return 1;
  }
  static bool worse(const Reading<Q>& a, const Reading<Q>& b) {
    if (rank(a) != rank(b)) return rank(a) > rank(b);
    return Set::worst == Worst::highest ? a.value > b.value : a.value < b.value;
  }

  bool divided_ = false;
};

}  // namespace ohmleaf::record
