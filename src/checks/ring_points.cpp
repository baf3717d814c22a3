#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"
#include "checks/facts.h"
#include "checks/judge.h"

// Which point of a ring deviates, and what that shape of readings speaks of.
//
// Line and neutral crossed at the board (line of one leg to neutral of the other), every point of a
// sound ring reads the same, (r1 + rn) ÷ 4: the two ways round are in parallel and their sum is
// one. So
//   one point high                       a spur: its own length comes on top (or a joint there)
//   several neighbours high              a bridge across the ring: the part between has two ways
//   low at the ends, rising to the middle   the ends of one leg were joined, not crossed
//   all about twice as high              one leg is open: there is only one way round

namespace ohmleaf::checks {
namespace {

Decimal scatter() {
  return Decimal(5, 2);
}  // 0.05 Ω: leads, plugs

struct Shape {
  std::string words;  ///< ends a sentence
  std::vector<std::string> causes;
  std::string action;
};

const Shape& spur() {
  static const Shape shape{
      "stands apart from the ring, as a spur does",
      {"a spur, which reads higher by its own length", "a loose joint at that point"},
      "Open that point: two cables of the ring or one of a spur. Enter a spur as such."};
  return shape;
}
const Shape& bridge() {
  static const Shape shape{
      "stand apart side by side, as between the ends of a bridge across the ring",
      {"an interconnection across the ring (a figure of eight)", "a spur with several points"},
      "Trace the cable that joins the ring on both sides of these points, and take it out."};
  return shape;
}
const Shape& not_crossed() {
  static const Shape shape{
      "rise from the ends to the middle, as where the ends of one leg were joined",
      {"line and neutral of one leg were joined at the board, not of opposite legs"},
      "Join the line of one leg with the neutral of the other, and read every point again."};
  return shape;
}
const Shape& open_leg() {
  static const Shape shape{
      "all read about twice a quarter of the loops, as a ring with an open leg does",
      {"a conductor out of its terminal: only one way round is left",
       "only one pair of ends was joined at the board"},
      "Join both crossed pairs; if it stays, measure end to end again and find the open leg."};
  return shape;
}

struct Read {
  const record::RingPoint* point;
  Decimal value;
  bool high;
};

std::vector<Read> read_points(const record::DeadTests& d, const Decimal& quarter) {
  std::vector<Read> out;
  for (const record::RingPoint& p : d.points)
    if (const auto v = figure(p.ln)) out.push_back({&p, *v, *v > quarter + scatter()});
  return out;
}

bool rises_from_the_ends(const std::vector<Read>& all, const Decimal& quarter) {
  if (all.size() < 3) return false;
  const Decimal low = quarter - scatter();
  return all.front().value < low && all.back().value < low &&
         std::any_of(all.begin(), all.end(), [&](const Read& r) { return r.value >= low; });
}

bool all_doubled(const std::vector<Read>& all, const Decimal& quarter) {
  const Decimal two = quarter * Decimal::integer(2);
  return all.size() >= 2 && std::all_of(all.begin(), all.end(), [&](const Read& r) {
           return (r.value - two).abs() <= scatter() + two * Decimal(10, 2);
         });
}

/// Runs of neighbours that read high.
std::vector<std::vector<const Read*>> high_runs(const std::vector<Read>& all) {
  std::vector<std::vector<const Read*>> out;
  bool running = false;
  for (const Read& r : all) {
    if (r.high && !running) out.emplace_back();
    if (r.high) out.back().push_back(&r);
    running = r.high;
  }
  return out;
}

std::string names(const std::vector<const Read*>& points) {
  std::vector<std::string> out;
  for (const Read* r : points)
    out.push_back(fmt::format("{} ({})", r->point->where.value_or("?"), shown_of(r->point->ln)));
  return join(out, ", ");
}

void tell(Scene& s, const std::vector<const Read*>& points, const Shape& shape,
          const Decimal& quarter) {
  Finding& f = s.add(Verdict::doubtful, Stage::dead, "dead.point", "Points of the ring",
                     names(points) + " " + shape.words, points.front()->point->ln.span);
  f.reading = shown_of(points.front()->point->ln);
  f.limit = "about " + quarter.rounded(2, Round::half_up).str() + " Ω at every point";
  f.exact = quarter.str();
  f.derivation = "(r1 + rn) ÷ 4 = " + quarter.str() + " Ω at every point; 0.05 Ω allowed";
  f.labels = {{s.circuit->dead.r1.span, "r1"}, {s.circuit->dead.rn.span, "rn"}};
  f.causes = shape.causes;
  f.action = shape.action;
  f.caution = kDeadFirst;
}

bool has_spur_at(const record::Circuit& c, const record::Text& where) {
  return std::any_of(c.accessories.begin(), c.accessories.end(), [&](const auto& a) {
    const bool spurred = a.connection && (*a.connection == record::Connection::unfused_spur ||
                                          *a.connection == record::Connection::fused_spur);
    return spurred && a.where && where && *a.where == *where;
  });
}

std::vector<const Read*> pointers(const std::vector<Read>& all) {
  std::vector<const Read*> out;
  for (const Read& r : all) out.push_back(&r);
  return out;
}

void ring_points(Scene& s) {
  const record::Circuit& c = *s.circuit;
  const auto r1 = figure(c.dead.r1), rn = figure(c.dead.rn);
  if (!c.type || *c.type != record::CircuitType::ring_final || !r1 || !rn) return;
  const Decimal quarter = Decimal::divide(*r1 + *rn, Decimal::integer(4), 4, Round::half_up);
  const std::vector<Read> all = read_points(c.dead, quarter);
  if (all.empty()) return;
  if (rises_from_the_ends(all, quarter)) return tell(s, pointers(all), not_crossed(), quarter);
  if (all_doubled(all, quarter) && all.front().high)
    return tell(s, pointers(all), open_leg(), quarter);
  bool good = true;
  for (const auto& run : high_runs(all)) {
    if (run.size() == 1 && has_spur_at(c, run.front()->point->where)) continue;  // as entered
    good = false;
    tell(s, run, run.size() == 1 ? spur() : bridge(), quarter);
  }
  if (good)
    s.add(Verdict::pass, Stage::dead, "dead.point", "Points of the ring",
          "every point of the ring reads alike", all.front().point->ln.span);
}

/// The protective conductor at one point: line to it is never less than at the board, and only a
/// spur or a joint lifts one point above the middle of the ring.
void ring_points_cpc(Scene& s) {
  const record::Circuit& c = *s.circuit;
  const auto r1 = figure(c.dead.r1), r2 = figure(c.dead.r2);
  if (!c.type || *c.type != record::CircuitType::ring_final || !r1 || !r2) return;
  const Decimal most = Decimal::divide(*r1 + *r2, Decimal::integer(4), 4, Round::up) + scatter();
  for (const record::RingPoint& p : c.dead.points) {
    const auto v = figure(p.lc);
    const auto ln = figure(p.ln);
    if (!v || *v <= most || has_spur_at(c, p.where)) continue;
    const bool both = ln && *ln > Decimal::divide(*r1 + *figure(c.dead.rn ? c.dead.rn : c.dead.r1),
                                                  Decimal::integer(4), 4, Round::up) +
                                      scatter();
    Finding& f =
        s.add(Verdict::doubtful, Stage::dead, "dead.point", "Points of the ring",
              fmt::format("{} reads {} to the protective conductor, more than the middle of "
                          "the ring can",
                          p.where.value_or("?"), shown_of(p.lc)),
              p.lc.span);
    f.reading = shown_of(p.lc);
    f.limit = "≤ " + most.rounded(2, Round::half_up).str() + " Ω";
    f.exact = most.str();
    f.derivation = "(r1 + r2) ÷ 4 and 0.05 Ω";
    f.labels = {{c.dead.r1.span, "r1"}, {c.dead.r2.span, "r2"}};
    f.causes = both ? std::vector<std::string>{"a spur, which reads higher by its own length"}
                    : std::vector<std::string>{"a loose protective conductor at that point"};
    f.action = both ? "Open that point and see whether it is a spur; enter it as such."
                    : "Open that point and tighten its protective conductor, then read it again.";
    f.caution = kDeadFirst;
  }
}

constexpr Row kRows[] = {
    {{"ring-points", "Which point of the ring deviates",
      "With the ends crossed every point of a ring reads (r1 + rn) ÷ 4. One high point is a spur, "
      "several side by side are between the ends of a bridge, readings that rise from the ends to "
      "the "
      "middle come from ends that were joined and not crossed, and readings all twice as high from "
      "an "
      "open leg.",
      "ring arithmetic (machineryequipmentonline.com; scribd 72915510)", Confirmable::with_reason},
     Over::circuit,
     ring_points},
    {{"ring-points-cpc", "Protective conductor at one point of the ring",
      "Line to protective conductor rises to (r1 + r2) ÷ 4 in the middle of the ring; a point "
      "above "
      "that is a spur or a loose joint.",
      "ring arithmetic (machineryequipmentonline.com; scribd 72915510)", Confirmable::with_reason},
     Over::circuit,
     ring_points_cpc},
};

}  // namespace

std::span<const Row> ring_point_rows() {
  return kRows;
}

}  // namespace ohmleaf::checks
