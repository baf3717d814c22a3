#pragma once
#include "record/codec.h"
#include "record/installer.h"

// Which records have a table of keys, and where: job_keys.cpp (the top), job_keys_notes.cpp,
// job_keys_supply.cpp, job_keys_circuit.cpp, job_keys_handover.cpp, installer_keys.cpp,
// csv_keys.cpp.

namespace ohmleaf::record {

#define OHMLEAF_KEYS(Record) \
  template <>                \
  std::span<const Key<Record>> keys<Record>();
OHMLEAF_KEYS(Job)
OHMLEAF_KEYS(Supply)
OHMLEAF_KEYS(Bonding)
OHMLEAF_KEYS(Isolation)
OHMLEAF_KEYS(Cable)
OHMLEAF_KEYS(Insulation)
OHMLEAF_KEYS(DeadTests)
OHMLEAF_KEYS(RcdTests)
OHMLEAF_KEYS(LiveTests)
OHMLEAF_KEYS(Accessory)
OHMLEAF_KEYS(Circuit)
OHMLEAF_KEYS(Control)
OHMLEAF_KEYS(Network)
OHMLEAF_KEYS(Handover)
OHMLEAF_KEYS(Confirmation)
OHMLEAF_KEYS(Departure)
OHMLEAF_KEYS(Limitation)
OHMLEAF_KEYS(Observation)
OHMLEAF_KEYS(Danger)
OHMLEAF_KEYS(Signing)
OHMLEAF_KEYS(Notification)
OHMLEAF_KEYS(Installer)
OHMLEAF_KEYS(Firm)
OHMLEAF_KEYS(Numbering)
OHMLEAF_KEYS(Look)
OHMLEAF_KEYS(Person)
OHMLEAF_KEYS(Instrument)
OHMLEAF_KEYS(LoadRange)
OHMLEAF_KEYS(AccessoryClass)
OHMLEAF_KEYS(CatalogueItem)
OHMLEAF_KEYS(RingPoint)
OHMLEAF_KEYS(CsvMapping)
#undef OHMLEAF_KEYS

}  // namespace ohmleaf::record
