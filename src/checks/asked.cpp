#include <fmt/format.h>

#include "checks/facts.h"
#include "checks/judge.h"
#include "limits/consideration.h"

// What a circuit of this kind asks for, no more and no less: readings that its kind does not have,
// and arc-fault protection where the premises ask for it.

namespace ohmleaf::checks {
namespace {

void unasked(Scene& s, Span span, std::string cell, std::string subject, std::string message,
             std::string cause, std::string action) {
  Finding& f = s.add(Verdict::doubtful, Stage::dead, std::move(cell), std::move(subject),
                     std::move(message), span);
  f.labels = {{s.circuit->type.span, "the circuit's type"}};
  f.causes = {std::move(cause), "the reading belongs to another circuit"};
  f.action = std::move(action);
}

void not_of_this_kind(Scene& s) {
  const record::Circuit& c = *s.circuit;
  const record::DeadTests& d = c.dead;
  const bool ring = c.type && *c.type == record::CircuitType::ring_final;
  if (c.type && !ring && (d.r1 || d.rn || d.r2 || !d.points.empty())) {
    const Span where = d.r1 ? d.r1.span : d.rn ? d.rn.span : d.r2 ? d.r2.span : d.points[0].span;
    unasked(s, where,
            d.r1   ? "dead.r1"
            : d.rn ? "dead.rn"
            : d.r2 ? "dead.r2"
                   : "dead.point",
            "Readings of a ring",
            fmt::format("readings of a ring stand on a circuit that is entered as {}",
                        *c.type == record::CircuitType::distribution ? "a distribution circuit"
                                                                     : "a radial or a spur"),
            "the circuit is a ring final circuit",
            "Look at the board: two cables in one way are a ring. Correct the type, or take the "
            "readings out.");
  }
  const bool afdd = c.device && c.device->afdd.value_or(false);
  if (c.device && !afdd && c.live.afdd_button) {
    Finding& f = s.add(Verdict::doubtful, Stage::live, "live.afdd_button", "Arc-fault device",
                       "an arc-fault device's button is recorded, but the device is none",
                       c.live.afdd_button.span);
    f.labels = {{c.device.span, "this device"}};
    f.causes = {"the device is an arc-fault device", "the tick belongs to another circuit"};
    f.action = "Read the device's label again, and correct the one that is wrong.";
  }
}

void arc_fault(Scene& s) {
  const record::Circuit& c = *s.circuit;
  if (!s.job.premises_kind || !c.device || c.device->rating.is_void()) return;
  const auto premises = limits::premises_from_name(*s.job.premises_kind);
  if (!premises || c.device->afdd.value_or(false)) return;
  const bool final = !c.type || *c.type != record::CircuitType::distribution;
  const auto wanted = limits::arc_fault_detection(
      *premises, final && serves_socket_outlets(s.installer, c), c.device->rating, s.edition);
  if (wanted.weight != limits::Weight::required) return;
  const bool new_work = c.is_new.value_or(false);
  Finding& f = s.add(new_work ? Verdict::fail : Verdict::doubtful, Stage::before, "device",
                     "Arc-fault protection",
                     "an arc-fault device is required here: " + wanted.reason, c.device.span);
  f.reading = c.device->words();
  f.limit = "an arc-fault device";
  f.source = wanted.source;
  f.provenance = wanted.provenance;
  f.labels = {{s.job.premises_kind.span, "this kind of premises"}};
  f.action = new_work ? "Fit an arc-fault device before the circuit is put into service."
                      : "Fit one, or confirm why the existing circuit stays as it is and tell the "
                        "client so.";
  f.caution = "Isolate the board, lock off and prove dead before you change the device.";
}

constexpr Row kRows[] = {
    {{"not-asked", "Readings that this kind of circuit does not have",
      "End-to-end readings belong to a ring, an arc-fault button to an arc-fault device: on "
      "another "
      "circuit they stand in the wrong row, or the kind is wrong.",
      "common practice", Confirmable::with_reason},
     Over::circuit,
     not_of_this_kind},
    {{"arc-fault", "Arc-fault protection",
      "Required on final circuits with socket-outlets up to 32 A in high-rise residential, "
      "multiple "
      "occupation, student and care premises, recommended elsewhere. Asked where premises_kind "
      "says "
      "what the premises are.",
      "the source named with the rule", Confirmable::with_reason},
     Over::circuit,
     arc_fault},
};

}  // namespace

std::span<const Row> asked_rows() {
  return kRows;
}

}  // namespace ohmleaf::checks
