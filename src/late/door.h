#pragma once
#include "base/late.h"
#include "base/version.h"

// Libraries that not every command needs are opened when they are first called: to load libcrypto,
// SQLite, libzip, libjpeg and libharu took two thirds of the time in which a command starts.
//
// Each is behind one or a few functions of one layer. NAME_module.cpp is linked with that layer into
// lib/ohmleaf/NAME.so, which gives a table of these functions; NAME_program.cpp is linked into the
// program in their stead, and calls them through the table. Tests link the layers themselves. What
// the program itself loads is held by tests/installed/hardened.

namespace ohmleaf::late {

/// The table of `Door::kModule`, which is opened at the first call.
template <class Door>
const Door& door() {
  static const auto& opened = *static_cast<const Door*>(open_late(Door::kModule));
  return opened;
}

}  // namespace ohmleaf::late

#define OHMLEAF_DOOR(table)                                                                     \
  extern "C" __attribute__((visibility("default"))) const char* ohmleaf_version() {             \
    return ohmleaf::program_version().data();                                                   \
  }                                                                                             \
  extern "C" __attribute__((visibility("default"))) const void* ohmleaf_door() { return &(table); }
