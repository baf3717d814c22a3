#pragma once
#include <optional>
#include <string_view>

#include "archive/archive.h"
#include "base/diagnostic.h"

namespace ohmleaf::app {

/// What a certificate that a client still has says of itself, read out of the PDF: its number, the
/// chain head embedded in it, and the digests of itself and of the files embedded in it. None of it
/// is believed here; the archive is compared with it. A PDF that is no certificate of ours: an
/// error. A redacted copy vouches by its chain head alone.
std::optional<archive::Witness> witness_from(std::string_view pdf, Diagnostics& out);

}  // namespace ohmleaf::app
