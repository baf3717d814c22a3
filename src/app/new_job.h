#pragma once
#include <optional>
#include <string>
#include <vector>

#include "app/visits.h"
#include "app/works.h"
#include "base/date.h"
#include "base/diagnostic.h"
#include "record/installer.h"

namespace ohmleaf::app {

/// All that a new job file is made from. Empty texts are left open in it.
struct NewJob {
  const Work* work = nullptr;
  Date date;
  std::string person, premises, client, client_contact, nation;
  std::string board, ref, name, device;  ///< of the circuit
  std::string item, where;               ///< of the accessory
  std::vector<std::string> instruments;  ///< keys of those that are taken along
  std::optional<LastJob> last;  ///< whose supply, earthing, bonding and circuits still hold
};

/// The text of job.toml: what is known as values, every reading that such a circuit needs as a
/// blank in the safe order, with its unit, its limit and what to expect, as `check` works them out
/// with the typical device and cable where none is known. Readable at once: nothing in it is wrong,
/// only missing. Nothing where the profile lacks what is named (`out` says what).
std::optional<std::string> new_job_text(const NewJob& job, const record::Installer& installer,
                                        const std::string& folder_name, Diagnostics& out);

}  // namespace ohmleaf::app
