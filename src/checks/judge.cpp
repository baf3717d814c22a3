#include "checks/judge.h"

#include <fmt/format.h>

#include <algorithm>

namespace ohmleaf::checks {
namespace {

using limits::Sense;

constexpr int kMostPermille = 9999;

/// ">x" or "<x" against one bound. `inside_if_above`: the limit is a minimum.
Standing open_ended(ReadingKind kind, const Decimal& x, const Decimal& bound, bool minimum) {
  const bool above = kind == ReadingKind::above;
  if (x.is_void() || bound.is_void()) return Standing::unusable;
  if (above) {
    if (minimum) return x >= bound ? Standing::within : Standing::unusable;
    return x >= bound ? Standing::beyond : Standing::unusable;
  }
  if (minimum) return x <= bound ? Standing::beyond : Standing::unusable;
  return x <= bound ? Standing::within : Standing::unusable;
}

Standing value_against(const Decimal& v, const Decimal& spread, const Decimal& bound,
                       bool minimum) {
  const bool inside = minimum ? v >= bound : v <= bound;
  const bool outside = minimum ? v < bound : v > bound;
  if (!inside && !outside) return Standing::unusable;  // void on either side
  if (outside) return Standing::beyond;
  if (spread.is_zero()) return Standing::within;
  const Decimal edge = minimum ? v - spread : v + spread;
  const bool sure = minimum ? edge >= bound : edge <= bound;
  return sure ? Standing::within : Standing::straddles;
}

Standing one_bound(const PlainReading& r, const Decimal& bound, bool minimum,
                   const Decimal& spread) {
  if (r.kind == ReadingKind::value) return value_against(r.value, spread, bound, minimum);
  return open_ended(r.kind, r.value, bound, minimum);
}

/// Between two bounds: beyond either is beyond; a reading that settles only one side settles
/// nothing.
Standing worse(Standing a, Standing b) {
  if (a == Standing::beyond || b == Standing::beyond) return Standing::beyond;
  if (a == Standing::unusable || b == Standing::unusable) return Standing::unusable;
  if (a == Standing::straddles || b == Standing::straddles) return Standing::straddles;
  return Standing::within;
}

/// The bound that the reading is nearest to breaking.
Decimal governing_bound(const PlainReading& r, const PlainLimit& limit) {
  if (limit.sense != Sense::between || !limit.upper) return limit.value;
  return r.value < limit.value ? limit.value : *limit.upper;
}

std::string difference(const PlainReading& r, const PlainLimit& limit) {
  if (r.kind != ReadingKind::value) return {};
  const Decimal bound = governing_bound(r, limit);
  const Decimal gap = (bound - r.value).abs();
  if (gap.is_void()) return {};
  const bool minimum =
      limit.sense == Sense::at_least || (limit.sense == Sense::between && r.value < limit.value);
  const bool beyond = minimum ? r.value < bound : r.value > bound;
  if (beyond) return gap.short_str() + " " + r.unit + (minimum ? " short" : " over");
  if (gap.is_zero()) return "exactly at the limit";
  const Decimal base = minimum ? r.value : bound;
  const Decimal share = Decimal::divide(gap * Decimal::integer(100), base, 0, Round::down);
  return share.is_void() ? std::string() : share.str() + " % in hand";
}

/// How the verdict follows from reading, uncertainty and limit; the guidance is named.
std::string decision_rule(const PlainReading& r, const Ask& ask) {
  const Decimal spread = r.value * ask.percent * Decimal(1, 2) + ask.absolute;
  if (!r.present || r.kind != ReadingKind::value || spread.is_void() || spread.is_zero()) return {};
  return fmt::format(
      "pass only where {} ± {} {} (declared operating uncertainty) is wholly inside "
      "the limit, borderline where only the reading is (guarded acceptance, JCGM 106:2012, from "
      "memory)",
      r.value.str(), spread.short_str(), r.unit);
}

/// Takes the limit's texts over: nothing is compared with it after.
void fill(Finding& f, const PlainReading& r, PlainLimit& limit, Ask& ask) {
  f.reading = r.present ? shown(r) : std::string();
  f.limit = std::move(limit.printed);
  f.exact = std::move(limit.exact);
  f.derivation = std::move(limit.derivation);
  f.decision = decision_rule(r, ask);
  f.source = std::move(limit.source);
  f.provenance = limit.provenance;
  f.labels = std::move(ask.labels);
}

/// "1.37 Ω": the words around it already say on which side the reading must stand.
std::string bound_words(const PlainLimit& limit) {
  for (const std::string_view sign : {"≤ ", "≥ "})
    if (limit.printed.starts_with(sign)) return limit.printed.substr(sign.size());
  return limit.printed;
}

std::string no_reading(const PlainReading& r, const PlainLimit* limit, const std::string& subject) {
  if (!r.present) return subject + " is not recorded";
  if (r.kind == ReadingKind::limitation)
    return subject + " is a limitation, which is not accepted for work of one's own";
  if (r.kind == ReadingKind::not_applicable)
    return subject + " is marked N/A, but it is needed here";
  if (limit && !limit->value.is_void() && !r.value.is_void())
    return fmt::format("{} {} does not show whether the limit of {} is met", subject, shown(r),
                       bound_words(*limit));
  return subject + " cannot be used as written";
}

/// N/A where it is an answer, LIM in a condition report. Null where neither.
Finding* excused(Scene& scene, const PlainReading& r, const Ask& ask) {
  if (!r.present) return nullptr;
  const bool na = r.kind == ReadingKind::not_applicable && ask.not_applicable_ok;
  const bool lim = r.kind == ReadingKind::limitation && scene.is_report();
  if (!na && !lim) return nullptr;
  Finding& f =
      scene.add(Verdict::not_applicable, ask.stage, ask.cell, ask.subject,
                fmt::format("{} {}: {}", ask.subject,
                            na ? "does not apply" : "was not tested, a limitation", r.reason),
                r.span);
  f.reading = shown(r);
  return &f;
}

Finding& missing(Scene& scene, const PlainReading& r, PlainLimit* limit, Ask& ask) {
  Finding& f = scene.add(Verdict::missing, ask.stage, ask.cell, ask.subject,
                         no_reading(r, limit, ask.subject), r.span.valid() ? r.span : ask.home);
  if (limit)
    fill(f, r, *limit, ask);
  else if (r.present)
    f.reading = shown(r);
  f.action = ask.if_missing.empty() ? ask.action : ask.if_missing;
  f.caution = ask.caution;
  return f;
}

Finding& not_tabulated(Scene& scene, const PlainReading& r, PlainLimit& limit, Ask& ask) {
  Finding& f =
      scene.add(Verdict::doubtful, ask.stage, ask.cell, ask.subject,
                ask.subject + " stands without a tabulated limit, so it is not judged", r.span);
  fill(f, r, limit, ask);
  f.action =
      "Look the limit up in the maker's data and confirm the reading against it, with the "
      "figure as reason and your name.";
  f.confirmable = Confirmable::with_reason;
  return f;
}

std::string verdict_words(Standing s, const PlainReading& r, const PlainLimit& limit,
                          const std::string& subject) {
  const std::string bound = bound_words(limit);
  if (s == Standing::within)
    return fmt::format("{} {} is within its limit of {}", subject, shown(r), bound);
  if (s == Standing::straddles)
    return fmt::format(
        "{} {} is within its limit of {}, but not with the instrument's uncertainty allowed for",
        subject, shown(r), bound);
  const bool minimum = limit.sense == Sense::at_least;
  const char* side = limit.sense == Sense::between ? "outside" : minimum ? "under" : "over";
  std::string gap;
  if (r.kind == ReadingKind::value) {
    const Decimal by = (governing_bound(r, limit) - r.value).abs();
    if (!by.is_void()) gap = " by " + by.short_str() + " " + r.unit;
  }
  return fmt::format("{} {} is {} its limit of {}{}", subject, shown(r), side, bound, gap);
}

Verdict verdict_of(Standing s) {
  switch (s) {
    case Standing::within:
      return Verdict::pass;
    case Standing::straddles:
      return Verdict::borderline;
    case Standing::beyond:
      return Verdict::fail;
    case Standing::unusable:
      return Verdict::missing;
  }
  return Verdict::missing;
}

}  // namespace

std::string shown(const PlainReading& r) {
  if (!r.present) return "nothing";
  if (r.kind == ReadingKind::limitation || r.kind == ReadingKind::not_applicable) return r.text;
  const char last = r.text.empty() ? '0' : r.text.back();
  const bool with_unit = (last >= 'a' && last <= 'z') || (last >= 'A' && last <= 'Z');
  return with_unit ? r.text : r.text + " " + r.unit;  // a fault current is written with its unit
}

Standing standing(const PlainReading& r, const PlainLimit& limit, Decimal percent,
                  Decimal absolute) {
  if (!r.present || r.kind == ReadingKind::limitation || r.kind == ReadingKind::not_applicable)
    return Standing::unusable;
  const Decimal spread = r.value * percent * Decimal(1, 2) + absolute;
  if (spread.is_void()) return Standing::unusable;
  if (limit.sense == Sense::at_most) return one_bound(r, limit.value, false, spread);
  if (limit.sense == Sense::at_least) return one_bound(r, limit.value, true, spread);
  if (!limit.upper) return Standing::unusable;
  return worse(one_bound(r, limit.value, true, spread), one_bound(r, *limit.upper, false, spread));
}

std::optional<int> permille(const PlainReading& r, const PlainLimit& limit) {
  if (!r.present || r.kind == ReadingKind::limitation || r.kind == ReadingKind::not_applicable)
    return std::nullopt;
  const bool minimum = limit.sense == Sense::at_least;
  const Decimal bound = limit.sense == Sense::between && limit.upper ? *limit.upper : limit.value;
  const Decimal top = minimum ? bound : r.value;
  const Decimal base = minimum ? r.value : bound;
  if (!base.is_void() && base.is_zero() && !top.is_void()) return kMostPermille;
  const Decimal share = Decimal::divide(top * Decimal::integer(1000), base, 0, Round::up);
  if (share.is_void()) return std::nullopt;
  return static_cast<int>(std::min<std::int64_t>(share.mantissa(), kMostPermille));
}

Finding& judge_plain(Scene& scene, const PlainReading& r, PlainLimit limit, Ask ask) {
  if (Finding* f = excused(scene, r, ask)) return *f;
  const bool number = r.present && r.kind != ReadingKind::limitation &&
                      r.kind != ReadingKind::not_applicable && !r.value.is_void();
  if (number && limit.value.is_void()) return not_tabulated(scene, r, limit, ask);
  const Standing s = standing(r, limit, ask.percent, ask.absolute);
  if (s == Standing::unusable) return missing(scene, r, &limit, ask);
  std::string words = verdict_words(s, r, limit, ask.subject);
  Finding& f = scene.add(verdict_of(s), ask.stage, std::move(ask.cell), std::move(ask.subject),
                         std::move(words), r.span.valid() ? r.span : ask.home);
  f.difference = difference(r, limit);
  f.used_permille = permille(r, limit);
  fill(f, r, limit, ask);
  if (s == Standing::within) return f;
  f.action = std::move(ask.action);
  f.caution = std::move(ask.caution);
  if (s == Standing::beyond) {
    f.causes.assign(ask.causes.begin(), ask.causes.end());
  } else {
    f.action =
        "Measure again on the range with the smallest uncertainty; the reading passes where "
        "the limit is met with the allowance.";
  }
  return f;
}

bool require_plain(Scene& scene, const PlainReading& r, Ask ask) {
  if (excused(scene, r, ask)) return false;
  const bool usable = r.present && r.kind != ReadingKind::limitation &&
                      r.kind != ReadingKind::not_applicable && !r.value.is_void();
  if (!usable) missing(scene, r, nullptr, ask);
  return usable;
}

std::string part_subject(const std::string& subject, std::string_view part) {
  std::string name(part);
  if (const auto dash = name.find('-'); dash == 2) name.replace(dash, 1, "–");
  return subject + ", " + name;
}

bool part_needed(std::string_view part) {
  return part != "three-phase" && part.find('N') == std::string_view::npos;
}

Finding& judge_tick(Scene& scene, const record::Flag& flag, std::string good, std::string bad,
                    std::string absent, Ask ask) {
  const Verdict verdict = !flag ? Verdict::missing : *flag ? Verdict::pass : Verdict::fail;
  Finding& f = scene.add(verdict, ask.stage, std::move(ask.cell), std::move(ask.subject),
                         !flag   ? std::move(absent)
                         : *flag ? std::move(good)
                                 : std::move(bad),
                         flag.span.valid() ? flag.span : ask.home);
  if (flag) f.reading = *flag ? "yes" : "no";
  if (verdict == Verdict::pass) return f;
  f.action = verdict == Verdict::missing && !ask.if_missing.empty() ? std::move(ask.if_missing)
                                                                    : std::move(ask.action);
  f.caution = std::move(ask.caution);
  f.labels = std::move(ask.labels);
  if (verdict == Verdict::fail) f.causes.assign(ask.causes.begin(), ask.causes.end());
  return f;
}

}  // namespace ohmleaf::checks
