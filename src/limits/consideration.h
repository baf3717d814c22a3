#pragma once
#include <optional>
#include <string>
#include <vector>

#include "limits/fact.h"

// What is to be considered beside the limits: arc-fault detection, surge protection, notification.

namespace ohmleaf::limits {

enum class Weight { not_asked, recommended, required };
std::string_view name(Weight weight);  ///< "not asked for", "recommended", "required"

struct Consideration {
  Weight weight = Weight::not_asked;
  std::string reason;
  std::string source;
  Provenance provenance = Provenance::memory;
};

enum class Premises {
  dwelling,             ///< a house or flat that is none of the following
  high_rise,            ///< high-rise residential building
  multiple_occupation,  ///< house in multiple occupation
  student,              ///< purpose-built student accommodation
  care_home,
  other,
};
std::string_view name(Premises premises);
std::optional<Premises> premises_from_name(std::string_view text);

/// Arc-fault detection on a final circuit with socket-outlets of that rating.
Consideration arc_fault_detection(Premises premises, bool socket_outlets, Amps rating,
                                  Edition edition);

struct SurgeRisk {
  bool danger_to_life = false;   ///< serious injury or loss of life could follow
  bool loss_of_service = false;  ///< public services, commerce, many people
  bool overhead_line = false;    ///< supplied by an overhead line
  bool owner_declined = false;   ///< the owner has said in writing that he accepts the loss
};
Consideration surge_protection(const SurgeRisk& risk, Edition edition);

enum class Nation { england, wales, scotland, northern_ireland };
std::string_view name(Nation nation);
std::optional<Nation> nation_from_name(std::string_view text);

enum class DwellingWork {
  new_circuit,
  board_replacement,  ///< replacing the consumer unit
  special_location,   ///< adding or altering in a room with a bath or shower, a pool or a sauna
  kitchen,            ///< adding or altering in a kitchen
  outdoors,           ///< adding or altering outdoors, garden supplies
  addition,           ///< adding or altering a circuit anywhere else
  like_for_like,      ///< replacing an accessory without altering the circuit
};
std::string_view name(DwellingWork work);
std::optional<DwellingWork> work_from_name(std::string_view text);

enum class Notify { probably_not, yes, other_route };
std::string_view name(Notify notify);

/// Whether work in a dwelling may have to be notified. Never the last word: `advice` always ends
/// with "confirm with the local authority".
struct Notification {
  Notify notify = Notify::yes;
  std::string advice;
  std::string source;
  Provenance provenance = Provenance::memory;
};
Notification notification(Nation nation, DwellingWork work);

/// The rules behind it as the sources state them, one row a nation and rule.
std::vector<Row> notification_rows();

}  // namespace ohmleaf::limits
