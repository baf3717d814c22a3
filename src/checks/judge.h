#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "checks/scene.h"
#include "limits/limit.h"
#include "quantity/reading.h"
#include "record/field.h"

// The one path by which a reading meets a limit.

namespace ohmleaf::checks {

/// Words that few findings come to show. A literal is pointed at until one does, so what is said of
/// a fail costs a pass nothing.
class Words {
 public:
  Words() = default;
  Words(const char* literal) : literal_(literal) {}
  Words(std::string built) : built_(std::move(built)) {}
  bool empty() const { return literal_.empty() && built_.empty(); }
  void clear() { *this = {}; }
  operator std::string() const { return built_.empty() ? std::string(literal_) : built_; }

 private:
  std::string_view literal_;
  std::string built_;
};

// Cautions that several checks give.
inline constexpr const char* kDeadFirst = "Dead test: isolate, lock off and prove dead first.";
inline constexpr const char* kBeforeJoint =
    "Isolate, lock off and prove dead before you open a joint.";
inline constexpr const char* kKeepEarth =
    "Never break an earthing or bonding conductor while the installation is energised.";

/// A cell, and what is said of it when it does not pass.
struct Ask {
  Stage stage = Stage::dead;
  std::string cell = {};
  std::string subject = {};        ///< for people: "Zs"
  Span home = {};                  ///< where a missing reading should stand
  std::vector<Words> causes = {};  ///< of a fail, most likely first
  Words action = {};               ///< on a fail or a borderline
  Words caution = {};
  Words if_missing = {};           ///< action where there is no usable reading
  std::vector<Label> labels = {};  ///< what set the limit
  bool not_applicable_ok = false;  ///< N/A with a reason is an answer here
  /// The instrument's declared operating uncertainty; zero where none is declared.
  Decimal percent = Decimal::integer(0);
  Decimal absolute = Decimal::integer(0);
};

/// A reading and a limit without their unit types, so that the judging stands once.
struct PlainReading {
  bool present = false;
  ReadingKind kind = ReadingKind::value;
  Decimal value;
  std::string text, reason, unit;
  Span span;
};
struct PlainLimit {
  limits::Sense sense = limits::Sense::at_most;
  Decimal value;
  std::optional<Decimal> upper;
  std::string printed, exact, derivation, source;
  limits::Provenance provenance = limits::Provenance::memory;
};

template <class Q>
PlainReading plain(const record::Field<Reading<Q>>& field) {
  PlainReading out;
  out.unit = std::string(Q::unit::symbol);
  out.span = field.span;
  if (!field) return out;
  out.present = true;
  out.kind = field->kind;
  out.value = field->value.decimal();
  out.text = field->text;
  out.reason = field->reason;
  return out;
}
/// A plain quantity (a size, a setting) judged as if it had been read.
template <class Q>
PlainReading plain(const record::Field<Q>& field) {
  PlainReading out;
  out.unit = std::string(Q::unit::symbol);
  out.span = field.span;
  if (!field) return out;
  out.present = true;
  out.value = field->decimal();
  out.text = field->str();
  return out;
}
/// A limit that is not needed any more gives its texts away.
template <class Q>
PlainLimit plain(limits::Limit<Q> limit) {
  PlainLimit out;
  out.sense = limit.sense;
  out.value = limit.value.decimal();
  if (limit.upper) out.upper = limit.upper->decimal();
  out.printed = limit.printed();
  out.exact = std::move(limit.exact);
  out.derivation = std::move(limit.derivation);
  out.source = std::move(limit.source);
  out.provenance = limit.provenance;
  return out;
}

/// How a reading stands to a limit, by the figures alone.
enum class Standing {
  within,     ///< surely inside
  straddles,  ///< inside as read, not with the declared uncertainty
  beyond,     ///< surely outside, or outside as read
  unusable,   ///< says nothing about this limit ("> 1.0" against a maximum of 1.37; void)
};
Standing standing(const PlainReading& reading, const PlainLimit& limit, Decimal percent,
                  Decimal absolute);

/// Judges one cell and adds the finding: absent, LIM and N/A included.
Finding& judge_plain(Scene& scene, const PlainReading& reading, PlainLimit limit, Ask ask);

template <class Field, class Q>
Finding& judge(Scene& scene, const Field& field, limits::Limit<Q> limit, Ask ask) {
  return judge_plain(scene, plain(field), plain(std::move(limit)), std::move(ask));
}

/// Asks only that a usable reading is there (its value is judged elsewhere). True if it is.
bool require_plain(Scene& scene, const PlainReading& reading, Ask ask);
template <class Field>
bool require(Scene& scene, const Field& field, Ask ask) {
  return require_plain(scene, plain(field), std::move(ask));
}

/// The subject of one part of a divided reading: "Zs, L1", "Insulation, live to live, L1–N".
std::string part_subject(const std::string& subject, std::string_view part);
/// Neutral and three-phase readings may be left out of a divided one: a motor has no neutral.
bool part_needed(std::string_view part);

/// Calls `fn(field, cell, subject)` for the reading, or, where it was taken line by line or pair by
/// pair, for each part that is there or should be.
template <class Q, class Set, class Fn>
void each_part(const record::Split<Q, Set>& split, const std::string& cell,
               const std::string& subject, Fn fn) {
  if (!split.divided()) {
    fn(static_cast<const record::Measured<Q>&>(split), cell, subject);
    return;
  }
  for (std::size_t i = 0; i < split.parts.size(); ++i) {
    const std::string_view part = Set::names[i];
    if (split.parts[i] || part_needed(part))
      fn(split.parts[i], cell + "." + std::string(part), part_subject(subject, part));
  }
}

/// A tick: true passes, false fails, absent is missing. `good`, `bad` and `absent` are sentences.
Finding& judge_tick(Scene& scene, const record::Flag& flag, std::string good, std::string bad,
                    std::string absent, Ask ask);

/// "0.42 Ω", "N/A: plastic pipe"
std::string shown(const PlainReading& reading);
template <class Field>
std::string shown_of(const Field& field) {
  return shown(plain(field));
}
/// A field's figure where it is a plain value: not ">", "<", LIM, N/A, not void.
template <class Q>
std::optional<Decimal> figure(const record::Field<Reading<Q>>& field) {
  if (!field || !field->is_value() || field->value.is_void()) return std::nullopt;
  return field->value.decimal();
}
/// As `figure`, and "<0.01" is the 0.01 that it stays under: asked whether a reading is too low to
/// be true, it must not slip through for want of a figure.
template <class Q>
std::optional<Decimal> highest(const record::Field<Reading<Q>>& field) {
  const bool below = field && field->kind == ReadingKind::below && !field->value.is_void();
  return below ? std::optional(field->value.decimal()) : figure(field);
}
/// Thousandths of the limit that the reading uses, for the headroom bar.
std::optional<int> permille(const PlainReading& reading, const PlainLimit& limit);

}  // namespace ohmleaf::checks
