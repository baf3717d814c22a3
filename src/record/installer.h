#pragma once
#include <string>
#include <vector>

#include "record/job.h"

namespace ohmleaf::record {

struct Firm {
  Span span;
  Text name, address, phone, email, web, registration;
};

struct Person {
  std::string id;                          ///< the key in installer.toml: [person.rh]
  Span span;
  Text name, role;
  Text signature;                          ///< path of an image, beside installer.toml
};

struct Instrument {
  std::string id;
  Span span;
  Text kind;                               ///< "multifunction tester", "voltage indicator", "proving unit" …
  Text make, model, serial;
  Field<Date> calibrated, calibration_due; ///< none for a proving unit
  /// Operating uncertainty in percent of the reading, by function; undeclared: a note only.
  Field<Percent> continuity_percent, loop_percent, insulation_percent, rcd_percent;
  /// In digits of the display, in the unit of the reading.
  Field<Ohms> continuity_ohms, loop_ohms;
};

/// One load range of the maker's: kind of lamp or load, least and most watts.
struct LoadRange {
  Span span;
  Field<LoadKind> kind;
  Field<Watts> least, most;
};

struct CatalogueItem {
  std::string id;
  Span span;
  Text item_class;                         ///< key "class": "socket-outlet", "dimmer", "hub" …
  Text name;                               ///< as printed: "Radio-connected double socket-outlet"
  Text maker, model;
  Field<Millimetres> box_min_mm;           ///< least box depth, maker's figure
  Flag needs_neutral;
  Flag needs_earth;
  Flag radio;
  Flag needs_bypass;                       ///< a by-pass load once per circuit, at the luminaire
  Flag dims;                               ///< lamps must be dimmable
  Flag electronics;                        ///< disconnect for the insulation test
  Field<Amps> rated;
  Text battery;
  std::vector<LoadRange> loads;
};

struct Look {
  Span span;
  Text accent;                             ///< "#1F5F5B"
  Text logo;                               ///< path of an image
  Text motto;
  Text theme;
  Text language;                           ///< of the pages: a words file, "cymraeg"
};

struct Numbering {
  Span span;
  Text prefix;                             ///< of certificate numbers
  Field<Decimal> retention_years;          ///< default 15
};

struct Installer {
  SourceId source = 0;
  Firm firm;
  Numbering numbering;
  Look look;
  std::vector<Person> people;
  std::vector<Instrument> instruments;
  std::vector<CatalogueItem> catalogue;
  /// Tables that must never leave the installer's machine.
  Texts private_notes;

  const Person* person(std::string_view id) const;
  const Instrument* instrument(std::string_view id) const;
  const CatalogueItem* item(std::string_view id) const;
};

}  // namespace ohmleaf::record
