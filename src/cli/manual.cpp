#include "cli/manual.h"

#include <array>

#include "base/text.h"
#include "base/version.h"
#include "cli/json_shapes.h"
#include "cli/manual_parts.h"
#include "cli/roff.h"

// A page of the program and one of each command, from the description of the commands.

namespace ohmleaf::cli {
namespace {

constexpr std::string_view kCautions =
    "Electricity kills. Isolate, lock off, and prove dead with an indicator that is proved before "
    "and after. Dead tests come before live tests; a dead test that fails or is missing stops the "
    "job there. The program never says that an installation is safe: it says what was recorded "
    "and how that compares with the limits. The local code in force, and a person skilled "
    "electrically and entitled to do the work, decide.";

struct Told {
  std::string_view name, text;
};
constexpr std::array kExits{
    Told{"0", "Nothing to do about it."},
    Told{"1", "Findings that stop an issue, or a verification that fails."},
    Told{"2", "The input or the command is wrong; nothing was written."},
    Told{"3",
         "The system failed: the disk is full, or there is no permission. Also: committed, "
         "but standard output could not tell."},
    Told{"130", "Interrupted."}};
constexpr std::array kEnvironment{
    Told{"NO_COLOR", "No colour, whatever its value, unless --color always asks for it."},
    Told{"XDG_CONFIG_HOME",
         "Where ohmleaf/installer.toml is looked for when none stands beside or above the job; "
         "~/.config where it is not set."},
    Told{"TMPDIR", "Where files are made that are thrown away; /tmp where it is not set."}};
constexpr std::array kFiles{
    Told{"job.toml", "The job: see ohmleaf-job(5)."},
    Told{"installer.toml",
         "The installer's profile: see ohmleaf-installer(5). The nearest one from the job's "
         "folder upwards, else the one in $XDG_CONFIG_HOME/ohmleaf."},
    Told{"forms/", "Beside installer.toml: documents, themes and words of the installer's own."},
    Told{"archive/",
         "Beside installer.toml: issued certificates in an open layout. Its README.txt says how to "
         "read and check it without this program."}};

/// What a command does, at more length than --help has room for.
constexpr std::array kMore{
    Told{"check",
         "Reads the job and the installer's profile, and judges every reading against its limit, "
         "circuit by circuit, worst first. Each finding says what was read, the limit and how it "
         "was worked out, the likely cause, and the next thing to do. The last line says whether a "
         "certificate can be issued.\n\nA reading is compared as it stands and never rounded. A "
         "doubtful one waits until it is confirmed in the job under [[confirmation]], with a "
         "reason and a name."},
    Told{"sheet",
         "Writes the sheet to take along: every test in safe order, its limit and the value to "
         "expect already worked out, and boxes to write in."},
    Told{"draft", "Writes the documents of the job as a PDF, marked as a draft on every page."},
    Told{"notice",
         "Writes the notice of a danger that was found, for the client to keep, whatever else is "
         "open in the job. It has no number and is not filed."},
    Told{"issue",
         "Draws the next number, writes the certificate and files it with the job, the profile's "
         "extract and everything that its pages rest on. The same command again answers that it is "
         "issued already."},
    Told{"revise",
         "Files a corrected certificate as the next revision under the same number. The old one "
         "stays, and both can be shown."},
    Told{"verify",
         "Proves every file unchanged by its SHA-512 digest, and the chain of the certificates "
         "unbroken from the first to the last. With a certificate that a client still has, also "
         "that nobody wrote the history before it anew."},
    Told{"limits",
         "Answers with the same tables that judge a job: the limit, how it was worked out, and "
         "where it comes from. A value that no source gives is not tabulated; one from memory says "
         "so."},
    Told{"schema",
         "A TOML plugin of an editor completes and explains the keys of a file by its schema. Most "
         "take the first line of the file as the way to it:\n\n#:schema "
         "/usr/share/ohmleaf/schema/job.schema.json"},
    Told{"completion",
         "The packages install the completions. For a copy of your own: `ohmleaf completion bash` "
         "into a file that your .bashrc reads."},
    Told{"manual", "The pages are installed with the program; this prints or writes them anew."}};

const Told* more_of(std::string_view name) {
  for (const Told& t : kMore)
    if (t.name == name) return &t;
  return nullptr;
}

template <std::size_t N>
void items(Roff& out, const std::array<Told, N>& list) {
  for (const Told& t : list) out.item(t.name, t.text);
}

std::string lower_first(std::string text) {
  text = text.substr(0, text.find('\n'));
  if (text.size() > 1 && text[0] >= 'A' && text[0] <= 'Z' && (text[1] < 'A' || text[1] > 'Z'))
    text[0] = static_cast<char>(text[0] + 32);
  return text;
}

std::string shown(const OptionView& o) {
  std::string out;
  for (const std::string& name : o.names) out += (out.empty() ? "" : ", ") + name;
  if (o.positional) return o.type.empty() ? o.names.front() : o.type;
  if (!o.flag) out += o.value_optional ? " [" + o.type + "]" : " " + o.type;
  return out;
}

std::string help_of(const OptionView& o) {
  std::string out = o.help;
  if (!o.words.empty() && o.words.size() <= 12) {
    std::string words;
    for (const std::string& w : o.words) words += (words.empty() ? "" : ", ") + w;
    if (out.find(o.words.front()) == std::string::npos) out += ": " + words;
  }
  return out + ".";
}

std::string synopsis(const CommandView& c, const std::string& words) {
  std::string out = words;
  if (!c.commands.empty()) out += " [COMMAND]";
  bool options = false;
  for (const OptionView& o : c.options) options = options || !o.positional;
  if (options) out += " [OPTIONS]";
  for (const OptionView& o : c.options) {
    if (!o.positional) continue;
    const std::string name = shown(o) + (o.many ? " …" : "");
    out += o.required ? " " + name : " [" + name + "]";
  }
  return out;
}

void options(Roff& out, const CommandView& c) {
  for (const OptionView& o : c.options) out.item(shown(o), help_of(o));
}

/// The lines below "Examples:", without their two blanks.
std::string examples_of(const CommandView& c) {
  std::string out;
  for (const std::string_view l : split(c.footer, '\n'))
    if (l.starts_with("  ")) out += (out.empty() ? "" : "\n") + std::string(l.substr(2));
  return out;
}

void name_section(Roff& out, const std::string& name, const std::string& about) {
  out.heading("NAME");
  out.raw(roff_plain(name) + " \\- " + roff_plain(lower_first(about)));
}

void ending(Roff& out, std::string_view see) {
  out.heading("EXIT STATUS");
  items(out, kExits);
  out.heading("ENVIRONMENT");
  items(out, kEnvironment);
  out.heading("FILES");
  items(out, kFiles);
  out.heading("SEE ALSO");
  out.paragraph(see);
}

/// What --json prints, where the command has it.
void json_section(Roff& out, const CommandView& c) {
  bool any = false;
  for (const JsonShape& shape : json_shapes()) {
    if (shape.command != c.name) continue;
    if (!any) {
      out.heading("JSON");
      out.paragraph(
          "With --json one object, with \"format\": 1. Members are added, never renamed or removed, "
          "while the format is 1. Input that cannot be read gives \"errors\" instead, each with "
          "severity, id, message, place (file, line, column, or null) and hints.");
    }
    any = true;
    if (!shape.when.empty()) out.subheading(shape.when);
    for (const JsonMember& m : shape.members) out.item(m.path, std::string(m.help) + ".");
  }
}

ManualPage command_page(const CommandView& c) {
  ManualPage page{"ohmleaf-" + c.name, 1, lower_first(c.about), {}};
  Roff out = new_page(page.name, 1);
  name_section(out, page.name, c.about);
  out.heading("SYNOPSIS");
  out.example(synopsis(c, "ohmleaf " + c.name));
  out.heading("DESCRIPTION");
  out.paragraph(c.about + ".");
  if (const Told* more = more_of(c.name)) out.paragraph(more->text);
  out.heading("OPTIONS");
  options(out, c);
  out.item("-h, --help", "The options, and examples.");
  for (const CommandView& sub : c.commands) {
    out.subheading("ohmleaf " + c.name + " " + sub.name);
    out.paragraph(sub.about + ".");
    options(out, sub);
    if (const std::string lines = examples_of(sub); !lines.empty()) out.example(lines);
  }
  if (const std::string lines = examples_of(c); !lines.empty()) {
    out.heading("EXAMPLES");
    out.example(lines);
  }
  json_section(out, c);
  out.heading("CAUTIONS");
  out.paragraph(kCautions);
  ending(out, "ohmleaf(1), ohmleaf-job(5), ohmleaf-installer(5), ohmleaf-readings(7)");
  page.roff = out.text();
  return page;
}

ManualPage program_page(const CommandView& program) {
  ManualPage page{"ohmleaf", 1, "electrical test readings, judged and certified", {}};
  Roff out = new_page(page.name, 1);
  name_section(out, page.name, page.about);
  out.heading("SYNOPSIS");
  out.example("ohmleaf COMMAND [OPTIONS] …\nohmleaf COMMAND --help\nohmleaf --version");
  out.heading("DESCRIPTION");
  out.paragraph(program.about);
  out.paragraph(
      "A job is one folder with a job.toml in it: what was done, on which circuits, and the "
      "readings as the instruments show them. It belongs to the installer.toml in a folder above "
      "it. Each command below has a page of its own.");
  out.heading("COMMANDS");
  for (const CommandView& c : program.commands)
    out.item(c.name, c.about + ". See ohmleaf-" + c.name + "(1).");
  out.heading("A DAY");
  out.example(
      "ohmleaf sheet sewing-workshop      # to take along\n"
      "ohmleaf check sewing-workshop      # on site, while the tools are still out\n"
      "ohmleaf draft sewing-workshop      # to look at\n"
      "ohmleaf issue sewing-workshop      # numbered and filed\n"
      "ohmleaf find brindle cross         # in ten years\n"
      "ohmleaf verify");
  out.heading("CAUTIONS");
  out.paragraph(kCautions);
  std::string see;
  for (const CommandView& c : program.commands)
    see += (see.empty() ? "" : ", ") + ("ohmleaf-" + c.name) + "(1)";
  ending(out, see + ", ohmleaf-job(5), ohmleaf-installer(5), ohmleaf-readings(7)");
  page.roff = out.text();
  return page;
}

}  // namespace

Roff new_page(const std::string& name, int section) {
  return Roff(name, section, program_date(), "ohmleaf " + std::string(program_version()));
}

std::vector<ManualPage> manual_pages(const CommandView& program) {
  std::vector<ManualPage> out;
  out.push_back(program_page(program));
  for (const CommandView& c : program.commands) out.push_back(command_page(c));
  for (ManualPage& page : file_pages()) out.push_back(std::move(page));
  return out;
}

}  // namespace ohmleaf::cli
