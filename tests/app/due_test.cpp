#include "app/due.h"

#include <doctest/doctest.h>

using namespace ohmleaf;
using namespace ohmleaf::app;

namespace {

archive::Record certificate(const std::string& number, const std::string& kind,
                            const std::string& date, const std::string& next,
                            const std::string& premises = "9 Tallow Yard") {
  archive::Record r;
  r.number = number;
  r.facts = {{"kind", kind}, {"date", date}, {"premises", premises}};
  if (!next.empty()) r.facts.emplace_back("next inspection", next);
  r.issued = *Instant::parse(date + "T12:00:00Z");
  return r;
}

std::vector<std::string> inspections(const std::vector<archive::Record>& records) {
  std::vector<std::string> days;
  for (const Due& d : due(records, {}, Date{2000, 1, 1}, Date{2030, 1, 1}))
    if (d.kind == DueKind::inspection) days.push_back(d.number + " " + d.day.iso());
  return days;
}

using Days = std::vector<std::string>;

}  // namespace

TEST_CASE(
    "the next inspection is that of the newest report of the premises; minor works never reset "
    "it") {
  auto first = certificate("A-0001", "installation", "2016-05-01", "2026-05-01");
  auto minor = certificate("A-0002", "minor works", "2024-05-01", "2029-05-01");
  auto report =
      certificate("A-0003", "condition report", "2025-05-01", "2027-05-01", "9 TALLOW yard");
  CHECK(inspections({first}) == Days{"A-0001 2026-05-01"});
  CHECK(inspections({minor, first}) == Days{"A-0001 2026-05-01"});
  CHECK(inspections({report, minor, first}) == Days{"A-0003 2027-05-01"});
  report.withdrawn = true;
  CHECK(inspections({report, minor, first}) == Days{"A-0001 2026-05-01"});
  first.expired = true;
  CHECK(inspections({report, minor, first}).empty());
}

TEST_CASE("the time to keep is counted from the job, 29 February included") {
  record::Installer installer;
  CHECK(kept_until(certificate("A-0001", "minor works", "2024-02-29", ""), installer) ==
        Date{2039, 2, 28});
  installer.numbering.retention_years.value = Decimal::parse("6");
  CHECK(kept_until(certificate("A-0001", "minor works", "2024-02-29", ""), installer) ==
        Date{2030, 2, 28});
}

// RFC 5545: 3.1 folding, 3.3.11 escaping, 3.8.2.2 DTEND is not included.
TEST_CASE("a calendar folds long lines between characters and escapes what it must") {
  std::string address;
  for (int i = 0; i < 40; ++i) address += "Ŵ";
  const Due d{
      DueKind::inspection, {2026, 12, 31}, "A-0001", "next; inspection, a\\b", address + "\nBX4"};
  const std::string ics = calendar_of({d}, *Instant::parse("2026-11-27T10:00:00Z"));
  CHECK(ics.find("DTSTAMP:20261127T100000Z\r\n") != std::string::npos);
  CHECK(ics.find("DTSTART;VALUE=DATE:20261231\r\nDTEND;VALUE=DATE:20270101\r\n") !=
        std::string::npos);
  CHECK(ics.find("SUMMARY:A-0001: next\\; inspection\\, a\\\\b\r\n") != std::string::npos);
  std::string unfolded = ics;
  for (std::size_t at; (at = unfolded.find("\r\n ")) != std::string::npos;) unfolded.erase(at, 3);
  CHECK(unfolded.find("LOCATION:" + address + "\\nBX4\r\n") != std::string::npos);
  for (std::size_t begin = 0, end; (end = ics.find("\r\n", begin)) != std::string::npos;
       begin = end + 2) {
    CHECK(end - begin <= 75);
    CHECK((static_cast<unsigned char>(ics[begin]) & 0xC0) != 0x80);
  }
  CHECK(calendar_of({d}, {}).find("UID:inspection-A-0001@ohmleaf.invalid\r\n") !=
        std::string::npos);
}
