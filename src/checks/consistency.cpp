#include <fmt/format.h>

#include "checks/facts.h"
#include "checks/judge.h"
#include "checks/slip.h"
#include "limits/conductor.h"

// Readings are tied by physics. Where they cannot all be true, say so, and name the slip that
// would explain it.

namespace ohmleaf::checks {
namespace {

Decimal scatter() {
  return Decimal(5, 2);
}  // loop tests that do not trip RCDs: ± 0.05 Ω

/// What the loop test may be out by: 0.05 Ω, and the instrument's own repeatability if stated.
Decimal loop_tolerance(const Scene& s, const Decimal& zs) {
  const record::Instrument* meter = instrument_of(s.job, s.installer, s.circuit->live.instrument);
  return scatter() + declared(meter, &record::Instrument::loop_ohms) +
         zs * declared(meter, &record::Instrument::loop_percent) * Decimal(1, 2);
}

struct Sum {
  Decimal zs, ze, r;
};

/// How Zs stands to Ze + (R1+R2).
enum class Tie { agrees, high, below_ze, below_r };

Tie tie(const Sum& x, const Decimal& tolerance) {
  if (x.zs > x.ze + x.r + tolerance) return Tie::high;
  if (x.zs < x.r - tolerance) return Tie::below_r;
  if (x.zs < x.ze - tolerance) return Tie::below_ze;
  return Tie::agrees;
}

void explain(Finding& f, Tie t) {
  switch (t) {
    case Tie::high:
      f.causes.insert(f.causes.end(), {"a loose joint that shows only under the test current",
                                       "R1+R2 was not taken at the farthest point",
                                       "the instrument's no-trip range reads high"});
      f.action = "Measure Zs again on another range; if it stays, look for the joint.";
      f.caution = kBeforeJoint;
      break;
    case Tie::below_r:
      f.causes.insert(f.causes.end(), {"R1+R2 was taken with leads not nulled",
                                       "the readings are of different points"});
      f.action = "Null the leads and measure R1+R2 again at the point where Zs was taken.";
      f.caution = kDeadFirst;
      break;
    default:
      f.causes.insert(f.causes.end(),
                      {"parallel paths through bonding (Ze is taken with the earth disconnected)",
                       "Ze and Zs were swapped"});
      f.action =
          "If metal pipes or a second earth give a parallel path, confirm with that as reason.";
  }
}

std::string what(Tie t) {
  if (t == Tie::below_r) return "is below R1+R2, of which it contains the most";
  if (t == Tie::below_ze) return "is below Ze";
  return "is above Ze + (R1+R2)";
}

/// Rows exchanged at the board: with the other circuit's Zs both circuits agree, as they stand
/// neither does.
std::vector<std::string> swapped_rows(const Scene& s, const Sum& mine, const Decimal& tolerance) {
  const auto fits = [&](const Decimal& z, const Decimal& r) {
    return (z - mine.ze - r).abs() <= tolerance;
  };
  // Rows that change places stand near each other; a schedule of thousands is not searched whole
  // for every reading that does not fit.
  constexpr int kNear = 200;
  const int last = std::min(s.index + kNear, static_cast<int>(s.job.circuits.size()) - 1);
  for (int i = std::max(0, s.index - kNear); i <= last; ++i) {
    const record::Circuit& other = s.job.circuits[static_cast<std::size_t>(i)];
    const auto r = figure(other.dead.r1r2), zs = figure(other.live.zs);
    if (&other == s.circuit || !r || !zs || fits(*zs, *r)) continue;
    if (fits(*zs, mine.r) && fits(mine.zs, *r))
      return {fmt::format("Zs of circuits {} and {} exchanged?", s.circuit->ref.value_or("?"),
                          other.ref.value_or("?"))};
  }
  return {};
}

/// R1+R2 as read; or, where only R2 was read by the long lead, R2 and the line by its size.
struct Conductors {
  Decimal value, read;
  Decimal factor;  ///< value ÷ read
  std::string text, name, words;
  Span span;
};
std::optional<Conductors> conductors(const record::Circuit& c, const record::Measured<Ohms>& r1r2) {
  const Decimal one = Decimal::integer(1);
  if (const auto r = highest(r1r2))
    return Conductors{*r, *r, one, r1r2->text, "R1+R2", "(R1+R2) " + r->str() + " Ω", r1r2.span};
  const auto r2 = highest(c.dead.r2_only);
  if (r1r2 || !r2 || !c.cable.line || !c.cable.cpc) return std::nullopt;
  const Metres run(Decimal::integer(100));
  const Celsius cold(Decimal::integer(20));
  const auto both = limits::expected_r1r2(*c.cable.line, *c.cable.cpc, run, cold);
  const auto part = limits::expected_r1r2(*c.cable.cpc, std::nullopt, run, cold);
  if (!both || !part) return std::nullopt;
  const Decimal factor =
      Decimal::divide(both->value.decimal(), part->value.decimal(), 4, Round::half_up);
  const Decimal sum = (*r2 * factor).rounded(3, Round::half_up);
  return Conductors{sum,
                    *r2,
                    factor,
                    c.dead.r2_only->text,
                    "R2",
                    "(R1+R2) " + sum.str() + " Ω, by R2 and the sizes",
                    c.dead.r2_only.span};
}

/// One Zs and the R1+R2 of the same line.
void one_sum(Scene& s, const record::Measured<Ohms>& field, const std::string& cell,
             const record::Measured<Ohms>& r1r2) {
  const record::Circuit& c = *s.circuit;
  const auto ze = highest(s.job.supply.ze), zs = highest(field);
  const auto r = conductors(c, r1r2);
  if (!ze || !r || r->value.is_void() || !zs) return;
  const bool calculated = c.live.zs_by && *c.live.zs_by == record::Means::calculated;
  const auto allowed = [&](const Decimal& z, const Decimal& sum_of_two) {
    const Decimal loop = calculated ? Decimal(1, 2) : loop_tolerance(s, z);
    return r->name == "R2" ? loop + sum_of_two * Decimal(10, 2) : loop;  // the size, not a reading
  };
  const Decimal tolerance = allowed(*zs, r->value);
  const Sum x{*zs, *ze, r->value};
  Tie t = tie(x, tolerance);
  if (calculated && (x.zs - x.ze - x.r).abs() > tolerance)
    t = x.zs > x.ze + x.r ? Tie::high : Tie::below_r;
  if (t == Tie::agrees) return;
  const auto close = [&](const std::vector<Decimal>& v) {
    // By the figure that would have been meant: a hundredfold one allows more than all of it.
    const Decimal both = v[2] * r->factor;
    return (v[0] - v[1] - both).abs() <= allowed(v[0], both);
  };
  auto slips = swapped_rows(s, x, tolerance);
  if (slips.empty())
    slips = single_slips(
        {{"Zs", field->text, *zs}, {"Ze", s.job.supply.ze->text, *ze}, {r->name, r->text, r->read}},
        close);
  const Decimal sum = x.ze + x.r;
  Finding& f =
      s.add(Verdict::doubtful, Stage::live, cell, "Zs against Ze + (R1+R2)",
            fmt::format("Zs {} {}{}: {} + {} = {} Ω{}", shown_of(field),
                        calculated ? "is not the calculated" : what(t), calculated ? " sum" : "",
                        s.job.supply.ze->text, r->value.str(), sum.str(), slip_tail(slips)),
            field.span);
  f.reading = shown_of(field);
  f.limit = "about " + sum.str() + " Ω";
  f.exact = sum.str();
  f.derivation = fmt::format("Ze {} Ω + {} = {} Ω; ± {} Ω allowed", ze->str(), r->words, sum.str(),
                             tolerance.short_str());
  f.difference = (*zs - sum).abs().short_str() + (*zs > sum ? " Ω over" : " Ω under");
  f.labels = {{s.job.supply.ze.span, "Ze"}, {r->span, r->name}};
  f.causes = slips;
  explain(f, t);
}

void zs_sum(Scene& s) {
  const record::Circuit& c = *s.circuit;
  if (is_tt(s.job)) return;
  if (!c.live.zs.divided() || !c.dead.r1r2.divided()) {
    one_sum(s, c.live.zs, "live.zs", c.dead.r1r2);
    return;
  }
  for (std::size_t i = 0; i < c.live.zs.parts.size(); ++i)
    one_sum(s, c.live.zs.parts[i], "live.zs." + std::string(record::EachLine::names[i]),
            c.dead.r1r2.parts[i]);
}

void zs_ra(Scene& s) {
  const record::Circuit& c = *s.circuit;
  const auto ra = highest(s.job.supply.ra), zs = highest(c.live.zs);
  if (!is_tt(s.job) || !ra || !zs) return;
  // The loop is the electrode, the source's own (some 21 Ω at most) and the conductors; bonding
  // can lower it a great deal. Only a factor of about ten is a slip.
  const auto agrees = [](const Decimal& z, const Decimal& a) {
    return z * Decimal::integer(4) >= a && z <= a * Decimal(13, 1) + Decimal::integer(25);
  };
  if (agrees(*zs, *ra)) return;
  auto slips = single_slips({{"Zs", c.live.zs->text, *zs}, {"RA", s.job.supply.ra->text, *ra}},
                            [&](const auto& v) { return agrees(v[0], v[1]); });
  Finding& f = s.add(Verdict::doubtful, Stage::live, "live.zs", "Zs against RA",
                     fmt::format("Zs {} does not fit RA {}{}", shown_of(c.live.zs),
                                 shown_of(s.job.supply.ra), slip_tail(slips)),
                     c.live.zs.span);
  f.reading = shown_of(c.live.zs);
  f.limit = "about " + shown_of(s.job.supply.ra);
  f.labels = {{s.job.supply.ra.span, "RA"}};
  f.causes = slips;
  f.causes.insert(f.causes.end(),
                  {"parallel paths through bonding", "the electrode was not disconnected for RA"});
  f.action = "Measure both again; if bonding gives a parallel path, confirm with that as reason.";
  f.caution = kKeepEarth;
}

void rcd_time_plausible(Scene& s) {
  const record::RcdTests& x = s.circuit->live.rcd;
  const auto once = figure(x.trip_ms), five = figure(x.trip_x5_ms);
  const Decimal least = Decimal::integer(5);  // no mechanism opens in a quarter of a cycle
  if (once && *once < least) {
    std::string tail;
    // A figure that would be as impossible is not asked after: 0.024 may be 24, never 0.24.
    for (int places = 1; places <= 3 && tail.empty(); ++places) {
      const Decimal meant = shifted(*once, -places);
      if (meant < least) continue;
      tail = slip_tail({fmt::format("{} entered as {}?", meant.str(), x.trip_ms->text)});
    }
    Finding& f =
        s.add(Verdict::doubtful, Stage::live, "live.rcd.trip_ms", "RCD time",
              fmt::format("RCD time {} is shorter than any RCD opens{}", shown_of(x.trip_ms), tail),
              x.trip_ms.span);
    f.reading = shown_of(x.trip_ms);
    f.limit = "≥ 5 ms";
    f.causes = {"a decimal point out of place, or seconds for milliseconds",
                "another device tripped first"};
    f.action = "Test again at IΔn, loads unplugged, and read the unit.";
  }
  if (five && *five < Decimal::integer(3)) {
    Finding& f = s.add(
        Verdict::doubtful, Stage::live, "live.rcd.trip_x5_ms", "RCD time at 5 IΔn",
        fmt::format("RCD time {} at 5 IΔn is shorter than any RCD opens", shown_of(x.trip_x5_ms)),
        x.trip_x5_ms.span);
    f.reading = shown_of(x.trip_x5_ms);
    f.limit = "≥ 3 ms";
    f.causes = {"a decimal point one place out, or seconds for milliseconds"};
    f.action = "Test again at 5 IΔn, loads unplugged, and read the unit.";
  }
  if (once && five && *five > *once) {
    Finding& f = s.add(Verdict::doubtful, Stage::live, "live.rcd.trip_x5_ms", "RCD time at 5 IΔn",
                       fmt::format("RCD time {} at 5 IΔn is longer than {} at IΔn; swapped?",
                                   shown_of(x.trip_x5_ms), shown_of(x.trip_ms)),
                       x.trip_x5_ms.span);
    f.reading = shown_of(x.trip_x5_ms);
    f.limit = "≤ " + shown_of(x.trip_ms);
    f.labels = {{x.trip_ms.span, "at IΔn"}};
    f.causes = {"the two were swapped"};
    f.action = "Test both again.";
  }
}

/// One reading with more places than its kind of instrument shows, or exactly zero.
struct Unread {
  PlainReading reading;
  bool zero = false;
  std::string cell, subject;
  Stage stage = Stage::live;
};

/// Zero megohms and zero milliseconds are for the checks of insulation and of RCD times.
template <class Q>
constexpr bool kZeroIsOdd = !std::is_same_v<Q, Megohms> && !std::is_same_v<Q, Millis>;

template <class Q>
bool unread(const record::Field<Reading<Q>>& field, int places) {
  if (!field || field->kind != ReadingKind::value) return false;
  const Decimal value = field->value.decimal();
  return !value.is_void() && ((value.is_zero() && kZeroIsOdd<Q>) || value.scale() > places);
}
template <class Q, class Set>
bool any_unread(const record::Split<Q, Set>& split, int places) {
  if (!split.divided()) return unread<Q>(split, places);
  for (std::size_t i = 0; i < split.parts.size(); ++i)
    if (unread<Q>(split.parts[i], places)) return true;
  return false;
}

/// Most circuits have none: texts are made for those alone.
std::vector<Unread> unread_of(const record::Circuit& c) {
  std::vector<Unread> out;
  const auto one = [&](const auto& field, std::string_view cell, std::string_view subject,
                       int places, Stage stage) {
    if (!unread(field, places)) return;
    const bool zero = field->value.decimal().is_zero() && kZeroIsOdd<decltype(field->value)>;
    out.push_back({plain(field), zero, std::string(cell), std::string(subject), stage});
  };
  const auto each = [&](const auto& split, const char* cell, const char* subject, Stage stage) {
    if (!any_unread(split, 3)) return;
    each_part(split, cell, subject,
              [&](const auto& field, const std::string& at, const std::string& words) {
                one(field, at, words, 3, stage);
              });
  };
  const auto& d = c.dead;
  const auto& l = c.live;
  one(d.r1, "dead.r1", "r1", 3, Stage::dead);
  one(d.rn, "dead.rn", "rn", 3, Stage::dead);
  one(d.r2, "dead.r2", "r2", 3, Stage::dead);
  one(d.r2_only, "dead.R2", "R2", 3, Stage::dead);
  one(l.rcd.trip_ms, "live.rcd.trip_ms", "RCD time", 1, Stage::live);
  one(l.rcd.trip_x5_ms, "live.rcd.trip_x5_ms", "RCD time at 5 IΔn", 1, Stage::live);
  each(d.r1r2, "dead.R1R2", "R1+R2", Stage::dead);
  each(d.insulation.live_live, "dead.insulation.live_live", "Insulation, live to live",
       Stage::dead);
  each(d.insulation.live_earth, "dead.insulation.live_earth", "Insulation, live to earth",
       Stage::dead);
  each(l.zs, "live.zs", "Zs", Stage::live);
  each(l.pfc, "live.pfc", "Fault current", Stage::live);
  return out;
}

void resolution(Scene& s) {
  for (const Unread& x : unread_of(*s.circuit)) {
    const PlainReading& r = x.reading;
    Finding& f = s.add(
        Verdict::doubtful, x.stage, x.cell, x.subject,
        x.zero ? x.subject + " of exactly zero is less than an instrument resolves"
                : fmt::format("{} {} has more places than such an instrument shows", x.subject, shown(r)),
        r.span);
    f.reading = shown(r);
    if (x.zero) {
      f.causes = {"leads touching each other", "the reading was below the range"};
      f.action = "Measure again; write \"<0.01\" where the instrument shows nothing.";
    } else {
      f.causes = {"calculated rather than read", "a slip in writing"};
      f.action = "Enter it as the display showed it.";
      if (x.cell.starts_with("live.zs"))
        f.action += " A calculated Zs is marked zs_by = \"calculated\".";
    }
  }
}

constexpr Row kRows[] = {
    {{"zs-sum", "Zs against Ze + (R1+R2)",
      "Zs is about Ze + (R1+R2): higher than the sum is a joint or a slip; below Ze can be true "
      "with parallel paths, and "
      "is a query. ± 0.05 Ω, or the instrument's stated repeatability, is allowed. Where one slip "
      "makes all three agree it "
      "is named.",
      "arithmetic; tolerance common practice", Confirmable::with_reason},
     Over::circuit,
     zs_sum},
    {{"zs-ra", "Zs against RA",
      "On TT the loop is mostly the electrode. Only a factor of about ten is questioned.",
      "common practice", Confirmable::with_reason},
     Over::circuit,
     zs_ra},
    {{"rcd-time-plausible", "RCD time that can be",
      "No RCD opens in under 5 ms at IΔn or 3 ms at 5 IΔn, and none is slower at 5 IΔn.",
      "common practice", Confirmable::with_reason},
     Over::circuit,
     rcd_time_plausible},
    {{"resolution", "Readings that an instrument can show",
      "More places than the instrument has, or an exact zero, was not read off it.",
      "common practice", Confirmable::with_reason},
     Over::circuit,
     resolution},
};

}  // namespace

std::span<const Row> consistency_rows() {
  return kRows;
}

}  // namespace ohmleaf::checks
