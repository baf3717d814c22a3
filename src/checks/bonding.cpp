#include <fmt/format.h>

#include "checks/facts.h"
#include "checks/judge.h"
#include "limits/installation.h"
#include "limits/supply.h"

// Earthing conductor and main protective bonding: sizes, and resistance where the length is known.

namespace ohmleaf::checks {
namespace {

using record::Bonding;

struct Service {
  std::string_view key;
  std::string_view words;
  record::Measured<SquareMm> Bonding::*size;
  record::Measured<Ohms> Bonding::*ohms;
  record::Field<Metres> Bonding::*length;
  bool always_asked;  ///< water and gas are in nearly every home: absent is an open question
};
constexpr Service kServices[] = {
    {"water", "water", &Bonding::water, &Bonding::water_ohms, &Bonding::water_length, true},
    {"gas", "gas", &Bonding::gas, &Bonding::gas_ohms, &Bonding::gas_length, true},
    {"oil", "oil", &Bonding::oil, &Bonding::oil_ohms, &Bonding::oil_length, false},
    {"structure", "structural steel", &Bonding::structure, &Bonding::structure_ohms,
     &Bonding::structure_length, false},
    {"other", "other service", &Bonding::other, &Bonding::other_ohms, &Bonding::other_length,
     false},
};

/// Supply neutral, or what a domestic supply does not exceed (35 mm²) where it is not given.
struct Neutral {
  SquareMm size;
  bool stated;
};
Neutral neutral(const record::Job& job) {
  if (job.supply.neutral) return {*job.supply.neutral, true};
  return {SquareMm(Decimal::integer(35)), false};
}

Ask ask_for(const Scene& s, std::string cell, std::string subject) {
  Ask ask;
  ask.stage = Stage::before;
  ask.cell = std::move(cell);
  ask.subject = std::move(subject);
  ask.home = s.job.bonding.span;
  ask.caution = kKeepEarth;
  return ask;
}

void earthing_conductor(Scene& s) {
  const auto& size = s.job.bonding.earthing_conductor;
  const Neutral n = neutral(s.job);
  Ask ask = ask_for(s, "bonding.earthing_conductor", "Earthing conductor");
  ask.if_missing =
      "Read the size of the conductor between the main earthing terminal and the means of "
      "earthing.";
  auto limit = limits::min_protective_conductor(n.size, s.edition);
  if (!n.stated) limit.derivation += "; tails taken as not over 35 mm²";
  if (is_tt(s.job)) {  // an electrode's conductor is sized by its own rule, not by the tails
    ask.causes = {"a decimal point one place out", "a bell or control wire was used"};
    ask.action = "Read the size again; renew the conductor to the electrode before energising.";
    judge(s, size, limits::electrode_conductor_min(s.edition), ask);
    return;
  }
  ask.causes = {"an older installation, sized by an earlier edition"};
  ask.action = "Upgrade the earthing conductor before the work is energised.";
  Finding& f = judge(s, size, limit, ask);
  if (f.verdict != Verdict::fail) return;
  f.verdict = Verdict::doubtful;
  f.confirmable = Confirmable::with_reason;
  f.action =
      "Upgrade it, or confirm with the adiabatic calculation (fault current, time, result) as "
      "reason.";
}

void main_bonding(Scene& s) {
  if (!s.job.supply.earthing) return;  // asked for elsewhere; no rule without it
  const Neutral n = neutral(s.job);
  std::optional<SquareMm> earthing;
  if (const auto e = figure(s.job.bonding.earthing_conductor)) earthing = SquareMm(*e);
  const auto limit = limits::min_main_bonding(*s.job.supply.earthing, n.size, earthing, s.edition);
  for (const Service& service : kServices) {
    const auto& size = s.job.bonding.*service.size;
    if (!size && !service.always_asked) continue;
    Ask ask = ask_for(s, "bonding." + std::string(service.key),
                      "Main bonding, " + std::string(service.words));
    ask.not_applicable_ok = true;
    ask.if_missing = fmt::format(
        "Look where the {} service enters: enter the bonding conductor's size, or "
        "\"N/A: why\" (plastic pipe, no such service).",
        service.words);
    ask.causes = {"an older installation, sized by an earlier edition", "the size was misread"};
    ask.action = "Bond it in the right size before the added work is energised.";
    ask.labels = {{s.job.supply.earthing.span, "this earthing arrangement sets the size"}};
    if (!limit) {
      if (require(s, size, ask))
        s.add(Verdict::pass, Stage::before, ask.cell, ask.subject, ask.subject + " is recorded",
              size.span)
            .reading = shown_of(size);
      continue;
    }
    Finding& f = judge(s, size, *limit, ask);
    if (!n.stated && *s.job.supply.earthing == limits::Earthing::tn_c_s && !f.derivation.empty())
      f.derivation += "; supply neutral taken as not over 35 mm²";
  }
}

void bonding_resistance(Scene& s) {
  for (const Service& service : kServices) {
    const auto ohms = figure(s.job.bonding.*service.ohms);
    const auto size = figure(s.job.bonding.*service.size);
    const auto& length = s.job.bonding.*service.length;
    if (!ohms || !size || !length) continue;
    const auto expected = limits::bonding_resistance(SquareMm(*size), *length);
    if (!expected) continue;
    const auto& field = s.job.bonding.*service.ohms;
    const std::string cell = "bonding." + std::string(service.key) + "_ohms";
    const std::string subject = "Bonding resistance, " + std::string(service.words);
    const Decimal most = expected->value.decimal() + Decimal(5, 2);
    const bool agrees = *ohms <= most;
    Finding& f =
        s.add(agrees ? Verdict::pass : Verdict::doubtful, Stage::dead, cell, subject,
              fmt::format("{} {} {} the {} Ω of its length and size", subject, shown_of(field),
                          agrees ? "agrees with" : "is far above", expected->exact),
              field.span);
    f.reading = shown_of(field);
    f.limit = "about " + expected->value.with_unit();
    f.exact = expected->exact;
    f.derivation = expected->derivation + "; 0.05 Ω allowed for leads and joints";
    f.source = expected->source;
    f.provenance = expected->provenance;
    if (agrees) continue;
    f.causes = {"a loose or painted clamp", "test leads not nulled",
                "a smaller or longer conductor than entered"};
    f.action =
        "Null the leads, clean the clamp, and measure again from the main earthing terminal.";
  }
}

constexpr Row kRows[] = {
    {{"earthing-conductor", "Size of the earthing conductor",
      "Table 54.7 gives the size by the tails; a smaller one may be right by the adiabatic "
      "equation, "
      "which is then the reason of the confirmation.",
      "BS 7671 Table 54.7 (the-regs.co.uk/blog/?p=280)", Confirmable::with_reason},
     Over::job,
     earthing_conductor},
    {{"main-bonding", "Size of main protective bonding",
      "Each extraneous service is bonded: by the supply neutral under TN-C-S, else half the "
      "earthing "
      "conductor, 6 to 25 mm². Inadequate bonding stops the added work, whatever its own tests "
      "say.",
      "BS 7671 544.1.1, Table 54.8 (the-regs.co.uk/blog/?p=280)", Confirmable::never},
     Over::job,
     main_bonding},
    {{"bonding-resistance", "Resistance of main bonding",
      "0.05 Ω is guidance, not a limit: where length and size are known, the resistance must agree "
      "with "
      "them.",
      "engx.theiet.org 29227", Confirmable::with_reason},
     Over::job,
     bonding_resistance},
};

}  // namespace

std::span<const Row> bonding_rows() {
  return kRows;
}

}  // namespace ohmleaf::checks
