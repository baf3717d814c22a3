#pragma once
#include <string>
#include <vector>

#include "app/workspace.h"

namespace ohmleaf::app {

/// One reading of a CSV file, and what became of it.
struct Taken {
  enum class What {
    fresh,     ///< the job had none: it is written
    same,      ///< the job has it already
    replaced,  ///< the job had another, and was told to replace it
    differs,   ///< the job has another: an error, nothing is written
  };
  What what = What::fresh;
  int circuit = 0;     ///< index into the job's circuits
  std::string key;     ///< "live.zs"
  std::string text;    ///< as the job writes it
  std::string before;  ///< what stood there
};

struct TakeResult {
  std::vector<Taken> readings;
  std::string job_bytes;  ///< the job with the readings in it: the user's own text otherwise
};

/// The readings of a CSV file put into the job's text, comments and order kept. `mapping`: a key of
/// [csv] in the profile; empty where there is one only. Errors: an unknown mapping, whatever
/// record::read_csv_readings says, a reading that differs from the one in the job (unless
/// `replace`), a place in the job's text that cannot be changed.
std::optional<TakeResult> take(const Workspace& workspace, const std::filesystem::path& file,
                               const std::string& mapping, bool replace, Sources& sources,
                               Diagnostics& out);

/// What to put into installer.toml for a file whose headings nobody has mapped yet: [csv.NAME] with
/// every heading of the file, guessed where its name says what it is.
std::optional<std::string> suggest_mapping(const std::filesystem::path& file, Sources& sources,
                                           Diagnostics& out);

}  // namespace ohmleaf::app
