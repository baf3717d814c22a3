#include "limits/consideration.h"

#include <array>

#include "base/text.h"
#include "limits/table.h"

namespace ohmleaf::limits {
namespace {

constexpr std::string_view kArcFault =
    "BS 7671 421.1.7 from A2:2022 (rule and number from memory; common practice)";
constexpr std::string_view kArcFaultShared =
    "BS 7671 421.1.7 from A2:2022 (pdpla.com, electrical changes update: houses in multiple "
    "occupation)";

template <class E, std::size_t N>
std::optional<E> from_name(const std::array<E, N>& all, std::string_view text) {
  for (E e : all)
    if (ascii_lower(trim(text)) == name(e)) return e;
  return std::nullopt;
}

bool from_a2(Edition edition) {
  return edition == Edition::y2022 || edition == Edition::y2026;
}

/// Where an edition's rule on surge protection was read.
Origin surge_origin(Edition edition, bool service) {
  if (service && from_a2(edition))
    return {Provenance::published,
            "BS 7671 443.4 (europa-plc.com, guide to surge protection in domestic dwellings)"};
  if (from_a2(edition))
    return {Provenance::published,
            "BS 7671 443.4.1 from A2:2022 (professional-electrician.com, changes in surge "
            "protection)"};
  if (edition == Edition::y2018)
    return {Provenance::published, "BS 7671:2018 443.4 (quoted at electriciansforums.net 171517)"};
  return {Provenance::memory, "BS 7671 443.4 (rule and number from memory)"};
}

}  // namespace

std::string_view name(Weight weight) {
  switch (weight) {
    case Weight::not_asked:
      return "not asked for";
    case Weight::recommended:
      return "recommended";
    case Weight::required:
      return "required";
  }
  return "?";
}

std::string_view name(Premises premises) {
  switch (premises) {
    case Premises::dwelling:
      return "dwelling";
    case Premises::high_rise:
      return "high-rise";
    case Premises::multiple_occupation:
      return "multiple-occupation";
    case Premises::student:
      return "student";
    case Premises::care_home:
      return "care-home";
    case Premises::other:
      return "other";
  }
  return "?";
}

std::optional<Premises> premises_from_name(std::string_view text) {
  return from_name(
      std::array{Premises::dwelling, Premises::high_rise, Premises::multiple_occupation,
                 Premises::student, Premises::care_home, Premises::other},
      text);
}

Consideration arc_fault_detection(Premises premises, bool socket_outlets, Amps rating,
                                  Edition edition) {
  if (!socket_outlets || rating > Amps(d("32")))
    return {Weight::not_asked, "the rule is about final circuits with socket-outlets up to 32 A",
            std::string(kArcFault), Provenance::memory};
  const bool shared = premises == Premises::multiple_occupation;
  const bool named = premises == Premises::high_rise || shared || premises == Premises::student ||
                     premises == Premises::care_home;
  if (named && from_a2(edition))
    return {Weight::required,
            "socket-outlet circuit up to 32 A in high-rise residential, multiple occupation, "
            "student or care premises",
            std::string(shared ? kArcFaultShared : kArcFault),
            shared ? Provenance::published : Provenance::memory};
  return {Weight::recommended, "socket-outlet circuit up to 32 A: recommended in other premises",
          std::string(kArcFault), Provenance::memory};
}

Consideration surge_protection(const SurgeRisk& risk, Edition edition) {
  const Origin origin = surge_origin(edition, risk.loss_of_service && !risk.danger_to_life);
  const std::string source(origin.source);
  if (risk.danger_to_life)
    return {Weight::required, "an overvoltage could cause serious injury or loss of life", source,
            origin.provenance};
  if (risk.loss_of_service)
    return {Weight::required, "an overvoltage could interrupt a public service or commerce", source,
            origin.provenance};
  if (!from_a2(edition))
    return {Weight::recommended, "by the risk assessment, or without one fit it", source,
            origin.provenance};
  if (risk.owner_declined)
    return {Weight::not_asked,
            "the owner has declared that the loss of equipment is tolerable: record who and when",
            source, origin.provenance};
  return {
      Weight::required,
      risk.overhead_line
          ? "fitted unless the owner declares the loss tolerable; here an overhead line adds to it"
          : "fitted unless the owner declares the loss of equipment tolerable",
      source, origin.provenance};
}

}  // namespace ohmleaf::limits
