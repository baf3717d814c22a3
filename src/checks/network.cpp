#include <fmt/format.h>

#include "checks/facts.h"
#include "checks/judge.h"

// Setting up: joined, tried, closed, and in the client's hands.

namespace ohmleaf::checks {
namespace {

Ask ask_for(std::string cell, std::string subject, Span home, Stage stage = Stage::setting_up) {
  Ask ask;
  ask.stage = stage;
  ask.cell = std::move(cell);
  ask.subject = std::move(subject);
  ask.home = home;
  return ask;
}

bool is_radio(const Scene& s, const record::Text& item) {
  const auto* known = item_of(s.installer, item);
  return known && known->radio.value_or(false);
}

void joined_tick(Scene& s, const record::Flag& flag, const std::string& name, std::string cell,
                 Span home) {
  Ask ask = ask_for(std::move(cell), "Joined", home);
  ask.causes = {"out of reach of the radio", "the network was not open"};
  ask.action =
      "Open the network, join it where it stands with the doors shut; put a mains device halfway "
      "if the signal fails.";
  ask.if_missing = "Record whether it was joined to the radio network.";
  judge_tick(s, flag, name + " is in the radio network", name + " is not in the radio network",
             "nothing says that " + name + " was joined to the radio network", ask);
}

void tried_tick(Scene& s, const record::Flag& flag, const std::string& name, std::string cell,
                Span home) {
  Ask ask = ask_for(std::move(cell), "Tried", home);
  ask.causes = {"not joined, or joined to another thing", "a loose connection or the wrong lamps"};
  ask.action = "Find out why it does not work before you leave.";
  ask.if_missing = "Try it by hand and by each of its controls, and record it.";
  judge_tick(s, flag, name + " was tried and works", name + " does not work",
             "nothing says that " + name + " was tried", ask);
}

/// A place is tried for radio level before it is settled. Where nothing is said of it, joined and
/// tried with the doors shut stand for it.
void radio_level(Scene& s, const record::Flag& flag, const std::string& name, std::string cell) {
  if (!flag) return;
  Finding& f = s.add(*flag ? Verdict::pass : Verdict::borderline, Stage::setting_up,
                     std::move(cell), "Radio level",
                     *flag ? fmt::format("the radio level at {} is good", name)
                           : fmt::format("the radio level at {} was not tried, or is poor", name),
                     flag.span);
  f.reading = *flag ? "yes" : "no";
  if (*flag) return;
  f.causes = {"a metal box or plate, foil-backed board, or a thick wall", "too far from the hub"};
  f.action =
      "Try it in its place with the doors shut; move it, or put a mains device halfway, before the "
      "client finds out.";
}

void radio_levels(Scene& s) {
  const auto& list = s.circuit->accessories;
  for (std::size_t i = 0; i < list.size(); ++i)
    radio_level(s, list[i].radio_level, point_name(s.installer, list[i].item, list[i].where),
                "accessory[" + std::to_string(i) + "].radio_level");
}

void accessories(Scene& s) {
  const auto& list = s.circuit->accessories;
  for (std::size_t i = 0; i < list.size(); ++i) {
    const record::Accessory& a = list[i];
    const std::string name = point_name(s.installer, a.item, a.where);
    const std::string path = "accessory[" + std::to_string(i) + "].";
    if (is_radio(s, a.item) || a.joined) joined_tick(s, a.joined, name, path + "joined", a.span);
    tried_tick(s, a.function_tested, name, path + "function_tested", a.span);
  }
}

void controls(Scene& s) {
  for (std::size_t i = 0; i < s.job.controls.size(); ++i) {
    const record::Control& c = s.job.controls[i];
    const std::string name = point_name(s.installer, c.item, c.where);
    const std::string path = "control[" + std::to_string(i) + "].";
    joined_tick(s, c.joined, name, path + "joined", c.span);
    tried_tick(s, c.function_tested, name, path + "function_tested", c.span);
    radio_level(s, c.radio_level, name, path + "radio_level");
    if (c.controls.empty())
      s.add(Verdict::missing, Stage::setting_up, path + "controls", "What it works",
            "nothing says what " + name + " works", c.span)
          .action = "Write what it works, in the client's words.";
    if (!c.battery)
      s.add(Verdict::note, Stage::handover, path + "battery", "Battery",
            "the battery of " + name + " is not recorded", c.span)
          .action = "Enter the kind, so that the client can buy it.";
  }
}

void network(Scene& s) {
  if (!has_radio(s.job, s.installer)) return;
  const record::Network& n = s.job.network;
  Ask closed = ask_for("network.closed", "Network closed", n.span);
  closed.action =
      "Close the network for joining now: while it is open, a stranger's device can join it.";
  closed.if_missing = "Close the network for joining, and record it.";
  judge_tick(s, n.closed, "the radio network is closed again",
             "the radio network is still open for joining",
             "nothing says that the radio network was closed again", closed);
  Ask tried = ask_for("network.tried", "Tried from every control", n.span);
  tried.action = "Try each device from its control, in its place, with the doors shut.";
  judge_tick(s, n.tried, "every device was tried from its controls",
             "a device does not answer its control",
             "nothing says that every device was tried from its controls", tried);
  Ask accounts = ask_for("network.accounts_with_client", "Accounts", n.span, Stage::handover);
  accounts.action = "Hand accounts and passwords to the client, and keep none.";
  judge_tick(s, n.accounts_with_client, "the client holds the accounts",
             "the client does not hold the accounts",
             "nothing says that the client holds the accounts", accounts);
}

void handed_over(Scene& s, const record::Flag& flag, std::string key, std::string subject,
                 std::string good, std::string action) {
  const Span where = flag.span.valid() ? flag.span : s.job.handover.span;
  if (flag && *flag) {
    s.add(Verdict::pass, Stage::handover, "handover." + key, std::move(subject), std::move(good),
          where)
        .reading = "yes";
    return;
  }
  s.add(Verdict::note, Stage::handover, "handover." + key, subject, subject + " is not recorded",
        where)
      .action = std::move(action);
}

void handover(Scene& s) {
  const record::Handover& h = s.job.handover;
  if (has_radio(s.job, s.installer)) {
    handed_over(s, h.instructions_left, "instructions_left", "Instructions",
                "the makers' instructions were left",
                "Leave the makers' instructions with the client.");
    handed_over(s, h.shown, "shown", "Shown to the client", "the client was shown how it works",
                "Show the client how it works.");
  }
  if (!s.job.controls.empty())
    handed_over(s, h.batteries_left, "batteries_left", "Batteries", "spare batteries were left",
                "Leave a spare of each battery.");
}

constexpr Row kRows[] = {
    {{"accessory-set-up", "Accessories joined and tried",
      "Each radio accessory is joined to the network, and each accessory is tried.",
      "common practice", Confirmable::never},
     Over::circuit,
     accessories},
    {{"radio-level", "Radio level where it stands",
      "The place of a radio accessory is tried for radio level, doors shut, before it is settled.",
      "common practice", Confirmable::never},
     Over::circuit,
     radio_levels},
    {{"controls", "Battery controls",
      "Each is joined and tried from its place, its place is tried for radio level, and the record "
      "says "
      "what it works.",
      "common practice", Confirmable::never},
     Over::job,
     controls},
    {{"network", "The radio network",
      "Closed at the end, tried from every control, accounts with the client.", "common practice",
      Confirmable::never},
     Over::job,
     network},
    {{"handover", "Handover", "Instructions, batteries, a demonstration: notes, not verdicts.",
      "common practice", Confirmable::never},
     Over::job,
     handover},
};

}  // namespace

std::span<const Row> network_rows() {
  return kRows;
}

}  // namespace ohmleaf::checks
