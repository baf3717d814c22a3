#include "record/support.h"

namespace ohmleaf::record {
namespace {

const std::string kFirm =
    "format = 1\n"
    "[firm]\n"
    "name = \"A Firm\"\n"
    "[look]\n"
    "accent = \"#1F5F5B\"\n"
    "[person.rh]\n"
    "name = \"R. H.\"\n"
    "[instrument.mft-1]\n"
    "kind = \"multifunction tester\"\n"
    "[accessory.dim]\n"
    "class = \"dimmer\"\n"
    "name = \"Dimmer\"\n"
    "loads = [{ kind = \"led\", least = 5, most = 50 }]\n";

std::string said(const std::string& line, const std::string& by) {
  return run_installer(replaced(kFirm, line, by)).all();
}

std::string references(const std::string& line, const std::string& by) {
  Run run = run_job(replaced(kSmallJob, line, by));
  REQUIRE_MESSAGE(run.job, run.all());
  const Run firm = run_installer(kFirm);
  REQUIRE(firm.installer);
  const bool ok = check_references(*run.job, *firm.installer, run.out);
  CHECK(ok == run.out.empty());
  std::string out = run.all();
  for (const Diagnostic& d : run.out.all()) out += "\n" + join(d.hints, "\n");
  return out;
}

}  // namespace

TEST_CASE("installer.toml, spoilt") {
  CHECK(said("format = 1", "format = 1") == "");
  CHECK(said("name = \"A Firm\"", "#") == "2:2 missing-key: \"name\" is missing in [firm]");
  CHECK(said("accent = \"#1F5F5B\"", "accent = \"teal\"") ==
        "5:10 wrong-form: \"teal\" cannot stand as accent");
  CHECK(said("[person.rh]", "[person.\"r h\"]") == "6:9 wrong-form: \"r h\" cannot serve as a key");
  CHECK(said("[person.rh]", "[persons.rh]") ==
        "6:2 unknown-key: the key \"persons\" is not known at the top of the file");
  CHECK(said("name = \"R. H.\"", "nam = \"R. H.\"") ==
        "6:9 missing-key: \"name\" is missing in [person.rh]\n"
        "7:1 unknown-key: the key \"nam\" is not known in [person.rh]");
  CHECK(said("kind = \"multifunction tester\"", "kind = \"multifuncton tester\"") ==
        "9:8 unknown-word: kind: \"multifuncton tester\" is not one of its words");
  CHECK(said("loads = [{ kind = \"led\", least = 5, most = 50 }]",
             "loads = [{ kind = \"led\", leest = 5 }, 3]") ==
        "13:26 unknown-key: the key \"leest\" is not known in [[accessory.dim.loads]]\n"
        "13:39 wrong-type: loads needs tables, and a whole number stands here");
  CHECK(said("[look]", "[numbering]\nprefix = \"HL/\"\n[look]") ==
        "5:10 wrong-form: \"HL/\" cannot stand as prefix");
  CHECK(said("[look]", "[private]\na = \"x\"\nb = [\"y\"]\n[private.deep]\nc = \"z\"\n[look]") ==
        "");
  CHECK(said("[look]", "[private]\na = 3\n[look]") ==
        "5:5 wrong-type: a needs a list of texts, and a whole number stands here");
}

TEST_CASE("what is private is read, and shown to nobody") {
  const Run run = run_installer(replaced(kFirm, "[look]", "[private]\npin = \"0417\"\n[look]"));
  REQUIRE(run.installer);
  REQUIRE(run.installer->private_notes.size() == 1);
  CHECK(*run.installer->private_notes[0] == "0417");
  CHECK(view_of(*run.installer).find("private") == nullptr);
  REQUIRE(installer_shape().find("private"));
  CHECK(installer_shape().find("private")->members.empty());
}

TEST_CASE("references of a job into installer.toml") {
  const std::string line = "client = \"A. Nother\"";
  CHECK(references(line, line) == "");
  CHECK(references("person = \"rh\"", "person = \"hr\"") ==
        "4:10 unknown-reference: installer.toml has no person \"hr\"\n"
        "Did you mean \"rh\"?\n"
        "To add it, write [person.hr] into installer.toml.");
  CHECK(references(line, line + "\ninstruments = [\"mft-1\", \"loop-7000\"]") ==
        "7:25 unknown-reference: installer.toml has no instrument \"loop-7000\"\n"
        "Known: mft-1.\n"
        "To add it, write [instrument.loop-7000] into installer.toml.");
  CHECK(references("  zs = 0.46",
                   "  zs = 0.46\n  [[circuit.accessory]]\n  item = \"din\"\n  where = \"hall\"") ==
        "18:10 unknown-reference: installer.toml has no accessory \"din\"\n"
        "Did you mean \"dim\"?\n"
        "To add it, write [accessory.din] into installer.toml.");
  CHECK(references("  zs = 0.46", "  instrument = \"mft-11\"") ==
        "16:16 unknown-reference: installer.toml has no instrument \"mft-11\"\n"
        "Did you mean \"mft-1\"?\n"
        "To add it, write [instrument.mft-11] into installer.toml.");
  CHECK(references("[supply]",
                   "[[confirmation]]\ncheck = \"x\"\ncircuit = \"9\"\nreason = \"y\"\nby = "
                   "\"rh\"\n[supply]") ==
        "10:11 unknown-reference: the job has no circuit \"9\"\n"
        "Did you mean \"1\"?");
}

TEST_CASE("a confirmation names its circuit, and its board where two boards share the reference") {
  const auto confirmed = [](const std::string& names) {
    return references("  zs = 0.46",
                      "  zs = 0.46\n[[circuit]]\nboard = \"CU2\"\nref = \"1\"\nname = \"Shed\"\n"
                      "type = \"radial\"\n[[confirmation]]\ncheck = \"x\"\n" +
                          names + "reason = \"y\"\nby = \"rh\"");
  };
  CHECK(confirmed("circuit = \"1\"\nboard = \"CU2\"\n") == "");
  CHECK(confirmed("circuit = \"1\"\nboard = \"CU1\"\n") == "");
  const std::string vague = confirmed("circuit = \"1\"\n");
  CHECK(vague.find("ambiguous-reference: 2 circuits are called \"1\", and the confirmation does not "
                   "say which it means") != std::string::npos);
  CHECK(vague.find("Add board, one of: CU1, CU2.") != std::string::npos);
  const std::string wrong = confirmed("circuit = \"1\"\nboard = \"CU3\"\n");
  CHECK(wrong.find("unknown-reference: board \"CU3\" has no circuit \"1\"") != std::string::npos);
  CHECK(confirmed("board = \"CU2\"\n").find("names a board, but no circuit") != std::string::npos);
}

TEST_CASE("an accessory has a known class or one of the installer's own") {
  const std::string line = "class = \"dimmer\"";
  const std::string own = "[class.alarm]\nlike = \"module\"\nelectronics = false\n[accessory.dim]";
  const Run spoilt = run_installer(replaced(kFirm, line, "class = \"dimer\""));
  CHECK(spoilt.all() == "11:9 unknown-class: there is no class of accessories \"dimer\"");
  REQUIRE(spoilt.out.all()[0].hints.size() == 2);
  CHECK(spoilt.out.all()[0].hints[0] == "Did you mean \"dimmer\"?");
  CHECK(said("[accessory.dim]", "[class.dimmer]\n[accessory.dim]") ==
        "10:8 known-class: the program knows the class \"dimmer\" already");
  const Run run =
      run_installer(replaced(replaced(kFirm, "[accessory.dim]", own), line, "class = \"alarm\""));
  REQUIRE_MESSAGE(run.installer, run.all());
  const CatalogueItem& item = run.installer->catalogue[0];
  CHECK(item.kind == "module");
  CHECK(item.needs_neutral.value_or(false));      // of the class that it is like
  CHECK_FALSE(item.electronics.value_or(true));   // of its own class, which goes before
  CHECK_FALSE(item.dims);
}

}  // namespace ohmleaf::record
