#include <filesystem>
#include <memory>

#include "base/files.h"
#include "base/text.h"
#include "cli/command.h"
#include "cli/manual.h"

// What is generated from the description of the commands: the manual and the completions.

namespace ohmleaf::cli {
namespace {

namespace fs = std::filesystem;

struct ManualOptions {
  std::string page, to;
  bool list = false;
};

std::string file_name(const ManualPage& page) {
  return page.name + "." + std::to_string(page.section);
}

int write_all(Environment& e, const std::vector<ManualPage>& pages, const fs::path& to) {
  Diagnostics out;
  for (const ManualPage& page : pages) {
    const fs::path folder = to / ("man" + std::to_string(page.section));
    std::error_code ec;
    fs::create_directories(folder, ec);
    write_file(folder / file_name(page), page.roff, out, 0644);
    if (!out.ok()) return complain(e, out, {}, {});
  }
  return kFine;
}

int run_manual(Environment& e, const ManualOptions& o, const CommandView& program) {
  const auto pages = manual_pages(program);
  if (!o.to.empty()) return write_all(e, pages, o.to);
  if (o.page.empty()) {
    std::string text;
    for (const ManualPage& p : pages) text += padded(file_name(p), 24) + "  " + p.about + "\n";
    return say(e, text);
  }
  std::vector<std::string_view> known;
  for (const ManualPage& p : pages) {
    if (p.name == o.page || file_name(p) == o.page || p.name == "ohmleaf-" + o.page)
      return say(e, p.roff);
    known.push_back(p.name);
  }
  const auto near = nearest(o.page, known);
  e.err("ohmleaf: error: the manual has no page \"" + visible(o.page) + "\"\n  → " +
        (near ? "Did you mean \"" + *near + "\"? " : "") + "`ohmleaf manual` names them all.\n");
  return kInput;
}

}  // namespace

void add_manual(Command& app, Environment& e, int& exit_code) {
  auto o = std::make_shared<ManualOptions>();
  Command* c = app.add_subcommand("manual", "Print a page of the manual, in the macros of man");
  c->add_option("page", o->page, "Such as check, or ohmleaf-job.5; without it, the names of all")
      ->type_name("PAGE");
  c->add_option("--to", o->to, "Write every page below this folder, as man wants them")
      ->type_name("FOLDER");
  add_examples(*c, "  ohmleaf manual\n  ohmleaf manual check\n  ohmleaf manual --to man");
  c->callback([o, &app, &e, &exit_code] { exit_code = run_manual(e, *o, app.view()); });

  auto shell = std::make_shared<std::string>();
  Command* s =
      app.add_subcommand("completion", "Print the completion of command lines for a shell");
  s->add_option("shell", *shell, "Your shell")
      ->required()
      ->one_of({"bash", "zsh", "fish"})
      ->type_name("SHELL");
  add_examples(*s, "  ohmleaf completion bash");
  s->callback([shell, &app, &e, &exit_code] {
    const CommandView program = app.view();
    exit_code = say(e, *shell == "bash"  ? bash_completion(program)
                       : *shell == "zsh" ? zsh_completion(program)
                                         : fish_completion(program));
  });
}

}  // namespace ohmleaf::cli
