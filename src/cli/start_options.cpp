#include "cli/start_options.h"

namespace ohmleaf::cli {

void add_start_options(Command& c, StartOptions& o) {
  c.add_option("folder", o.folder, "Folder to make the job in")->type_name("FOLDER");
  c.add_option("--work", o.work, "Kind of work, one of those named below")->type_name("KIND");
  c.add_option("--premises", o.premises, "Address of the premises, with postcode")
      ->type_name("TEXT");
  c.add_option("--client", o.client, "Who ordered the work (default: as at the last visit)")
      ->type_name("TEXT");
  c.add_option("--contact", o.contact, "Telephone, email or address of the client")
      ->type_name("TEXT");
  c.add_option("--person", o.person, "Who tests and signs (default: the first of installer.toml)")
      ->type_name("KEY");
  c.add_option("--date", o.date, "Day of the work (default: today)")->type_name("DATE");
  c.add_option("--nation", o.nation, "Whose building rules decide about notification")
      ->type_name("NATION");
  c.add_option("--board", o.board, "Name of the board (default: as at the last visit, or CU1)")
      ->type_name("TEXT");
  c.add_option("--circuit", o.circuit, "Number of the circuit's way at the board (default: open)")
      ->type_name("REF");
  c.add_option("--name", o.name, "What the circuit serves, as the board's list says it")
      ->type_name("TEXT");
  c.add_option("--device", o.device,
               "Device of the circuit, as on its label (default: open, a typical one suggested)")
      ->type_name("TEXT");
  c.add_option("--accessory", o.accessory,
               "What is fitted, a key in installer.toml (default: the first that suits the work)")
      ->type_name("KEY");
  c.add_option("--where", o.where, "Where it goes (default: open)")->type_name("TEXT");
  c.add_option("--instruments", o.instruments,
               "Keys of the instruments taken along, with commas (default: a tester, an indicator "
               "and a proving unit, in calibration where there is one)")
      ->type_name("KEYS");
  c.add_option("--like", o.like,
               "Certificate or job folder whose supply, earthing, bonding and circuits still hold "
               "(default: the last visit to these premises)")
      ->type_name("VISIT");
  c.add_flag("--fresh", o.fresh, "Take nothing over from a visit before");
  add_common(c, o.common, kInstaller | kArchive);
}

}  // namespace ohmleaf::cli
