#pragma once
#include <array>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "base/date.h"
#include "record/installer.h"
#include "record/job.h"

// The usual works of a day, each a row: what `ohmleaf start` knows of them. Suggestions only: what
// stands on the device, the cable and the box decides.

namespace ohmleaf::app {

struct Work {
  std::string_view key = {};    ///< "ring-outlet", as typed
  std::string_view title = {};  ///< as asked: "add a socket-outlet to a ring"
  std::string_view done = {};   ///< as written: "Added a socket-outlet to a ring final circuit."
  record::JobKind kind = record::JobKind::minor_works;
  record::CircuitType type = record::CircuitType::radial;
  bool is_new = false;           ///< the circuit is
  bool every_circuit = false;    ///< all circuits of the board are tested (board replacement)
  std::string_view name = {};    ///< of the circuit, as the board's list says it
  std::string_view feeds = {};   ///< one of kFeedWords
  std::string_view place = {};   ///< one of kPlaceWords, or empty
  std::string_view device = {};  ///< typical, common practice
  std::string_view line = {}, cpc = {};          ///< typical sizes, mm²
  std::array<std::string_view, 3> classes = {};  ///< of the accessory, the likeliest first
  bool prefers_radio = false;
  std::string_view connection = {};            ///< one of the words for Connection
  std::array<std::string_view, 5> traps = {};  ///< to look for first; common practice
};

std::span<const Work> works();
const Work* work_of(std::string_view key);

/// One of each kind that a day of testing needs, in calibration on that day where there is one.
std::vector<std::string> instruments_for(const record::Installer& installer, Date day);

}  // namespace ohmleaf::app
