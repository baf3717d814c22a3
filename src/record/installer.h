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
  Texts signs;                             ///< kinds of certificate; absent: every one
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

/// What the accessories of a class have in common; an item's own key goes before its class's.
struct AccessoryClass {
  std::string id;                          ///< "dimmer", or the installer's own: [class.smoke-alarm]
  Span span;
  Text like;                               ///< a class known to the program, whose facts it shares
  Flag needs_neutral, needs_earth, radio, needs_bypass, dims, electronics;
};
/// The classes that the program knows, in the order of kAccessoryWords.
const std::vector<AccessoryClass>& known_classes();

struct CatalogueItem {
  std::string id;
  Span span;
  Text item_class;                         ///< key "class": "socket-outlet", "dimmer", or an own one
  std::string kind;                        ///< the known class that it is, or is like; set on reading
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
  Text retention_reason;                   ///< why so long, in the firm's own words
};

/// One column of a CSV file and the key of a circuit that its cells are for.
struct CsvColumn {
  std::string key;      ///< "dead.R1R2"
  std::string heading;  ///< as the file has it
  Span span;
};
/// How the installer's own CSV files are read: [csv.NAME].
struct CsvMapping {
  std::string id;
  Span span;
  Text delimiter;                          ///< one character; found out where left out
  Text decimal;                            ///< "." or ","; a point where left out
  Text circuit;                            ///< heading of the column with the circuit's reference
  Text board;                              ///< heading of the column with the board, if there is one
  Flag worst;                              ///< of several rows for one circuit the worst counts
  std::vector<CsvColumn> columns;
  std::vector<Extra> words;                ///< what a cell's own word stands for: OL is ">999"
};

struct Installer {
  SourceId source = 0;
  Firm firm;
  Numbering numbering;
  Look look;
  std::vector<Person> people;
  std::vector<Instrument> instruments;
  std::vector<AccessoryClass> classes;     ///< the installer's own
  std::vector<CatalogueItem> catalogue;
  std::vector<CsvMapping> csv;
  /// Tables that must never leave the installer's machine.
  Texts private_notes;

  const Person* person(std::string_view id) const;
  const Instrument* instrument(std::string_view id) const;
  const CatalogueItem* item(std::string_view id) const;
  const CsvMapping* csv_mapping(std::string_view id) const;
};

}  // namespace ohmleaf::record
