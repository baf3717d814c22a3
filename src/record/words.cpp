#include "record/words.h"

namespace ohmleaf::record {
namespace {

constexpr std::array<std::pair<JobKind, std::string_view>, 3> kJobKinds{{
    {JobKind::minor_works, "minor works"},
    {JobKind::installation, "installation"},
    {JobKind::condition_report, "condition report"},
}};
constexpr std::array<std::pair<Means, std::string_view>, 3> kMeans{{
    {Means::measured, "measured"},
    {Means::calculated, "calculated"},
    {Means::enquiry, "enquiry"},
}};
constexpr std::array<std::pair<CircuitType, std::string_view>, 4> kCircuitTypes{{
    {CircuitType::ring_final, "ring final"},
    {CircuitType::radial, "radial"},
    {CircuitType::spur, "spur"},
    {CircuitType::distribution, "distribution"},
}};
constexpr std::array<std::pair<Connection, std::string_view>, 6> kConnections{{
    {Connection::in_ring, "in ring"},
    {Connection::unfused_spur, "unfused spur"},
    {Connection::fused_spur, "fused spur"},
    {Connection::radial, "radial"},
    {Connection::switched_line, "switched line"},
    {Connection::none, "none"},
}};
constexpr std::array<std::pair<Electronics, std::string_view>, 3> kElectronics{{
    {Electronics::disconnected, "disconnected"},
    {Electronics::connected, "connected"},
    {Electronics::none, "none"},
}};
constexpr std::array<std::pair<LoadKind, std::string_view>, 7> kLoadKinds{{
    {LoadKind::led, "led"},
    {LoadKind::compact_fluorescent, "compact fluorescent"},
    {LoadKind::halogen, "halogen"},
    {LoadKind::incandescent, "incandescent"},
    {LoadKind::motor, "motor"},
    {LoadKind::resistive, "resistive"},
    {LoadKind::other, "other"},
}};

}  // namespace

template <>
std::span<const std::pair<JobKind, std::string_view>> Words<JobKind>::table() {
  return kJobKinds;
}
template <>
std::span<const std::pair<Means, std::string_view>> Words<Means>::table() {
  return kMeans;
}
template <>
std::span<const std::pair<CircuitType, std::string_view>> Words<CircuitType>::table() {
  return kCircuitTypes;
}
template <>
std::span<const std::pair<Connection, std::string_view>> Words<Connection>::table() {
  return kConnections;
}
template <>
std::span<const std::pair<Electronics, std::string_view>> Words<Electronics>::table() {
  return kElectronics;
}
template <>
std::span<const std::pair<LoadKind, std::string_view>> Words<LoadKind>::table() {
  return kLoadKinds;
}

std::vector<std::string_view> Words<limits::Earthing>::all() {
  using limits::Earthing;
  std::vector<std::string_view> out;
  for (const Earthing e :
       {Earthing::tn_s, Earthing::tn_c_s, Earthing::tn_c, Earthing::tt, Earthing::it})
    out.push_back(limits::name(e));
  return out;
}

std::string_view name(JobKind kind) {
  return Words<JobKind>::to(kind);
}
std::string_view name(Means means) {
  return Words<Means>::to(means);
}
std::string_view name(CircuitType type) {
  return Words<CircuitType>::to(type);
}
std::string_view name(Connection connection) {
  return Words<Connection>::to(connection);
}
std::string_view name(Electronics electronics) {
  return Words<Electronics>::to(electronics);
}
std::string_view name(LoadKind kind) {
  return Words<LoadKind>::to(kind);
}

}  // namespace ohmleaf::record
