#include "app/due.h"

#include <algorithm>
#include <charconv>
#include <map>

#include "base/text.h"

namespace ohmleaf::app {
namespace {

std::string fact(const archive::Record& r, std::string_view name) {
  for (const auto& [key, value] : r.facts)
    if (key == name) return value;
  return {};
}

Date day_of(const archive::Record& r) {
  return Date::parse(fact(r, "date")).value_or(r.issued.date());
}

struct Inspection {
  const archive::Record* record = nullptr;
  Date next;
};

/// The certificate that sets the next inspection of each address.
std::map<std::string, Inspection> in_charge(const std::vector<archive::Record>& records) {
  std::map<std::string, Inspection> newest;
  for (const archive::Record& r : records) {
    if (r.withdrawn || r.expired || fact(r, "kind") == "minor works") continue;
    const auto next = Date::parse(fact(r, "next inspection"));
    if (!next) continue;
    Inspection& now = newest[fold_for_search(fact(r, "premises"))];
    if (now.record == nullptr ||
        std::pair(day_of(*now.record), now.record->issued) < std::pair(day_of(r), r.issued))
      now = {&r, *next};
  }
  return newest;
}

std::string instrument_words(const record::Instrument& i) {
  std::string text = i.kind.value_or("instrument");
  for (const record::Text* part : {&i.make, &i.model})
    if (*part) text += " " + **part;
  if (i.serial) text += ", serial " + *i.serial;
  return text;
}

int retention_years(const record::Installer& installer) {
  const auto& years = installer.numbering.retention_years;
  int whole = kRetentionYears;
  if (years) {
    const std::string text = years->str();
    std::from_chars(text.data(), text.data() + text.size(), whole);
  }
  return whole;
}

std::string escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == '\\' || c == ';' || c == ',') out += '\\';
    if (c == '\n')
      out += "\\n";
    else if (static_cast<unsigned char>(c) >= 0x20)
      out += c;
  }
  return out;
}

/// At most 75 octets a line without its end, never inside a character (RFC 5545, 3.1).
std::string folded(std::string_view line) {
  std::string out;
  std::size_t room = 75;
  while (line.size() > room) {
    std::size_t cut = room;
    while (cut > 1 && (static_cast<unsigned char>(line[cut]) & 0xC0) == 0x80) --cut;
    out += std::string(line.substr(0, cut)) + "\r\n ";
    line.remove_prefix(cut);
    room = 74;  // the space before it counts
  }
  return out + std::string(line) + "\r\n";
}

std::string plain(std::string iso) {
  std::erase_if(iso, [](char c) { return c == '-' || c == ':'; });
  return iso;
}

Date day_after(Date d) {
  const auto next = Date::parse(Date{d.year, d.month, d.day + 1}.iso());
  if (next) return *next;
  return Date{d.year, d.month, 1}.plus_months(1);
}

std::string summary_of(const Due& d) {
  std::string text = d.what;
  if (!d.number.empty()) text = d.number + ": " + text;
  return d.kind == DueKind::calibration ? "calibration of " + text : text;
}

/// Letters, digits and hyphens of what makes this event the same one next time.
std::string uid_of(const Due& d) {
  std::string id;
  for (const char c : std::string(name(d.kind)) + "-" + (d.number.empty() ? d.what : d.number))
    id += (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ? c : '-';
  return id + "@ohmleaf.invalid";
}

}  // namespace

std::string_view name(DueKind kind) {
  switch (kind) {
    case DueKind::inspection:
      return "inspection";
    case DueKind::calibration:
      return "calibration";
    case DueKind::retention:
      break;
  }
  return "retention";
}

Date kept_until(const archive::Record& r, const record::Installer& installer) {
  return day_of(r).plus_months(12 * retention_years(installer));
}

std::vector<Due> due(const std::vector<archive::Record>& records,
                     const record::Installer& installer, const std::optional<Date>& from,
                     const Date& to) {
  std::vector<Due> list;
  const auto add = [&](Due d) {
    if ((!from || *from <= d.day) && d.day <= to) list.push_back(std::move(d));
  };
  for (const auto& [premises, i] : in_charge(records))
    add({DueKind::inspection, i.next, i.record->number, "next inspection",
         fact(*i.record, "premises")});
  for (const record::Instrument& i : installer.instruments)
    if (i.calibration_due)
      add({DueKind::calibration, *i.calibration_due, "", instrument_words(i), ""});
  for (const archive::Record& r : records)
    if (!r.expired)
      add({DueKind::retention, kept_until(r, installer), r.number,
           "the time to keep it has ended: ohmleaf expire " + r.number, fact(r, "premises")});
  std::stable_sort(list.begin(), list.end(), [](const Due& a, const Due& b) {
    return std::tie(a.day, a.kind, a.number) < std::tie(b.day, b.kind, b.number);
  });
  return list;
}

std::string calendar_of(const std::vector<Due>& list, Instant made) {
  std::string out =
      "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//ohmleaf//due//EN\r\nCALSCALE:GREGORIAN\r\n";
  for (const Due& d : list) {
    out += "BEGIN:VEVENT\r\n";
    out += folded("UID:" + uid_of(d));
    out += "DTSTAMP:" + plain(made.iso()) + "\r\n";
    out += "DTSTART;VALUE=DATE:" + plain(d.day.iso()) + "\r\n";
    out += "DTEND;VALUE=DATE:" + plain(day_after(d.day).iso()) + "\r\n";
    out += folded("SUMMARY:" + escaped(summary_of(d)));
    if (!d.premises.empty()) out += folded("LOCATION:" + escaped(d.premises));
    out += "TRANSP:TRANSPARENT\r\nEND:VEVENT\r\n";
  }
  return out + "END:VCALENDAR\r\n";
}

}  // namespace ohmleaf::app
