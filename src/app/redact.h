#pragma once
#include <filesystem>
#include <optional>
#include <string>
#include <string_view>

#include "base/diagnostic.h"
#include "base/source.h"

namespace ohmleaf::app {

/// A job without the client's name and contact: `client` says "redacted", `client_contact` and
/// every comment are gone, who agreed to a limitation is not named, and where the name, or a word
/// of four letters or more of it that is no word of the address, stands in another text, that says
/// [redacted]. Nothing where the text is no job.
std::optional<std::string> redacted_job(const std::string& job_toml, Diagnostics& out);

/// An issued certificate made once more for a third party, from what is embedded in it: pages,
/// embedded job and description without name and contact, each page marked as the redacted copy of
/// certificate N. Call it before any thread is started.
std::optional<std::string> redacted_copy(std::string_view pdf, const std::filesystem::path& scratch,
                                         Sources& sources, Diagnostics& out);

}  // namespace ohmleaf::app
