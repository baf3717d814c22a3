#include "limits/rcd_type.h"

#include <array>

#include "base/text.h"
#include "limits/sources.h"

namespace ohmleaf::limits {
namespace {

constexpr std::string_view kTypeRule = "BS 7671 531.3.3 (training site quoting 531.3.3)";

constexpr Origin kBenning{Provenance::published, cite::kRcdProduct};
constexpr Origin kMartindale{Provenance::published, "Martindale VR2250 manual p27"};
constexpr Origin kOld{Provenance::published, cite::kRcdOld};
constexpr Origin kFive{Provenance::published, cite::kRcdFiveTimes};
constexpr Origin kA2{Provenance::published, cite::kRcdA2};
constexpr Origin kA2Delayed{Provenance::memory, cite::kRcdA2Delayed};

constexpr std::array kTimes{
    RcdTimeRow{kRcdProductStandard, "general", d("0.5"), d("1999"), kNone,
               "must not operate; instruments watch for 1999 or 2000 ms", kBenning},
    RcdTimeRow{kRcdProductStandard, "general", d("1"), kNone, d("300"), "", kBenning},
    RcdTimeRow{kRcdProductStandard, "general", d("2"), kNone, d("150"), "", kBenning},
    RcdTimeRow{kRcdProductStandard, "general", d("5"), kNone, d("40"),
               "up to 30 mA, 5 × IΔn may be 0.25 A", kBenning},
    RcdTimeRow{kRcdProductStandard, "S type", d("0.5"), d("1999"), kNone, "must not operate",
               kBenning},
    RcdTimeRow{kRcdProductStandard, "S type", d("1"), d("130"), d("500"), "", kBenning},
    RcdTimeRow{kRcdProductStandard, "S type", d("2"), d("60"), d("200"),
               "one manual has 50 ms (Martindale VR2250 p27): 60 ms by the standard", kBenning},
    RcdTimeRow{kRcdProductStandard, "S type", d("2"), d("50"), d("200"),
               "sources disagree: not used, 60 ms is the standard's", kMartindale},
    RcdTimeRow{kRcdProductStandard, "S type", d("5"), d("50"), d("150"), "", kBenning},
    RcdTimeRow{kRcdOldStandard, "general / SRCD", d("1"), kNone, d("200"), "older devices", kOld},
    RcdTimeRow{kRcdOldStandard, "general", d("5"), kNone, d("40"),
               "up to 30 mA, additional protection", kOld},
    RcdTimeRow{kRcdBeforeA2, "additional protection up to 30 mA", d("5"), kNone, d("40"),
               "at not less than 5 × IΔn", kFive},
    RcdTimeRow{kRcdFromA2, "any type, not delayed", d("1"), kNone, d("300"),
               "one a.c. test at IΔn; half, five times and 180° not required", kA2},
    RcdTimeRow{kRcdFromA2, "S type", d("1"), d("130"), d("500"), "", kA2Delayed},
};

}  // namespace

std::string_view name(LoadKind load) {
  switch (load) {
    case LoadKind::fixed_without_dc:
      return "fixed-without-dc";
    case LoadKind::electronic:
      return "electronic";
    case LoadKind::frequency_controlled:
      return "frequency-controlled";
    case LoadKind::smooth_dc:
      return "smooth-dc";
  }
  return "?";
}

std::optional<LoadKind> load_from_name(std::string_view text) {
  for (LoadKind l : {LoadKind::fixed_without_dc, LoadKind::electronic,
                     LoadKind::frequency_controlled, LoadKind::smooth_dc})
    if (ascii_lower(trim(text)) == name(l)) return l;
  return std::nullopt;
}

RcdSuitability least_rcd_type(LoadKind load) {
  const std::string source(kTypeRule);
  switch (load) {
    case LoadKind::fixed_without_dc:
      return {RcdType::ac, "type AC serves fixed equipment without a direct-current component",
              source, Provenance::published};
    case LoadKind::electronic:
      return {RcdType::a,
              "electronics produce pulsating direct current: type A tolerates 6 mA smooth", source,
              Provenance::published};
    case LoadKind::frequency_controlled:
      return {RcdType::f, "single-phase inverters mix frequencies: type F, tolerates 10 mA smooth",
              source, Provenance::published};
    case LoadKind::smooth_dc:
      return {RcdType::b, "smooth direct current blinds types AC, A and F: type B", source,
              Provenance::published};
  }
  return {RcdType::b, "unknown load: the most capable type", source, Provenance::memory};
}

bool suits(RcdType type, LoadKind load) {
  // The types are declared in the order of what they detect.
  return static_cast<int>(type) >= static_cast<int>(least_rcd_type(load).least);
}

std::span<const RcdTimeRow> rcd_time_rows() {
  return kTimes;
}

Limit<Millis> rcd_time_limit(std::string_view standard, std::string_view device, Decimal multiple,
                             Edition edition) {
  Limit<Millis> out;
  out.value = Millis(kNone);
  out.edition = edition;
  for (const RcdTimeRow& row : kTimes) {
    if (row.standard != standard || row.device != device || row.multiple != multiple) continue;
    out.sense = row.most_ms.is_void()    ? Sense::at_least
                : row.least_ms.is_void() ? Sense::at_most
                                         : Sense::between;
    out.value = Millis(row.least_ms.is_void() ? row.most_ms : row.least_ms);
    if (out.sense == Sense::between) out.upper = Millis(row.most_ms);
    out.exact = out.value.str() + (out.upper ? " to " + out.upper->str() : "");
    out.derivation = std::string(row.standard) + ", " + std::string(row.device) + ", at " +
                     (multiple == d("1") ? "" : multiple.short_str() + " × ") +
                     "IΔn: " + out.printed();
    if (!row.note.empty()) out.derivation += "; " + std::string(row.note);
    out.source = row.origin.source;
    out.provenance = row.origin.provenance;
    return out;
  }
  out.exact = "not tabulated";
  out.derivation = "no such row";
  out.source = std::string(standard);
  return out;
}

std::optional<Limit<Millis>> rcd_product_time(bool delayed, Decimal multiple, Edition edition) {
  auto out = rcd_time_limit(kRcdProductStandard, delayed ? "S type" : "general", multiple, edition);
  if (out.value.is_void()) return std::nullopt;
  return out;
}

std::optional<Limit<Percent>> rcd_trip_current(RcdType type, ResidualCurrent current, Milliamps idn,
                                               Edition edition) {
  Limit<Percent> out;
  out.sense = Sense::between;
  out.edition = edition;
  out.provenance = Provenance::published;
  const bool small = idn <= Milliamps(d("10"));
  if (!(idn > Milliamps(d("0")))) return std::nullopt;
  switch (current) {
    case ResidualCurrent::alternating:
      out.value = Percent(d("50"));
      out.upper = Percent(d("100"));
      out.source = "Fluke 1653B manual p20; Voltimum/Doepke article";
      break;
    case ResidualCurrent::pulsating_dc:
      if (type == RcdType::ac) return std::nullopt;
      out.value = Percent(d("35"));
      out.upper = Percent(small ? d("200") : d("140"));
      out.source = "Fluke 1653B manual p20; Voltimum/Doepke article";
      break;
    case ResidualCurrent::smooth_dc:
      if (type != RcdType::b) return std::nullopt;
      out.value = Percent(d("50"));
      out.upper = Percent(d("200"));
      out.source = "Fluke 1653B manual p20";
      break;
  }
  out.exact = out.value.str() + " to " + out.upper->str();
  out.derivation = "type " + std::string(name(type)) + ", IΔn " + idn.with_unit() +
                   ": operates at " + out.printed() + " of IΔn";
  return out;
}

}  // namespace ohmleaf::limits
