#pragma once
#include <optional>
#include <string>
#include <vector>

#include "base/diagnostic.h"

namespace ohmleaf::app {

/// An instrument of a new profile; what is not known yet is left open in the file.
struct NewInstrument {
  std::string key, kind;  ///< "mft-1", "multifunction tester"
  std::string make, model, serial, calibrated, calibration_due;
};

struct NewInstaller {
  std::string firm, address, phone, email, registration, prefix;
  std::string person_key, person, role;
  std::vector<NewInstrument> instruments;
  std::vector<std::string> classes;  ///< of accessories: one entry each, to be completed
};

/// The text of installer.toml, valid at once. Nothing, and an error in the reader's own words,
/// where an answer cannot stand in it.
std::optional<std::string> new_installer_text(const NewInstaller& profile, Diagnostics& out);

/// "Hobday Lane Electrical" gives "HLE": letters of the words, at most four; "C" where there are
/// none.
std::string initials(const std::string& words);

}  // namespace ohmleaf::app
