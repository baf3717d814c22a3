#pragma once
#include <optional>
#include <string>
#include <vector>

#include "archive/archive.h"
#include "record/installer.h"

namespace ohmleaf::app {

enum class DueKind { inspection, calibration, retention };
std::string_view name(DueKind kind);  ///< "inspection", "calibration", "retention"

/// One thing that falls due on a day.
struct Due {
  DueKind kind = DueKind::inspection;
  Date day;
  std::string number;  ///< of the certificate; empty for an instrument
  std::string what;    ///< "next inspection", "multifunction tester Larkfield M6, serial LM6-20418"
  std::string premises;  ///< where it is about a certificate that is still there
};

/// Years that certificates are kept where installer.toml does not say.
inline constexpr int kRetentionYears = 15;

/// The last day that a certificate is to be kept: the date of its job (of its issue, where none is
/// recorded) and the years of the profile.
Date kept_until(const archive::Record& record, const record::Installer& installer);

/// Everything that falls due from `from` (none: from ever) to `to`, both included, soonest first.
///
/// A next inspection is that of the newest installation certificate or condition report of the
/// premises: minor works never reset it. Withdrawn and removed certificates are passed over. A
/// retention period is listed once it has ended.
std::vector<Due> due(const std::vector<archive::Record>& records,
                     const record::Installer& installer, const std::optional<Date>& from,
                     const Date& to);

/// The same as an iCalendar file (RFC 5545): whole-day events, CRLF, lines folded at 75 octets.
/// `made` goes into DTSTAMP; the UIDs stay the same from one run to the next.
std::string calendar_of(const std::vector<Due>& list, Instant made);

}  // namespace ohmleaf::app
