#include <array>

#include "record/job_tables.h"

namespace ohmleaf::record {
namespace {

constexpr auto yes = Required::yes;
constexpr auto no = Required::no;

constexpr std::array<std::string_view, 3> kSigned{"minor works", "installation",
                                                  "condition report"};

/// "#1F5F5B"
constexpr bool is_colour(std::string_view text) {
  if (text.size() != 7 || text.front() != '#') return false;
  for (const char c : text.substr(1))
    if (!((c >= '0' && c <= '9') || (c >= 'a' && c <= 'f') || (c >= 'A' && c <= 'F'))) return false;
  return true;
}

/// What may stand in a certificate number and in a file name.
constexpr bool is_prefix(std::string_view text) {
  for (const char c : text)
    if (!((c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '-'))
      return false;
  return text.size() <= 16 && text.front() != '-';
}

/// [private] holds whatever texts the installer likes. They are read, so that a slip in them is
/// found, and shown to nobody: no form can bind them.
void read_private(Reader& in, const TomlNode& node, Texts& out) {
  static constexpr Rule any{.lines = true};
  for (const TomlNode& child : node.children) {
    if (child.mended) continue;
    if (child.is_table())
      read_private(in, child, out);
    else
      Codec<Texts>::read(in, {child, child.key, any}, out);
  }
}

constexpr Key<Installer> private_key() {
  Key<Installer> k;
  k.name = "private";
  k.help = "notes of your own, in keys of your own; they never leave this machine";
  k.read = [](Reader& in, const Value& value, Installer& installer) {
    if (value.node.is_table())
      read_private(in, value.node, installer.private_notes);
    else
      in.wrong_type(value, "a table", "Write [private] above it.");
  };
  k.view = [](const Installer&) { return View(); };
  k.shape = [](Shape& shape, const Rule&) {
    shape.type = "table, never printed";
    shape.written = Written::any_table;
  };
  return k;
}

}  // namespace

template <>
std::span<const Key<Firm>> keys<Firm>() {
  using F = Firm;
  static constexpr std::array table{
      key<&F::name>("name", yes, "name of the firm, as printed"),
      key<&F::address>("address", no, "address of the firm", {.lines = true}),
      key<&F::phone>("phone", no, "telephone, also on the client's page"),
      key<&F::email>("email", no, "email"),
      key<&F::web>("web", no, "web address"),
      key<&F::registration>("registration", no, "registration of the firm, in its own words"),
  };
  return table;
}

template <>
std::span<const Key<Numbering>> keys<Numbering>() {
  using N = Numbering;
  static constexpr std::array table{
      key<&N::prefix>("prefix", no,
                      "what certificate numbers begin with; one for each issuing machine",
                      {.accepts = is_prefix,
                       .form = "letters, digits and hyphens, at most 16",
                       .pattern = "^([0-9A-Za-z][0-9A-Za-z-]{0,15})?$"}),
      key<&N::retention_years>("retention_years", no,
                               "how many years certificates are kept; 15 where left out",
                               {.least = 1, .most = 100}),
      key<&N::retention_reason>("retention_reason", no, "why they are kept so long"),
  };
  return table;
}

template <>
std::span<const Key<Look>> keys<Look>() {
  using L = Look;
  static constexpr std::array table{
      key<&L::accent>("accent", no, "colour of the firm",
                      {.accepts = is_colour,
                       .form = "a colour such as \"#1F5F5B\"",
                       .pattern = "^#[0-9a-fA-F]{6}$"}),
      key<&L::logo>("logo", no, "path of an image, from the folder of installer.toml"),
      key<&L::motto>("motto", no, "a line under the name"),
      key<&L::theme>("theme", no, "path of a theme, from the folder of installer.toml"),
      key<&L::language>("language", no,
                        "language of the pages: the name of a words file, such as cymraeg; english "
                        "where left out"),
  };
  return table;
}

template <>
std::span<const Key<Person>> keys<Person>() {
  using P = Person;
  static constexpr std::array table{
      key<&P::name>("name", yes, "name, as printed and signed"),
      key<&P::role>("role", no, "position in the firm"),
      key<&P::signs>("signs", no, "which certificates the person may sign; all where left out",
                     {.words = kSigned}),
      key<&P::signature>(
          "signature", no,
          "path of an image, from the folder of installer.toml; a blank line to sign "
          "on where left out"),
  };
  return table;
}

template <>
std::span<const Key<Instrument>> keys<Instrument>() {
  using I = Instrument;
  static constexpr std::array table{
      key<&I::kind>("kind", yes, "what it is", {.words = kInstrumentWords}),
      key<&I::make>("make", no, "make"),
      key<&I::model>("model", no, "model"),
      key<&I::serial>("serial", no, "serial number, by which certificates name it"),
      key<&I::calibrated>("calibrated", no, "day of the last calibration"),
      key<&I::calibration_due>("calibration_due", no, "day from which it may not be relied on"),
      key<&I::continuity_percent>("continuity_percent", no,
                                  "operating uncertainty of resistance readings"),
      key<&I::loop_percent>("loop_percent", no, "operating uncertainty of loop readings"),
      key<&I::insulation_percent>("insulation_percent", no,
                                  "operating uncertainty of insulation readings"),
      key<&I::rcd_percent>("rcd_percent", no, "operating uncertainty of RCD times"),
      key<&I::continuity_ohms>("continuity_ohms", no,
                               "what comes on top of the percentage, for resistance"),
      key<&I::loop_ohms>("loop_ohms", no, "what comes on top of the percentage, for loops"),
  };
  return table;
}

template <>
std::span<const Key<LoadRange>> keys<LoadRange>() {
  using L = LoadRange;
  static constexpr std::array table{
      key<&L::kind>("kind", yes, "kind of lamp or load"),
      key<&L::least>("least", no, "least load, the maker's figure"),
      key<&L::most>("most", no, "greatest load, the maker's figure"),
  };
  return table;
}

template <>
std::span<const Key<AccessoryClass>> keys<AccessoryClass>() {
  using C = AccessoryClass;
  static constexpr std::array table{
      key<&C::like>("like", no, "class that the program knows and whose facts it shares",
                    {.words = kAccessoryWords}),
      key<&C::needs_neutral>("needs_neutral", no, "each of the class needs a neutral at the point"),
      key<&C::needs_earth>("needs_earth", no,
                           "each of the class needs a protective conductor at the point"),
      key<&C::radio>("radio", no, "each of the class is joined to a radio network"),
      key<&C::needs_bypass>("needs_bypass", no, "each of the class needs a by-pass load"),
      key<&C::dims>("dims", no, "each of the class dims: the lamps must be dimmable"),
      key<&C::electronics>("electronics", no,
                           "each of the class holds electronics, to be disconnected for the "
                           "insulation test"),
  };
  return table;
}

template <>
std::span<const Key<CatalogueItem>> keys<CatalogueItem>() {
  using C = CatalogueItem;
  static constexpr std::array table{
      key<&C::item_class>(
          "class", yes,
          "what kind of accessory it is: one of the program's classes, or one of your own, "
          "[class.NAME]"),
      key<&C::name>("name", yes, "its name, as printed"),
      key<&C::maker>("maker", no, "maker"),
      key<&C::model>("model", no, "model"),
      key<&C::box_min_mm>("box_min_mm", no, "least depth of box, the maker's figure"),
      key<&C::needs_neutral>("needs_neutral", no, "it needs a neutral at the point"),
      key<&C::needs_earth>("needs_earth", no, "it needs a protective conductor at the point"),
      key<&C::radio>("radio", no, "it is joined to a radio network"),
      key<&C::needs_bypass>("needs_bypass", no,
                            "it needs a by-pass load, once a circuit, at the luminaire"),
      key<&C::dims>("dims", no, "it dims: the lamps must be dimmable"),
      key<&C::electronics>("electronics", no,
                           "it holds electronics, to be disconnected for the insulation test"),
      key<&C::rated>("rated", no, "rated current"),
      key<&C::battery>("battery", no, "kind of battery"),
      key<&C::loads>("loads", no, "the loads that its maker allows"),
  };
  return table;
}

template <>
std::span<const Key<Installer>> keys<Installer>() {
  using I = Installer;
  static constexpr std::array table{
      key<&I::firm>("firm", yes, "the firm"),
      key<&I::numbering>("numbering", no, "certificate numbers and how long they are kept"),
      key<&I::look>("look", no, "colour, logo and words of the firm"),
      key<&I::people>("person", no, "a person who works and signs, by a key of your choice"),
      key<&I::instruments>("instrument", no, "an instrument, by a key of your choice"),
      key<&I::classes>("class", no, "a class of accessories of your own, by a key of your choice"),
      key<&I::catalogue>("accessory", no,
                         "an accessory with its maker's figures, by a key of your choice"),
      key<&I::csv>("csv", no,
                   "how a CSV file of readings is read, by a key of your choice: `ohmleaf take`"),
      private_key(),
  };
  return table;
}

}  // namespace ohmleaf::record
