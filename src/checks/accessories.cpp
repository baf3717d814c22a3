#include <fmt/format.h>

#include <algorithm>

#include "checks/facts.h"
#include "checks/judge.h"

// What was fitted: the box, the conductors, the load inside the maker's own range.

namespace ohmleaf::checks {
namespace {

using record::Accessory;
using record::CatalogueItem;

/// One accessory with the maker's figures that judge it.
struct Point {
  const Accessory& accessory;
  const CatalogueItem* item;
  std::string path;  ///< "accessory[0]."
  const record::Installer& installer;

  std::string what() const { return point_name(installer, accessory.item, {}); }
  std::string name() const { return point_name(installer, accessory.item, accessory.where); }
};

/// Runs over the accessories of the circuit that the catalogue knows.
template <class Fn>
void each_point(Scene& s, Fn fn) {
  const auto& list = s.circuit->accessories;
  for (std::size_t i = 0; i < list.size(); ++i) {
    const CatalogueItem* item = item_of(s.installer, list[i].item);
    fn(Point{list[i], item, "accessory[" + std::to_string(i) + "].", s.installer});
  }
}

Ask ask_for(const Point& p, std::string_view key, std::string subject) {
  Ask ask;
  ask.stage = Stage::fitting;
  ask.cell = p.path + std::string(key);
  ask.subject = std::move(subject);
  ask.home = p.accessory.span;
  return ask;
}

PlainLimit maker(limits::Sense sense, const Decimal& value, std::string_view unit,
                 std::string derivation) {
  PlainLimit out;
  out.sense = sense;
  out.value = value;
  out.printed =
      (sense == limits::Sense::at_least ? "≥ " : "≤ ") + value.str() + " " + std::string(unit);
  out.exact = value.str();
  out.derivation = std::move(derivation);
  out.source = "maker's figure, installer.toml";
  out.provenance = limits::Provenance::maker;
  return out;
}

void known(Scene& s) {
  each_point(s, [&](const Point& p) {
    if (p.item) return;
    s.add(Verdict::missing, Stage::fitting, p.path + "item", "Accessory",
          fmt::format("{} is not in the catalogue, so its maker's figures are unknown", p.name()),
          p.accessory.span)
        .action = "Add it to installer.toml with the maker's figures.";
  });
}

void box(Scene& s) {
  each_point(s, [&](const Point& p) {
    if (!p.item || !p.item->box_min_mm) return;
    Ask ask = ask_for(p, "box_mm", "Box depth");
    ask.labels = {{p.item->box_min_mm.span, "the maker's least depth"}};
    ask.causes = {"the old box of a plain accessory was kept"};
    ask.action =
        "Fit a deeper box, or a spacer that the maker allows; do not press conductors behind it.";
    ask.if_missing = "Measure the depth of the box and enter box_mm.";
    ask.caution = "Isolate, lock off and prove dead before you take the accessory out.";
    Finding& f = judge_plain(s, plain(p.accessory.box_mm),
                             maker(limits::Sense::at_least, p.item->box_min_mm->decimal(), "mm",
                                   "least box depth of " + p.what()),
                             std::move(ask));
    f.message += " (" + p.name() + ")";
  });
}

std::string kind_words(record::LoadKind kind) {
  switch (kind) {
    case record::LoadKind::led:
      return "LED";
    case record::LoadKind::compact_fluorescent:
      return "compact fluorescent";
    case record::LoadKind::halogen:
      return "halogen";
    case record::LoadKind::incandescent:
      return "incandescent";
    case record::LoadKind::motor:
      return "motor";
    case record::LoadKind::resistive:
      return "resistive";
    case record::LoadKind::other:
      return "other";
  }
  return "other";
}

void no_range(Scene& s, const Point& p) {
  Finding& f = s.add(Verdict::fail, Stage::fitting, p.path + "load_kind", "Kind of load",
                     fmt::format("the maker gives no range for {} loads ({})",
                                 kind_words(*p.accessory.load_kind), p.name()),
                     p.accessory.load_kind.span);
  f.reading = kind_words(*p.accessory.load_kind);
  for (const auto& range : p.item->loads)
    if (range.kind) f.limit += (f.limit.empty() ? "" : ", ") + kind_words(*range.kind);
  f.provenance = limits::Provenance::maker;
  f.labels = {{p.item->span, "the maker's ranges"}};
  f.action =
      "Change the lamps or the accessory; a kind that the maker does not name is not allowed.";
}

void judge_load(Scene& s, const Point& p, const record::LoadRange& range) {
  Ask ask = ask_for(p, "load_w", "Load");
  ask.labels = {
      {range.span, "the maker's range for " + kind_words(*p.accessory.load_kind) + " loads"}};
  ask.causes = {"too few lamps for this dimmer", "too many lamps for this accessory"};
  ask.action =
      "Change the lamps, or fit an accessory whose range holds this load. Under the least load "
      "lamps "
      "flicker or glow when off; over the most it overheats.";
  ask.if_missing = "Add up the watts of every lamp that it works, and enter load_w.";
  PlainLimit limit;
  if (range.least && range.most) {
    limit = maker(limits::Sense::between, range.least->decimal(), "W", {});
    limit.upper = range.most->decimal();
    limit.printed = range.least->str() + " to " + range.most->with_unit();
    limit.exact = range.least->str() + " to " + range.most->str();
  } else if (range.most) {
    limit = maker(limits::Sense::at_most, range.most->decimal(), "W", {});
  } else if (range.least) {
    limit = maker(limits::Sense::at_least, range.least->decimal(), "W", {});
  } else {
    return;
  }
  limit.derivation = "the maker's range for " + kind_words(*p.accessory.load_kind) + " loads";
  Finding& f = judge_plain(s, plain(p.accessory.load_w), limit, std::move(ask));
  f.message += " (" + p.name() + ")";
}

void load(Scene& s) {
  each_point(s, [&](const Point& p) {
    if (!p.item || p.item->loads.empty()) return;
    if (!p.accessory.load_kind) {
      s.add(Verdict::missing, Stage::fitting, p.path + "load_kind", "Kind of load",
            fmt::format("what {} works is not recorded", p.name()), p.accessory.span)
          .action = "Enter load_kind (led, halogen, incandescent …) and load_w.";
      return;
    }
    const auto& ranges = p.item->loads;
    const auto range = std::find_if(ranges.begin(), ranges.end(), [&](const record::LoadRange& r) {
      return r.kind && *r.kind == *p.accessory.load_kind;
    });
    if (range == ranges.end())
      no_range(s, p);
    else
      judge_load(s, p, *range);
  });
}

void rated(Scene& s) {
  each_point(s, [&](const Point& p) {
    if (!p.item || !p.item->rated || !p.accessory.load_w) return;
    const Decimal most = p.item->rated->decimal() * u0(s.job).decimal();
    Ask ask = ask_for(p, "load_w", "Load against rated current");
    ask.labels = {{p.item->rated.span, "the maker's rated current"}};
    ask.action = "Take load off it, or switch through a contactor that the maker allows.";
    Finding& f = judge_plain(s, plain(p.accessory.load_w),
                             maker(limits::Sense::at_most, most, "W",
                                   p.item->rated->with_unit() + " × " + u0(s.job).with_unit() +
                                       " = " + most.short_str() + " W"),
                             std::move(ask));
    f.message += " (" + p.name() + ")";
  });
}

void bypass(Scene& s) {
  int needed = 0, fitted = 0;
  const Accessory* first = nullptr;
  std::string path;
  each_point(s, [&](const Point& p) {
    if (p.accessory.bypass.value_or(false)) ++fitted;
    if (!p.item || !p.item->needs_bypass.value_or(false)) return;
    if (++needed == 1) {
      first = &p.accessory;
      path = p.path;
    }
  });
  if (needed == 0) return;
  const Span where = first->bypass.span.valid() ? first->bypass.span : first->span;
  if (fitted == 0) {
    const bool said_no = bool(first->bypass);
    Finding& f = s.add(said_no ? Verdict::fail : Verdict::missing, Stage::fitting, path + "bypass",
                       "By-pass load",
                       said_no ? "the dimmer needs a by-pass load, and none is fitted"
                               : "nothing says that the dimmer's by-pass load is fitted",
                       where);
    if (said_no) f.reading = "no";
    f.action =
        "Fit the maker's by-pass load once on this circuit, at the luminaire, between switched "
        "line and neutral.";
    f.caution = "Isolate, lock off and prove dead before you open the luminaire.";
    return;
  }
  if (fitted > 1 && fitted > needed) {
    Finding& f =
        s.add(Verdict::doubtful, Stage::fitting, path + "bypass", "By-pass load",
              fmt::format("{} by-pass loads are entered for {} dimmer", fitted, needed), where);
    f.action =
        "One by-pass load a circuit is enough; take the others out, or confirm why they are there.";
    return;
  }
  s.add(Verdict::pass, Stage::fitting, path + "bypass", "By-pass load",
        "the by-pass load is fitted", where)
      .reading = "yes";
}

void neutral(Scene& s) {
  each_point(s, [&](const Point& p) {
    if (!p.item || !p.item->needs_neutral.value_or(false)) return;
    Ask ask = ask_for(p, "neutral", "Neutral at the point");
    ask.labels = {{p.item->needs_neutral.span, "the maker asks for a neutral"}};
    ask.causes = {"the old switch had none"};
    ask.action =
        "Bring a neutral of this circuit to the point, or fit an accessory that needs none. Never "
        "borrow one "
        "from another circuit, never use the protective conductor.";
    ask.if_missing = "Confirm that a neutral of this same circuit is at the point: neutral = true.";
    ask.caution =
        "A borrowed neutral stays live when its own circuit is isolated. Isolate, lock off and "
        "prove dead.";
    judge_tick(s, p.accessory.neutral, "a neutral of this circuit is at the point (" + p.name() + ")",
               p.name() + " needs a neutral, and none is at the point",
               "nothing says that a neutral of this circuit is at the point (" + p.name() + ")", std::move(ask));
  });
}

void earth(Scene& s) {
  each_point(s, [&](const Point& p) {
    if (!p.item || !p.item->needs_earth.value_or(false)) {
      if (p.accessory.earthed && !*p.accessory.earthed) {
        Finding& f = s.add(
            Verdict::note, Stage::fitting, p.path + "earthed", "Protective conductor at the point",
            "no protective conductor is at the point (" + p.name() + ")", p.accessory.earthed.span);
        f.action = "Fit no Class I equipment and no metal plate there, and say so to the client.";
      }
      return;
    }
    Ask ask = ask_for(p, "earthed", "Protective conductor at the point");
    ask.labels = {{p.item->needs_earth.span, "the maker asks for a protective conductor"}};
    ask.causes = {"a lighting circuit without protective conductor"};
    ask.action =
        "Do not fit it there: no Class I equipment without a protective conductor. Run one, or fit "
        "a Class II accessory.";
    ask.if_missing = "Confirm that a protective conductor is at the point: earthed = true.";
    ask.caution = "Metal without earth becomes live on a fault.";
    judge_tick(s, p.accessory.earthed, "a protective conductor is at the point (" + p.name() + ")",
               p.name() + " needs a protective conductor, and none is at the point",
               "nothing says that a protective conductor is at the point (" + p.name() + ")", std::move(ask));
  });
}

void dimmable(Scene& s) {
  each_point(s, [&](const Point& p) {
    if (!p.item || !p.item->dims.value_or(false)) return;
    Ask ask = ask_for(p, "dimmable", "Dimmable lamps");
    ask.action = "Fit lamps that are marked as dimmable.";
    ask.if_missing = "Read the marking on the lamps and enter dimmable.";
    judge_tick(s, p.accessory.dimmable, "the lamps are dimmable (" + p.name() + ")",
               "the lamps are not dimmable (" + p.name() + ")",
               "nothing says that the lamps are dimmable (" + p.name() + ")", std::move(ask));
  });
}

constexpr Row kRows[] = {
    {{"accessory-known", "Accessory in the catalogue",
      "Its maker's figures are what it is judged by.", "common practice", Confirmable::never},
     Over::circuit,
     known},
    {{"box-depth", "Box depth", "The box is at least as deep as the maker asks.",
      "maker's figure, installer.toml", Confirmable::never},
     Over::circuit,
     box},
    {{"load-range", "Load inside the maker's range",
      "Watts of the kind of lamp that is fitted, within the maker's least and most.",
      "maker's figure, installer.toml", Confirmable::never},
     Over::circuit,
     load},
    {{"load-rated", "Load within the rated current",
      "What it switches is within its rated current.", "maker's figure, installer.toml",
      Confirmable::never},
     Over::circuit,
     rated},
    {{"bypass", "By-pass load",
      "A dimmer that needs no neutral often needs a by-pass load: once a circuit, at the "
      "luminaire.",
      "maker's figure, installer.toml; common practice", Confirmable::with_reason},
     Over::circuit,
     bypass},
    {{"neutral", "Neutral at the point",
      "A neutral of the same circuit, where the maker asks for one; never borrowed.",
      "maker's figure, installer.toml", Confirmable::never},
     Over::circuit,
     neutral},
    {{"earth-at-point", "Protective conductor at the point",
      "Class I equipment and metal plates need one.", "maker's figure, installer.toml",
      Confirmable::never},
     Over::circuit,
     earth},
    {{"dimmable", "Dimmable lamps", "A dimmer works lamps that are made to be dimmed.",
      "common practice", Confirmable::never},
     Over::circuit,
     dimmable},
};

}  // namespace

std::span<const Row> accessory_rows() {
  return kRows;
}

}  // namespace ohmleaf::checks
