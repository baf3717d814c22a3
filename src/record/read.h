#pragma once
#include <filesystem>
#include <functional>
#include <optional>
#include <string_view>

#include "base/diagnostic.h"
#include "base/toml.h"
#include "record/installer.h"
#include "record/job.h"
#include "record/view.h"

namespace ohmleaf::record {

/// Reads a job from its text. Everything that is wrong is reported in one run, in file order;
/// nothing is returned if anything is. `folder_name` gives the default id.
std::optional<Job> read_job(const Sources& sources, SourceId source, std::string folder_name,
                            Diagnostics& out);
/// `tree`: also takes the text's tree, all but its key `format`, for who writes parts of it out.
std::optional<Installer> read_installer(const Sources& sources, SourceId source, Diagnostics& out,
                                        TomlNode* tree = nullptr);
/// References of the job into the installer's profile (people, instruments, catalogue items) and
/// within itself (circuit refs of confirmations, duplicate refs): unknown ones are errors with the
/// nearest known key.
bool check_references(const Job& job, const Installer& installer, Diagnostics& out);

/// The records as forms and JSON see them.
View view_of(const Job& job);
/// Only what stands under the keys of the file that are `wanted`.
View view_of(const Job& job, const std::function<bool(std::string_view key)>& wanted);
View view_of(const Installer& installer);
const Shape& job_shape();
const Shape& installer_shape();

/// The inspection checklist's items: key, and the words printed.
struct InspectionText {
  std::string_view key;
  std::string_view words;
  std::string_view source;
};
const std::vector<InspectionText>& inspection_items();

}  // namespace ohmleaf::record
