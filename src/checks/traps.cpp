#include <fmt/format.h>

#include "checks/facts.h"
#include "checks/judge.h"

// The traps of old wiring: a neutral of another circuit, a protective conductor that carries
// current, neutrals crossed between RCDs. (No protective conductor at a Class I fitting is judged
// where the fitting is: accessories.cpp.)

namespace ohmleaf::checks {
namespace {

std::string path(std::size_t i, std::string_view key) {
  return "accessory[" + std::to_string(i) + "]." + std::string(key);
}

std::string name_of(const Scene& s, const record::Accessory& a) {
  return point_name(s.installer, a.item, a.where);
}

void borrowed_neutral(Scene& s) {
  const auto& list = s.circuit->accessories;
  const std::string own = s.circuit->ref.value_or("");
  for (std::size_t i = 0; i < list.size(); ++i) {
    const record::Text& from = list[i].neutral_from;
    if (!from) continue;
    const std::string cell = path(i, "neutral_from");
    if (*from == own) {
      s.add(Verdict::pass, Stage::fitting, cell, "Neutral of this circuit",
            fmt::format("the neutral at {} is of this circuit", name_of(s, list[i])), from.span)
          .reading = *from;
      continue;
    }
    Finding& f = s.add(
        Verdict::fail, Stage::fitting, cell, "Borrowed neutral",
        fmt::format("the neutral at {} is borrowed from circuit {}", name_of(s, list[i]), *from),
        from.span);
    f.reading = "circuit " + *from;
    f.limit = "circuit " + own;
    f.causes = {"two-way switching fed from two circuits", "the nearest neutral was taken"};
    f.action =
        "Bring the neutral of this circuit to the point, or fit an accessory that needs none; then "
        "prove that no neutral joins the two circuits.";
    f.caution =
        "A borrowed neutral is live when its own circuit is isolated: isolate both circuits, lock "
        "off and prove dead, neutral to earth too.";
  }
}

void cpc_misused(Scene& s) {
  const auto& list = s.circuit->accessories;
  for (std::size_t i = 0; i < list.size(); ++i) {
    const record::Text& use = list[i].cpc_used_as;
    if (!use) continue;
    const std::string cell = path(i, "cpc_used_as");
    if (*use == "protective conductor") {
      s.add(Verdict::pass, Stage::fitting, cell, "Use of the protective conductor",
            fmt::format("the protective conductor at {} serves as nothing else",
                        name_of(s, list[i])),
            use.span)
          .reading = *use;
      continue;
    }
    Finding& f =
        s.add(Verdict::fail, Stage::fitting, cell, "Use of the protective conductor",
              fmt::format("the protective conductor at {} serves as {}", name_of(s, list[i]), *use),
              use.span);
    f.reading = *use;
    f.limit = "protective conductor";
    f.causes = {"a neutral was missing at the switch", "two-core cable with a bare earth was used"};
    f.action =
        "Take it out of that use, run the conductor that is missing, and test the protective "
        "conductor end to end again.";
    f.caution =
        "Every metal part on this conductor can be live. Isolate, lock off and prove dead, and "
        "keep "
        "it off.";
  }
}

void rcd_neutral(Scene& s) {
  const record::Circuit& c = *s.circuit;
  const record::Flag& own = c.live.rcd_neutral;
  if (!own) return;
  Ask ask;
  ask.stage = Stage::live;
  ask.cell = "live.rcd_neutral";
  ask.subject = "Neutral of its own RCD";
  ask.home = home(c.live.span, c);
  ask.causes = {"neutrals of two circuits crossed between the bars of two RCDs",
                "neutrals of two circuits joined at an accessory"};
  ask.action =
      "Isolate the board, take both neutrals out and test between them: they must read as "
      "insulation. Put each on the bar of its own RCD.";
  ask.caution = "Isolate the board, lock off and prove dead before you move a neutral.";
  judge_tick(s, own, "the neutral comes from this circuit's own RCD",
             "the neutral comes from another RCD than the line", "", ask);
}

constexpr Row kRows[] = {
    {{"borrowed-neutral", "A neutral of another circuit",
      "The neutral at a switch, a dimmer or a blind control belongs to the circuit that feeds it. "
      "A "
      "borrowed one stays live when its own circuit is off, and trips an RCD.",
      "BS 7671 314.4 (number from memory)", Confirmable::never},
     Over::circuit,
     borrowed_neutral},
    {{"cpc-misused", "A protective conductor that carries current",
      "A protective conductor is never a neutral and never a switched line.",
      "BS 7671 543 (number from memory)", Confirmable::never},
     Over::circuit,
     cpc_misused},
    {{"rcd-neutral", "Neutrals crossed between RCDs",
      "Line and neutral of a circuit pass the same RCD. Crossed, both RCDs trip as soon as load is "
      "switched on.",
      "common practice", Confirmable::never},
     Over::circuit,
     rcd_neutral},
};

}  // namespace

std::span<const Row> trap_rows() {
  return kRows;
}

}  // namespace ohmleaf::checks
