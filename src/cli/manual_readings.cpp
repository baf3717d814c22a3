#include <array>

#include "checks/needs.h"
#include "cli/manual_parts.h"
#include "record/words.h"

// ohmleaf-readings(7): what each kind of circuit needs and why, asked of the checks themselves.

namespace ohmleaf::cli {
namespace {

struct Kind {
  std::string_view heading;
  record::CircuitType type;
  std::string_view device;
  limits::Earthing earthing;
  std::string_view feeds;
  std::string_view about;
};
using limits::Earthing;
using record::CircuitType;
constexpr std::array kKinds{
    Kind{"Ring final circuit of socket-outlets", CircuitType::ring_final,
         "RCBO B32, 30 mA type A, 6 kA", Earthing::tn_c_s, "socket-outlets",
         "Each conductor goes out and comes back: both ends are at hand at the board, and the "
         "cross-connected readings show that the ring closes, without a bridge across it."},
    Kind{"Radial circuit, with an RCD", CircuitType::radial, "RCBO B16, 30 mA type A, 6 kA",
         Earthing::tn_c_s, "lighting",
         "The farthest point decides: it has the greatest resistance."},
    Kind{"Radial circuit on a TT system", CircuitType::radial, "RCBO B16, 30 mA type A, 6 kA",
         Earthing::tt, "lighting",
         "The earth electrode is part of the loop: the RCD disconnects, and the limit is 50 V over "
         "its residual current."},
    Kind{"Spur", CircuitType::spur, "RCBO B32, 30 mA type A, 6 kA", Earthing::tn_c_s,
         "socket-outlets", "A branch of a circuit that was there before."},
    Kind{"Distribution circuit", CircuitType::distribution, "BS 88-2 63 A, 80 kA", Earthing::tn_c_s,
         "distribution", "It feeds a board, and no equipment of its own."}};

void kind_section(Roff& out, const Kind& kind) {
  checks::CircuitAsked asked;
  asked.type = kind.type;
  asked.earthing = kind.earthing;
  asked.feeds = {std::string(kind.feeds)};
  limits::DeviceFault fault;
  if (const auto device = limits::parse_device(kind.device, fault)) asked.device = *device;
  out.heading(kind.heading);
  out.paragraph(std::string(kind.about) + " Here behind " + std::string(kind.device) + ", " +
                std::string(limits::name(kind.earthing)) + ".");
  std::string_view stage;
  for (const checks::Need& n : checks::needs_of(asked)) {
    if (!n.key.starts_with("dead") && !n.key.starts_with("live")) continue;
    if (checks::name(n.stage) != stage) {
      stage = checks::name(n.stage);
      std::string title(stage);
      title[0] = static_cast<char>(title[0] - 32);
      out.subheading(title);
      if (n.stage == checks::Stage::live)
        out.paragraph("Only when every dead test is there and passes.");
    }
    std::string text = n.how + " " + n.why;
    if (!n.limit.empty()) text += " Here " + n.limit + ".";
    out.item(n.what + "  [circuit." + n.key + "]", text);
  }
}

}  // namespace

ManualPage readings_page() {
  ManualPage page{"ohmleaf-readings", 7, "which readings a circuit needs, and why", {}};
  Roff out = new_page(page.name, 7);
  out.heading("NAME");
  out.raw(roff_plain(page.name) + " \\- " + roff_plain(page.about));
  out.heading("DESCRIPTION");
  out.paragraph(
      "What each kind of circuit needs follows from its own device, cable and earthing. The lists "
      "below are not written by hand: they are what the checks miss in a circuit of that kind "
      "without any reading. `ohmleaf needs` asks for any other circuit, and a job's own sheet has "
      "its limits and the values to expect.");
  out.paragraph(
      "Isolate, lock off and prove dead first. The dead tests come before the live ones, and a "
      "dead test that fails or is missing stops the job there: do not energise; leave isolated "
      "and locked off.");
  out.heading("BEFORE ANY CIRCUIT");
  checks::CircuitAsked asked;
  limits::DeviceFault fault;
  if (const auto device = limits::parse_device("RCBO B32, 30 mA type A, 6 kA", fault))
    asked.device = *device;
  for (const checks::Need& n : checks::needs_of(asked))
    if (!n.key.starts_with("dead") && !n.key.starts_with("live"))
      out.item(n.what + "  [" + n.key + "]", n.how + " " + n.why);
  for (const Kind& kind : kKinds) kind_section(out, kind);
  out.heading("THE CHECKS");
  out.paragraph(
      "Every check, what it looks at and why. `ohmleaf check --explain ID` says the same.");
  for (const checks::CheckInfo& c : checks::all_checks())
    out.item(c.id, std::string(c.subject) + ". " + std::string(c.says) +
                       " Source: " + std::string(c.source) + ".");
  out.heading("SEE ALSO");
  out.paragraph("ohmleaf(1), ohmleaf-needs(1), ohmleaf-check(1), ohmleaf-limits(1)");
  page.roff = out.text();
  return page;
}

}  // namespace ohmleaf::cli
