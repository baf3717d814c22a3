#pragma once
#include <string>

#include "pdf/pdf.h"

namespace ohmleaf::pdf {

/// The metadata packet: PDF/A-3 level A, PDF/UA-1, and the same facts as the Info dictionary.
std::string xmp_packet(const Meta& meta, const std::string& language);

/// "D:20261120091200Z"
std::string pdf_date(Instant instant);

}  // namespace ohmleaf::pdf
