#pragma once
#include "base/diagnostic.h"
#include "record/installer.h"

namespace ohmleaf::record {

/// Gives each item of the catalogue what its class has in common and the item does not say itself.
/// Errors: a class that is neither known nor the installer's own; an own class of a known name.
void settle_classes(Installer& installer, Diagnostics& out);

}  // namespace ohmleaf::record
