#include <array>

#include "base/text.h"
#include "limits/consideration.h"

namespace ohmleaf::limits {
namespace {

constexpr std::string_view kEngland = "wiring-regulations.co.uk";
constexpr std::string_view kWales = "proman-electrical.co.uk; diynot.com 584676 (Schedule 4)";
constexpr std::string_view kElsewhere = "electricalsafetyfirst.org.uk";
constexpr std::string_view kConfirm = "; confirm with the local authority";

constexpr std::array kWorks{DwellingWork::new_circuit,      DwellingWork::board_replacement,
                            DwellingWork::special_location, DwellingWork::kitchen,
                            DwellingWork::outdoors,         DwellingWork::addition,
                            DwellingWork::like_for_like};
constexpr std::array kNations{Nation::england, Nation::wales, Nation::scotland,
                              Nation::northern_ireland};

Notification answer(Notify notify, std::string advice, std::string_view source,
                    Provenance provenance = Provenance::published) {
  return {notify, std::move(advice) + std::string(kConfirm), std::string(source), provenance};
}

Notification in_england(DwellingWork work) {
  switch (work) {
    case DwellingWork::new_circuit:
      return answer(Notify::yes, "England: a new circuit is notifiable", kEngland);
    case DwellingWork::board_replacement:
      return answer(Notify::yes, "England: replacing a consumer unit is notifiable", kEngland);
    case DwellingWork::special_location:
      return answer(
          Notify::yes,
          "England: an addition or alteration in a special location is notifiable (within "
          "0.6 m of the bath or shower tray, 1.2 m from a fixed shower head, up to 2.25 m "
          "or the head's height; a room with a swimming pool or sauna)",
          kEngland);
    default:
      return answer(
          Notify::probably_not,
          "England: not in the list of 2013 (new circuit, consumer unit, special location)",
          kEngland);
  }
}

Notification in_wales(DwellingWork work) {
  switch (work) {
    case DwellingWork::addition:
      return answer(
          Notify::probably_not,
          "Wales: the list of 2006 is about new circuits, kitchens, bathrooms and outdoors",
          kWales);
    case DwellingWork::like_for_like:
      return answer(Notify::probably_not,
                    "Wales: a replacement without a new circuit is not named in the list of 2006",
                    kWales, Provenance::memory);
    case DwellingWork::board_replacement:
      return answer(Notify::yes, "Wales: replacing a consumer unit is treated as notifiable",
                    kWales, Provenance::memory);
    default:
      return answer(Notify::yes,
                    "Wales: the list of 2006 still applies: new circuits everywhere, kitchens, "
                    "bathrooms, outdoors, garden supplies",
                    kWales);
  }
}

}  // namespace

std::string_view name(Nation nation) {
  switch (nation) {
    case Nation::england:
      return "england";
    case Nation::wales:
      return "wales";
    case Nation::scotland:
      return "scotland";
    case Nation::northern_ireland:
      return "northern-ireland";
  }
  return "?";
}

std::optional<Nation> nation_from_name(std::string_view text) {
  for (Nation n : kNations)
    if (ascii_lower(trim(text)) == name(n)) return n;
  return std::nullopt;
}

std::string_view name(DwellingWork work) {
  switch (work) {
    case DwellingWork::new_circuit:
      return "new-circuit";
    case DwellingWork::board_replacement:
      return "board-replacement";
    case DwellingWork::special_location:
      return "special-location";
    case DwellingWork::kitchen:
      return "kitchen";
    case DwellingWork::outdoors:
      return "outdoors";
    case DwellingWork::addition:
      return "addition";
    case DwellingWork::like_for_like:
      return "like-for-like";
  }
  return "?";
}

std::optional<DwellingWork> work_from_name(std::string_view text) {
  for (DwellingWork w : kWorks)
    if (ascii_lower(trim(text)) == name(w)) return w;
  return std::nullopt;
}

std::string_view name(Notify notify) {
  switch (notify) {
    case Notify::probably_not:
      return "probably not notifiable";
    case Notify::yes:
      return "notifiable";
    case Notify::other_route:
      return "another route";
  }
  return "?";
}

Notification notification(Nation nation, DwellingWork work) {
  switch (nation) {
    case Nation::england:
      return in_england(work);
    case Nation::wales:
      return in_wales(work);
    case Nation::scotland:
      return answer(Notify::other_route,
                    "Scotland: building standards, a warrant, or an approved certifier of "
                    "construction",
                    kElsewhere);
    case Nation::northern_ireland:
      return answer(Notify::other_route, "Northern Ireland: no equivalent statutory scheme",
                    kElsewhere);
  }
  return answer(Notify::yes, "unknown nation", "", Provenance::memory);
}

std::vector<Row> notification_rows() {
  const auto row = [](std::string item, std::string value, std::string_view source) {
    return Row{"notification",
               std::move(item),
               std::move(value),
               "",
               "confirm with the local authority",
               std::string(source),
               Provenance::published};
  };
  return {
      row("England 2013",
          "new circuit; consumer-unit replacement; addition or alteration in a special location "
          "(bath or shower zone to 2.25 m or shower-head height); room with a swimming pool or "
          "sauna",
          kEngland),
      row("England 2013",
          "bath or shower special location: within 0.6 m of the bath's or tray's edge (1.2 m from "
          "a "
          "fixed shower head) up to 2.25 m",
          kEngland),
      row("Wales",
          "the list of 2006 still applies: kitchens, bathrooms, outdoors, garden supplies; "
          "new circuits everywhere",
          kWales),
      row("Scotland", "building standards: warrant; approved certifier of construction",
          kElsewhere),
      row("Northern Ireland", "no equivalent statutory scheme", kElsewhere)};
}

}  // namespace ohmleaf::limits
