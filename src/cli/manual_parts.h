#pragma once
#include "cli/manual.h"
#include "cli/roff.h"

namespace ohmleaf::cli {

/// An empty page with its title, version and date.
Roff new_page(const std::string& name, int section);

/// ohmleaf-job(5), ohmleaf-installer(5), ohmleaf-form(5) and ohmleaf-readings(7).
std::vector<ManualPage> file_pages();
ManualPage readings_page();

}  // namespace ohmleaf::cli
