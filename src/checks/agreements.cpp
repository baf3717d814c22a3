#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "base/text.h"
#include "checks/facts.h"
#include "checks/judge.h"

// What others must know or agree to: building control, departures, limitations, dangers.

namespace ohmleaf::checks {
namespace {

bool blank(const record::Text& text) {
  return !text || trim(*text).empty();
}

Span top(const Scene& s) {
  return s.job.kind.span.valid() ? s.job.kind.span : s.job.date.span;
}

/// Why the work must be told to building control, by what the job says. Empty: not that we know.
std::string notifiable(const Scene& s) {
  const std::string nation = ascii_lower(s.job.nation.value_or("England"));
  if (nation == "scotland" || nation == "northern ireland" || !is_dwelling(s.job)) return {};
  for (const record::Circuit& c : s.job.circuits) {
    if (c.is_new.value_or(false)) return "a new circuit in a dwelling";
    if (c.type && *c.type == record::CircuitType::distribution)
      return "work on a board in a dwelling";
    if (serves_bathroom(c) && !c.accessories.empty()) return "work in a room with a bath or shower";
    if (nation == "wales" && serves_outdoors(c)) return "work outdoors in Wales";
  }
  return {};
}

void notification(Scene& s) {
  const record::Notification& n = s.job.notification;
  const std::string why = notifiable(s);
  if (s.is_report() || (why.empty() && !n.needed.value_or(false))) return;
  const Span where = n.needed.span.valid() ? n.needed.span : n.span.valid() ? n.span : top(s);
  if (!n.needed) {
    Finding& f = s.add(Verdict::missing, Stage::paper, "notification.needed", "Notification",
                       "whether building control must be told is not answered: " + why, where);
    f.action =
        "Write needed = true with the route, or needed = false if the place is outside the rule.";
    return;
  }
  if (!*n.needed) {
    Finding& f = s.add(Verdict::doubtful, Stage::paper, "notification.needed", "Notification",
                       "the work is entered as not notifiable, but it looks so: " + why, where);
    f.action = "Notify, or confirm why it need not be (for a bathroom: outside the zones).";
    return;
  }
  if (blank(n.route)) {
    s.add(Verdict::missing, Stage::paper, "notification.route", "Notification",
          "how the work is notified is not recorded", where)
        .action = "Enter route: the installer's scheme, or the local authority.";
    return;
  }
  Finding& f = s.add(
      blank(n.reference) ? Verdict::note : Verdict::pass, Stage::paper, "notification.reference",
      "Notification",
      blank(n.reference) ? "the notification has no reference yet" : "the notification is recorded",
      where);
  f.reading = n.reference.value_or(*n.route);
  if (blank(n.reference)) f.action = "Add reference and date when they come.";
}

bool never_departed_from(std::string_view text, bool dwelling) {
  constexpr std::array words = {"disconnection", "continuity", "earthing",         "bonding",
                                "polarity",      "insulation", "breaking capacity"};
  const std::string lower = ascii_lower(text);
  if (dwelling && lower.find("rcd") != std::string::npos) return true;
  return std::any_of(words.begin(), words.end(),
                     [&](const char* w) { return lower.find(w) != std::string::npos; });
}

void departures(Scene& s) {
  for (const record::Departure& d : s.job.departures) {
    if (blank(d.what) || blank(d.reason) || blank(d.by)) {
      s.add(Verdict::missing, Stage::paper, "departure", "Departure",
            "a departure lacks what, reason or name", d.span)
          .action = "Say what departs, why it is no less safe, and who decided it.";
      continue;
    }
    if (!never_departed_from(*d.what, is_dwelling(s.job))) {
      s.add(Verdict::note, Stage::paper, "departure", "Departure",
            "a departure is stated: " + *d.what, d.what.span);
      continue;
    }
    Finding& f = s.add(Verdict::doubtful, Stage::paper, "departure", "Departure",
                       "this may never be departed from: " + *d.what, d.what.span);
    f.action =
        "Cure it instead. Confirm only if the departure is of another kind than its words suggest.";
  }
}

void limitations(Scene& s) {
  for (const record::Limitation& l : s.job.limitations)
    if (blank(l.what) || blank(l.agreed_with))
      s.add(Verdict::missing, Stage::paper, "limitation", "Limitation",
            "a limitation does not say with whom it was agreed", l.span)
          .action = "Enter what is limited and agreed_with.";
}

void observations(Scene& s) {
  for (const record::Observation& o : s.job.observations) {
    if (s.is_report() && blank(o.code)) {
      s.add(Verdict::missing, Stage::paper, "observation", "Observation",
            "an observation has no code", o.span)
          .action = "Code it C1, C2, C3 or FI.";
      continue;
    }
    if (!o.code || ascii_lower(*o.code) != "c1") continue;
    Finding& f = s.add(Verdict::note, Stage::paper, "observation", "Danger",
                       "a danger is recorded: " + o.what.value_or("?"), o.span);
    f.action =
        "Make it safe if you may, tell the client in writing now (what, when, whom), and tell the "
        "distributor if it is theirs.";
    f.caution = "Do not leave it for the certificate.";
  }
}

constexpr Row kRows[] = {
    {{"notification", "Notification to building control",
      "A new circuit, a board, or a bathroom in a dwelling of England or Wales is notified: route, "
      "reference, date.",
      "wiring-regulations.co.uk (England 2013)", Confirmable::with_reason},
     Over::job,
     notification},
    {{"departure", "Departures",
      "A departure is no less safe, has a reason and a name, and is never from disconnection, a 30 "
      "mA RCD in a dwelling, continuity, earthing, bonding, polarity, insulation or breaking "
      "capacity.",
      "common practice", Confirmable::with_reason},
     Over::job,
     departures},
    {{"limitation", "Limitations", "A limitation says with whom it was agreed.", "common practice",
      Confirmable::never},
     Over::job,
     limitations},
    {{"observation", "Observations and dangers",
      "In a condition report each is coded; a danger is told to the client in writing at once.",
      "common practice", Confirmable::never},
     Over::job,
     observations},
    {{"confirmation", "Confirmations",
      "A doubtful finding is confirmed with its check's id, a reason and a name. Fails and missing "
      "readings never are.",
      "common practice", Confirmable::never},
     Over::job,
     nullptr},
};

}  // namespace

std::span<const Row> agreement_rows() {
  return kRows;
}

}  // namespace ohmleaf::checks
