#include "cli/command.h"

#include <new>

#include "base/json.h"
#include "base/late.h"
#include "base/text.h"
#include "cli/diagnostic_text.h"
#include "cli/report_json.h"

namespace ohmleaf::cli {

void add_common(Command& command, Common& c, unsigned which) {
  if ((which & kInstaller) != 0)
    command.add_option("--installer", c.installer,
                       "The installer's profile (default: installer.toml found by walking up from the job)")
        ->type_name("FILE");
  if ((which & kArchive) != 0)
    command.add_option("--archive", c.archive, "The archive (default: archive/ beside installer.toml)")
        ->type_name("FOLDER");
  if ((which & kTheme) != 0)
    command.add_option("--theme", c.theme,
                       "Colours and type of the pages (default: the theme in installer.toml)")
        ->type_name("THEME");
  if ((which & kJson) != 0) command.add_flag("--json", c.json, "Report as JSON on standard output");
  if ((which & kCsv) != 0)
    command.add_flag("--csv", c.csv, "Report as CSV on standard output, one row for each");
  if ((which & kVolume) != 0) {
    command.add_flag("-q,--quiet", c.quiet, "Only the lines that count");
    command.add_flag("-v,--verbose", c.verbose,
                     "More: what passes too, each with its limit; which profile and archive were "
                     "used");
  }
  if ((which & kLanguage) != 0)
    command.add_option("--language", c.language,
                       "Language of the pages, such as cymraeg (default: the job's, then the "
                       "installer's; `ohmleaf forms` names them)")
        ->type_name("NAME");
  command.add_option("--color", c.color, "When to colour: auto, always, never")
      ->one_of({"auto", "always", "never"});
}

void add_examples(Command& command, const std::string& examples) {
  command.footer("Examples:\n" + examples);
}

app::Places places_of(const Common& c, const Environment& e) {
  app::Places p;
  if (!c.installer.empty()) p.installer = c.installer;
  if (!c.archive.empty()) p.archive = c.archive;
  if (!c.theme.empty()) p.theme = c.theme;
  if (!c.language.empty()) p.language = c.language;
  p.data_folder = e.data_folder;
  p.config_home = e.config_home;
  p.data_home = e.data_home;
  return p;
}

Style style_for(const Common& c, const Environment& e, bool error_stream) {
  if (c.color == "always") return Style(true);
  if (c.color == "never" || e.no_color) return Style(false);
  return Style(error_stream ? e.err_is_terminal : e.out_is_terminal);
}

int say(Environment& e, std::string_view text, int code) {
  if (e.out(text)) return code;
  e.err("ohmleaf: error: standard output could not be written (closed, or the disk is full)\n");
  return kSystem;
}

void tell_of(const std::exception& error, const std::function<bool(std::string_view)>& say) {
  if (dynamic_cast<const std::bad_alloc*>(&error) != nullptr) {
    say("ohmleaf: error: there is not enough memory\n  → Close other programs and run the command again; "
        "it says what was done.\n");
  } else if (dynamic_cast<const Missing*>(&error) != nullptr) {
    say("ohmleaf: error: ");
    say(visible(error.what()));
    say("\n  → Where memory is short, close other programs; else install ohmleaf again, all of it.\n");
  } else {
    say("ohmleaf: error: something went wrong in the program itself: ");
    say(error.what());
    say("\n  → Run the command again; it says what was done.\n");
  }
}

int leave(Environment& e, int code) {
  if (e.leave) e.leave(code);
  return code;
}

int report(Environment& e, const Common& c, const std::string& text, int code) {
  if (!c.quiet) return say(e, text, code);
  std::string heads;
  for (const std::string_view line : split(text, '\n'))
    if (!line.empty() && !line.starts_with(' ')) heads += std::string(line) + "\n";
  return say(e, heads, code);
}

void tell(Environment& e, const Common& c, std::string_view what,
          const std::filesystem::path& where) {
  if (!c.verbose || c.json || c.csv) return;
  std::error_code ec;
  const auto whole = std::filesystem::absolute(where, ec);
  e.err("ohmleaf: " + std::string(what) + ": " + visible((ec ? where : whole).string()) + "\n");
}

namespace {
int code_of(const Diagnostics& d) {
  switch (d.trouble()) {
    case Trouble::none: return kFine;
    case Trouble::input: return kInput;
    case Trouble::system: return kSystem;
  }
  return kSystem;
}
}  // namespace

int complain(Environment& e, const Diagnostics& d, const Sources& sources, const Common& c) {
  if (!d.empty()) e.err(diagnostics_text(d, sources, style_for(c, e, true), text_width(e)));
  return code_of(d);
}

int complain_json(Environment& e, const Diagnostics& d, const Sources& sources) {
  Json j = Json::object();
  j.set("format", 1).set("errors", diagnostics_json(d, sources));
  return say(e, j.dump() + "\n", code_of(d));
}

}  // namespace ohmleaf::cli
