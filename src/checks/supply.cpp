#include <fmt/format.h>

#include <algorithm>

#include "checks/facts.h"
#include "checks/judge.h"
#include "limits/installation.h"
#include "limits/protection.h"

// The supply: what earths the installation, what feeds it, and that the earth is back on.

namespace ohmleaf::checks {
namespace {

Span supply_home(const Scene& s) {
  return s.job.supply.span;
}

Ask before(const Scene& s, std::string cell, std::string subject) {
  Ask ask;
  ask.stage = Stage::before;
  ask.cell = std::move(cell);
  ask.subject = std::move(subject);
  ask.home = supply_home(s);
  return ask;
}

void recorded(Scene& s, bool there, std::string cell, std::string subject, Span span,
              std::string reading, std::string action) {
  if (there) {
    s.add(Verdict::pass, Stage::before, std::move(cell), subject, subject + " is recorded", span)
        .reading = std::move(reading);
    return;
  }
  s.add(Verdict::missing, Stage::before, std::move(cell), subject, subject + " is not recorded",
        supply_home(s))
      .action = std::move(action);
}

void supply_recorded(Scene& s) {
  const record::Supply& x = s.job.supply;
  recorded(s, bool(x.earthing), "supply.earthing", "Earthing arrangement", x.earthing.span,
           x.earthing ? std::string(limits::name(*x.earthing)) : "",
           "Look at the means of earthing at the intake and write TN-S, TN-C-S or TT.");
  recorded(
      s, bool(x.main_fuse), "supply.main_fuse", "Main fuse", x.main_fuse.span,
      x.main_fuse ? x.main_fuse->words() : "",
      "Read type and rating from the cut-out's label; ask the distributor where there is none. "
      "Never break its seal.");
  recorded(s, bool(x.main_switch), "supply.main_switch", "Main switch", x.main_switch.span,
           x.main_switch.value_or(""),
           "Read standard, rating and number of poles from the main switch.");
}

void ze(Scene& s) {
  const record::Supply& x = s.job.supply;
  if (is_tt(s.job)) return;
  Ask ask = before(s, "supply.ze", "Ze");
  ask.if_missing =
      "Measure Ze with the whole installation isolated and the earthing conductor "
      "disconnected, or ask the distributor and enter it with ze_by = \"enquiry\".";
  ask.caution = "With the earthing conductor off, every circuit must stay dead. Put it back first.";
  const auto limit = x.earthing ? limits::declared_max_ze(*x.earthing, s.edition) : std::nullopt;
  if (!limit) {
    if (require(s, x.ze, ask))
      s.add(Verdict::pass, Stage::before, "supply.ze", "Ze", "Ze is recorded", x.ze.span).reading =
          shown_of(x.ze);
    return;
  }
  ask.labels = {
      {x.earthing.span, "this arrangement: the distributor declares " + limit->printed()}};
  Finding& f = judge(s, x.ze, *limit, ask);
  if (f.verdict != Verdict::fail) return;
  // More than the distributor usually declares is a question to the distributor, not a limit that
  // the wiring rules set: whether circuits still disconnect, Zs decides.
  f.verdict = Verdict::doubtful;
  f.confirmable = Confirmable::with_reason;
  f.message = fmt::format("Ze {} is over the {} that the distributor usually declares for {}",
                          f.reading, limit->value.with_unit(), limits::name(*x.earthing));
  f.causes = {"a decimal point one place out", "the earthing arrangement is not the one entered",
              "a loose or corroded earth at the cut-out or in the distributor's cable"};
  f.action =
      "Measure again; if it stays, tell the distributor at once and confirm with their answer.";
  f.caution = "The cut-out is the distributor's: do not open it.";
}

bool earth_was_off(const record::Supply& x) {
  const bool ze_measured = x.ze && x.ze->is_number() &&
                           x.ze_by.value_or(record::Means::measured) == record::Means::measured;
  return ze_measured || (x.ra && x.ra->is_number());
}

void earth_reconnected(Scene& s) {
  const record::Supply& x = s.job.supply;
  if (!earth_was_off(x)) return;
  Ask ask = before(s, "supply.reconnected", "Earthing conductor");
  ask.action =
      "Do not energise. Reconnect the earthing conductor, tighten it, and confirm it by test.";
  ask.if_missing =
      "Confirm that the earthing conductor, disconnected for Ze or RA, is back and tight: "
      "reconnected = true.";
  ask.caution = "Without it every metal case in the house can become live on a fault.";
  judge_tick(s, x.reconnected, "the earthing conductor is back and confirmed",
             "the earthing conductor is still disconnected",
             "nothing says that the earthing conductor was put back after the test", ask);
}

/// The RCD with the largest IΔn that some circuit (or the board) depends on: it sets RA.
std::optional<RcdInPath> governing_rcd(const Scene& s) {
  std::optional<RcdInPath> worst;
  const auto take = [&](const std::optional<RcdInPath>& r) {
    if (r && (!worst || r->rcd->idn > worst->rcd->idn)) worst = r;
  };
  for (const record::Circuit& c : s.job.circuits) take(most_sensitive(rcds_of(s.job, c)));
  if (s.job.supply.rcd && s.job.supply.rcd->rcd)
    take(RcdInPath{&*s.job.supply.rcd->rcd, s.job.supply.rcd.span, "the RCD at the origin", true});
  return worst;
}

void ra(Scene& s) {
  const record::Supply& x = s.job.supply;
  if (!is_tt(s.job)) return;
  Ask ask = before(s, "supply.ra", "RA");
  ask.if_missing =
      "Measure the electrode with its conductor disconnected and the installation "
      "isolated, reconnect it, and enter ra.";
  ask.caution = "With the electrode disconnected, every circuit must stay dead. Put it back first.";
  const auto rcd = governing_rcd(s);
  if (!rcd) {
    require(s, x.ra, ask);
    return;
  }
  ask.labels = {{rcd->span, std::string(rcd->where) + " sets the limit: 50 V ÷ IΔn"}};
  ask.causes = {"dry ground, or an electrode too short", "a corroded clamp or joint"};
  ask.action =
      "Do not energise. Drive the electrode deeper or add a second one, then measure again.";
  judge(s, x.ra, limits::max_zs_rcd(rcd->rcd->idn, s.edition), ask);
}

void ra_stable(Scene& s) {
  const record::Supply& x = s.job.supply;
  if (!is_tt(s.job) || !x.ra || !x.ra->is_number()) return;
  const auto guide = limits::electrode_stability_guide(s.edition);
  if (standing(plain(x.ra), plain(guide), Decimal::integer(0), Decimal::integer(0)) ==
      Standing::within)
    return;
  Finding& f = s.add(Verdict::borderline, Stage::before, "supply.ra", "RA",
                     fmt::format("RA {} is over {}: it may not be stable through the seasons",
                                 shown_of(x.ra), guide.value.with_unit()),
                     x.ra.span);
  f.reading = shown_of(x.ra);
  f.limit = guide.printed();
  f.exact = guide.exact;
  f.derivation = guide.derivation;
  f.source = guide.source;
  f.provenance = guide.provenance;
  f.used_permille = permille(plain(x.ra), plain(guide));
  f.action = "Improve the electrode (deeper, or a second one), or issue with this stated.";
}

void electrode(Scene& s) {
  const record::Supply& x = s.job.supply;
  if (!is_tt(s.job) || x.electrode) return;
  s.add(Verdict::missing, Stage::before, "supply.electrode", "Earth electrode",
        "the earth electrode is not described", supply_home(s))
      .action = "Write its kind, length and place, so that the next one finds it.";
}

void supply_polarity(Scene& s) {
  const record::Flag& polarity = s.job.supply.polarity;
  if (!polarity || *polarity) return;
  Finding& f = s.add(Verdict::fail, Stage::before, "supply.polarity", "Supply polarity",
                     "the incoming supply has line and neutral reversed", polarity.span);
  f.action =
      "Stop. Leave the installation isolated, tell the client in writing, and tell the "
      "distributor.";
  f.caution =
      "Single-pole switches and fuses are in the neutral: metal and lampholders stay live when "
      "off.";
}

void other_sources(Scene& s) {
  if (s.job.supply.other_sources.empty()) return;
  std::string list;
  for (const record::Text& t : s.job.supply.other_sources)
    if (t) list += (list.empty() ? "" : ", ") + *t;
  Finding& f =
      s.add(Verdict::note, Stage::before, "supply.other_sources", "Other sources",
            "there are other sources of supply: " + list, s.job.supply.other_sources.front().span);
  f.action = "Isolate and lock off each, label the points of isolation, and say so to the client.";
  f.caution = "The main switch alone does not make this installation dead.";
}

constexpr Row kRows[] = {
    {{"supply-recorded", "Earthing arrangement, main fuse, main switch",
      "A certificate names the means of earthing, the distributor's fuse and the main switch: they "
      "decide what every later reading means.",
      "common practice", Confirmable::never},
     Over::job,
     supply_recorded},
    {{"ze", "Ze against what the distributor declares",
      "The external loop impedance, measured or by enquiry. Over the usual declared maximum it is "
      "a "
      "question to the distributor; whether a circuit disconnects, its own Zs decides.",
      "typical declared maxima (SSEN ForContractors page)", Confirmable::with_reason},
     Over::job,
     ze},
    {{"earth-reconnected", "Earthing conductor put back",
      "Ze and RA are taken with the earthing conductor disconnected. It is put back and confirmed "
      "before "
      "anything is energised.",
      "common practice", Confirmable::never},
     Over::job,
     earth_reconnected},
    {{"ra", "RA against the RCD", "On a TT system RA × IΔn may not exceed 50 V.",
      "BS 7671 411.5.3 (number from memory)", Confirmable::never},
     Over::job,
     ra},
    {{"ra-stable", "RA that may drift",
      "An electrode above 200 Ω may change with the seasons. Guidance: borderline, not a fail.",
      "Linsley, Basic Electrical Installation Work p369", Confirmable::never},
     Over::job,
     ra_stable},
    {{"electrode", "The earth electrode's description",
      "A TT installation depends on its electrode; the certificate says what and where it is.",
      "common practice", Confirmable::never},
     Over::job,
     electrode},
    {{"supply-polarity", "Polarity of the incoming supply",
      "A reversed supply is a danger to be reported at once, whatever the circuit tests say.",
      "common practice", Confirmable::never},
     Over::job,
     supply_polarity},
    {{"other-sources", "Other sources of supply",
      "PV, battery, generator or vehicle charging: isolate each, label, and say so.",
      "common practice", Confirmable::never},
     Over::job,
     other_sources},
};

}  // namespace

std::span<const Row> supply_rows() {
  return kRows;
}

}  // namespace ohmleaf::checks
