#pragma once
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "limits/fact.h"
#include "limits/table.h"

// Rules of ring and radial final circuits and their spurs.

namespace ohmleaf::limits {

/// The protective device of a ring: at most 32 A (30 A for fuses that are made so).
Limit<Amps> ring_max_rating(Edition edition);
/// Line and neutral of a ring.
Limit<SquareMm> ring_min_size(bool mineral_insulated, Edition edition);
/// The cable of a ring must carry at least this in any part.
Limit<Amps> ring_min_capacity(Edition edition);
/// The fuse of a connection unit that feeds a fused spur.
Limit<Amps> fused_spur_max_rating(Edition edition);

/// A spur as it is connected.
struct Spur {
  bool fused = false;            ///< through a fused connection unit
  int outlets = 1;               ///< accessories on it; a twin socket-outlet is one
  std::optional<SquareMm> size;  ///< line conductor
  std::optional<Amps> fuse;      ///< of the connection unit
};
/// What is wrong with it, each a sentence without a full stop; empty where nothing is.
std::vector<std::string> spur_faults(const Spur& spur);

/// A radial circuit's floor area as one list has it.
struct RadialAreaRow {
  int rating;    ///< A: up to this
  Decimal size;  ///< mm²: at least this
  int square_metres;
  Origin origin;
};
std::span<const RadialAreaRow> radial_area_rows();

/// Floor area that a radial circuit may serve, in m² (guidance). Where sources disagree the
/// smaller stands and both are named.
std::optional<Factor> radial_floor_area(Amps rating, SquareMm size,
                                        std::string* what_exists = nullptr);
/// The same for a ring: 100 m² (guidance).
Factor ring_floor_area();

}  // namespace ohmleaf::limits
