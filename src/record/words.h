#pragma once
#include <array>
#include <optional>
#include <span>
#include <string_view>
#include <utility>
#include <vector>

#include "limits/device.h"
#include "record/job.h"

// The words of every choice in a job, in one place: reading, suggestions, pages and JSON share
// them.

namespace ohmleaf::record {

std::string_view name(JobKind kind);             ///< "minor works"
std::string_view name(Means means);              ///< "measured"
std::string_view name(CircuitType type);         ///< "ring final"
std::string_view name(Connection connection);    ///< "unfused spur"
std::string_view name(Electronics electronics);  ///< "disconnected"
std::string_view name(LoadKind kind);            ///< "compact fluorescent"

/// What a circuit may feed, and where it may go: closed lists, because rules hang on the words.
inline constexpr std::array<std::string_view, 14> kFeedWords{
    "socket-outlets", "lighting",         "fixed equipment", "heating",
    "water heating",  "shower",           "cooker",          "ventilation",
    "controls",       "vehicle charging", "distribution",    "SELV",
    "PELV",           "other equipment"};
inline constexpr std::array<std::string_view, 8> kPlaceWords{
    "bathroom", "outdoors",     "concealed cable", "swimming pool",
    "sauna",    "agricultural", "medical",         "outbuilding"};

/// Kinds of instrument and classes of accessory that installer.toml knows.
inline constexpr std::array<std::string_view, 11> kInstrumentWords{"multifunction tester",
                                                                   "continuity tester",
                                                                   "insulation tester",
                                                                   "loop tester",
                                                                   "RCD tester",
                                                                   "electrode tester",
                                                                   "voltage indicator",
                                                                   "proving unit",
                                                                   "phase indicator",
                                                                   "clamp meter",
                                                                   "other"};
inline constexpr std::array<std::string_view, 16> kAccessoryWords{"socket-outlet",
                                                                  "switch",
                                                                  "dimmer",
                                                                  "fused connection unit",
                                                                  "hub",
                                                                  "fan",
                                                                  "luminaire",
                                                                  "blind control",
                                                                  "thermostat",
                                                                  "module",
                                                                  "heater",
                                                                  "charge point",
                                                                  "battery control",
                                                                  "radiator valve",
                                                                  "sensor",
                                                                  "other"};

/// The choice `E` as words: every allowed one, and there and back.
template <class E>
struct Words {
  static std::span<const std::pair<E, std::string_view>> table();
  static std::vector<std::string_view> all() {
    std::vector<std::string_view> out;
    for (const auto& row : table()) out.push_back(row.second);
    return out;
  }
  static std::string_view to(E value) {
    for (const auto& row : table())
      if (row.first == value) return row.second;
    return "?";
  }
  static std::optional<E> from(std::string_view word) {
    for (const auto& row : table())
      if (row.second == word) return row.first;
    return std::nullopt;
  }
};

template <>
struct Words<limits::Earthing> {
  static std::vector<std::string_view> all();
  static std::string_view to(limits::Earthing value) { return limits::name(value); }
  static std::optional<limits::Earthing> from(std::string_view word) {
    return limits::earthing_from_name(word);
  }
};

template <>
std::span<const std::pair<JobKind, std::string_view>> Words<JobKind>::table();
template <>
std::span<const std::pair<Means, std::string_view>> Words<Means>::table();
template <>
std::span<const std::pair<CircuitType, std::string_view>> Words<CircuitType>::table();
template <>
std::span<const std::pair<Connection, std::string_view>> Words<Connection>::table();
template <>
std::span<const std::pair<Electronics, std::string_view>> Words<Electronics>::table();
template <>
std::span<const std::pair<LoadKind, std::string_view>> Words<LoadKind>::table();

}  // namespace ohmleaf::record
