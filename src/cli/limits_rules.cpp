#include "cli/limits_answer.h"
#include "limits/circuit_rules.h"
#include "limits/consideration.h"
#include "limits/installation.h"
#include "limits/table.h"

// `limits circuit`, `protection`, `notify`: rules rather than figures.

namespace ohmleaf::cli {

using namespace limits;

namespace {

const std::vector<Premises> kPremises{
    Premises::dwelling, Premises::high_rise, Premises::multiple_occupation,
    Premises::student,  Premises::care_home, Premises::other};
const std::vector<Nation> kNations{Nation::england, Nation::wales, Nation::scotland,
                                   Nation::northern_ireland};
const std::vector<DwellingWork> kWorks{
    DwellingWork::new_circuit,  DwellingWork::board_replacement, DwellingWork::special_location,
    DwellingWork::kitchen,      DwellingWork::outdoors,          DwellingWork::addition,
    DwellingWork::like_for_like};

}  // namespace

void answer_circuit(const LimitQuestion& q, LimitAnswer& a) {
  const auto rating = q.maybe_number("rating", false, 6300),
             size = q.maybe_number("size", false, 2000);
  if (!q.ok()) return;
  if (rating && size) {
    std::string exists;
    const auto area = radial_floor_area(Amps(*rating), SquareMm(*size), &exists);
    if (area)
      a.add("radial circuit, floor area", *area);
    else
      q.wrong("not-tabulated",
              "there is no floor area for a radial circuit of " + rating->str() + " A in " +
                  size->str() + " mm²",
              "What exists: " + exists + ".");
    return;
  }
  a.add("ring final, protective device", ring_max_rating(q.edition()));
  a.add("ring final, line and neutral", ring_min_size(false, q.edition()));
  a.add("ring final, mineral insulated", ring_min_size(true, q.edition()));
  a.add("ring final, capacity of the cable", ring_min_capacity(q.edition()));
  a.add("ring final, floor area", ring_floor_area());
  a.add("fused spur, fuse", fused_spur_max_rating(q.edition()));
  a.notes.emplace_back(
      "An unfused spur feeds one single or one twin accessory, in 2.5 mm²; there "
      "are at most as many as points on the ring (limits --table circuits).");
}

void answer_protection(const LimitQuestion& q, LimitAnswer& a) {
  const auto premises = q.choice<Premises>("premises", "kind of premises", premises_from_name,
                                           kPremises, Premises::dwelling);
  const auto rating = q.number("rating", d("32"), false, 6300);
  if (!premises || !rating) return;
  CircuitPlace place;
  place.socket_outlets = q.flag("sockets") && *rating <= d("32");
  place.luminaires_in_dwelling = q.flag("luminaires") && *premises != Premises::other;
  place.bathroom = q.flag("bathroom");
  place.outdoors = q.flag("outdoors");
  place.concealed_cable = q.flag("concealed");
  for (const ProtectionNeed& need : additional_protection(place, q.edition()))
    a.say("additional protection", "RCD, at most 30 mA", need.reason, need.source, need.provenance);
  if (a.results.empty())
    a.notes.emplace_back(
        "Nothing that was said asks for additional protection. Say what the "
        "circuit feeds: --sockets --luminaires --bathroom --outdoors --concealed.");
  const Consideration arc =
      arc_fault_detection(*premises, q.flag("sockets"), Amps(*rating), q.edition());
  a.say("arc-fault detection", std::string(name(arc.weight)), arc.reason, arc.source,
        arc.provenance);
  const Consideration surge = surge_protection({}, q.edition());
  a.say("surge protection", std::string(name(surge.weight)), surge.reason, surge.source,
        surge.provenance);
}

void answer_notify(const LimitQuestion& q, LimitAnswer& a) {
  std::vector<Nation> nations = kNations;
  std::vector<DwellingWork> works = kWorks;
  if (q.has("nation")) {
    const auto one = q.choice<Nation>("nation", "nation", nation_from_name, kNations, std::nullopt);
    if (!one) return;
    nations = {*one};
  }
  const auto work =
      q.choice<DwellingWork>("work", "kind of work", work_from_name, kWorks, std::nullopt);
  if (!work) return;
  for (Nation nation : nations) {
    const Notification n = notification(nation, *work);
    a.say(std::string(name(*work)) + ", " + std::string(name(nation)), std::string(name(n.notify)),
          n.advice, n.source, n.provenance);
  }
}

}  // namespace ohmleaf::cli
