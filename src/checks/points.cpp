#include <fmt/format.h>

#include "checks/facts.h"
#include "checks/judge.h"

// How an added point hangs on its circuit: in the ring, unfused spur, fused spur.

namespace ohmleaf::checks {
namespace {

using record::Connection;

bool is_ring(const record::Circuit& c) {
  return c.type && *c.type == record::CircuitType::ring_final;
}

std::string path(std::size_t i, std::string_view key) {
  return "accessory[" + std::to_string(i) + "]." + std::string(key);
}

bool is_socket(const Scene& s, const record::Accessory& a) {
  const auto* item = item_of(s.installer, a.item);
  return item && class_of(*item).find("socket") != std::string::npos;
}

void connection(Scene& s) {
  const record::Circuit& c = *s.circuit;
  for (std::size_t i = 0; i < c.accessories.size(); ++i) {
    const record::Accessory& a = c.accessories[i];
    const std::string name = point_name(s.installer, a.item, a.where);
    if (!a.connection) {
      if (is_ring(c) && is_socket(s, a))
        s.add(Verdict::missing, Stage::fitting, path(i, "connection"), "Connection",
              fmt::format("how {} is connected to the ring is not recorded", name), a.span)
            .action = "Enter connection: in ring, unfused spur or fused spur.";
      continue;
    }
    const bool needs_ring = *a.connection == Connection::in_ring;
    if (!needs_ring || is_ring(c)) continue;
    Finding& f =
        s.add(Verdict::doubtful, Stage::fitting, path(i, "connection"), "Connection",
              fmt::format("{} is entered as in the ring, but the circuit is no ring", name),
              a.connection.span);
    f.labels = {{c.type.span, "the circuit's type"}};
    f.causes = {"the accessory stands under the wrong circuit", "the circuit's type is wrong"};
    f.action = "Correct the one that is wrong.";
  }
}

Ask spur_ask(const record::Accessory& a, std::size_t i) {
  Ask ask;
  ask.stage = Stage::fitting;
  ask.cell = path(i, "fuse");
  ask.subject = "Fuse of the spur";
  ask.home = a.span;
  ask.action =
      "Fit a fuse of 13 A or less, as the maker of the equipment asks (3 A for most fans and "
      "hubs).";
  ask.if_missing = "Read the fuse in the connection unit and enter it.";
  return ask;
}

void fused_spur(Scene& s) {
  const record::Circuit& c = *s.circuit;
  for (std::size_t i = 0; i < c.accessories.size(); ++i) {
    const record::Accessory& a = c.accessories[i];
    if (!a.connection || *a.connection != Connection::fused_spur) continue;
    PlainLimit most;
    most.value = Decimal::integer(13);
    most.printed = "≤ 13 A";
    most.exact = "13";
    most.derivation = "fused spur: connection unit of 13 A or less";
    most.source = "Scaddan, Electrical Installation Work (fliphtml5 p289), guidance";
    most.provenance = limits::Provenance::published;
    Finding& f = judge_plain(s, plain(a.fuse), most, spur_ask(a, i));
    f.message += " (" + point_name(s.installer, a.item, a.where) + ")";
  }
}

void unfused_spur(Scene& s) {
  const record::Circuit& c = *s.circuit;
  for (std::size_t i = 0; i < c.accessories.size(); ++i) {
    const record::Accessory& a = c.accessories[i];
    if (!a.connection || *a.connection != Connection::unfused_spur) continue;
    const std::string name = point_name(s.installer, a.item, a.where);
    if (is_ring(c) && c.cable.line && c.cable.line->decimal() < Decimal(25, 1)) {
      Finding& f = s.add(Verdict::fail, Stage::fitting, path(i, "connection"), "Unfused spur",
                         fmt::format("an unfused spur in {} ({})", c.cable.line->with_unit(), name),
                         a.connection.span);
      f.reading = c.cable.line->with_unit();
      f.limit = "≥ 2.5 mm²";
      f.labels = {{c.cable.line.span, "this size"}};
      f.action = "Run the spur in 2.5 mm², or fuse it down at its origin.";
      f.caution = "Isolate, lock off and prove dead first.";
      continue;
    }
    Finding& f =
        s.add(Verdict::pass, Stage::fitting, path(i, "connection"), "Unfused spur",
              fmt::format("one accessory on an unfused spur ({})", name), a.connection.span);
    f.derivation =
        "one single or twin accessory from one point of the ring; spurs not more than points on "
        "the ring";
  }
}

/// Several accessories at one place on unfused spurs look like a spur from a spur.
void spur_from_spur(Scene& s) {
  const auto& list = s.circuit->accessories;
  for (std::size_t i = 0; i < list.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) {
      const auto unfused = [](const record::Accessory& a) {
        return a.connection && *a.connection == Connection::unfused_spur;
      };
      if (!unfused(list[i]) || !unfused(list[j]) || !list[i].where || !list[j].where) continue;
      if (*list[i].where != *list[j].where) continue;
      Finding& f = s.add(
          Verdict::doubtful, Stage::fitting, path(i, "where"), "Unfused spur",
          fmt::format("two accessories stand on unfused spurs at one place: {}", *list[i].where),
          list[i].where.span);
      f.labels = {{list[j].where.span, "the other"}};
      f.causes = {"one was fed from the other: a spur from a spur"};
      f.action =
          "Feed each from its own point of the ring, or fuse the spur down; confirm if each has "
          "its own point.";
    }
  }
}

constexpr Row kRows[] = {
    {{"connection", "How an added socket-outlet is connected",
      "In the ring, by an unfused spur or by a fused spur: the rules differ.", "common practice",
      Confirmable::never},
     Over::circuit,
     connection},
    {{"fused-spur", "Fused spur",
      "Behind a connection unit of 13 A or less a spur may feed any number of points.",
      "Scaddan, Electrical Installation Work (fliphtml5 p289), guidance", Confirmable::never},
     Over::circuit,
     fused_spur},
    {{"unfused-spur", "Unfused spur",
      "One single or twin accessory in 2.5 mm² from one point of the ring.",
      "BS 7671 433.1.204 (engx.theiet.org 30677; diynot.com)", Confirmable::never},
     Over::circuit,
     unfused_spur},
    {{"spur-from-spur", "A spur from a spur",
      "An unfused spur feeds one accessory and never another spur.", "common practice",
      Confirmable::with_reason},
     Over::circuit,
     spur_from_spur},
};

}  // namespace

std::span<const Row> point_rows() {
  return kRows;
}

}  // namespace ohmleaf::checks
