#include "cli/options.h"

#include <CLI/CLI.hpp>
#include <algorithm>

namespace ohmleaf::cli {

namespace {
CLI::Option& of(void* option) { return *static_cast<CLI::Option*>(option); }

/// The command that was meant, however deep ("limits zs").
const CLI::App* meant(const CLI::App& app, std::string& words) {
  const CLI::App* used = &app;
  words = app.get_name();
  while (!used->get_subcommands().empty()) {
    used = used->get_subcommands().front();
    words += " " + used->get_name();
  }
  return used;
}
}  // namespace

Option* Option::required() {
  of(option_).required();
  return this;
}
Option* Option::type_name(const std::string& name) {
  of(option_).type_name(name);
  return this;
}
Option* Option::expected(int count) {
  of(option_).expected(count);
  return this;
}
Option* Option::expected(int least, int most) {
  of(option_).expected(least, most);
  return this;
}
Option* Option::one_of(const std::vector<std::string>& words) {
  of(option_).check(CLI::IsMember(words));
  return offers(words);
}
Option* Option::offers(const std::vector<std::string>& words) {
  words_ = words;
  return this;
}
std::size_t Option::count() const { return of(option_).count(); }

struct Command::Engine {
  std::unique_ptr<CLI::App> owned;  // the program; a command is owned by its parent's CLI::App
  CLI::App* app = nullptr;
  std::vector<std::unique_ptr<Command>> commands;
  std::vector<std::unique_ptr<Option>> options;
};

Command::Command(const std::string& about, const std::string& name)
    : engine_(std::make_unique<Engine>()) {
  engine_->owned = std::make_unique<CLI::App>(about, name);
  engine_->app = engine_->owned.get();
}
Command::Command(std::unique_ptr<Engine> engine) : engine_(std::move(engine)) {}
Command::~Command() = default;

Command* Command::add_subcommand(const std::string& name, const std::string& about) {
  auto engine = std::make_unique<Engine>();
  engine->app = engine_->app->add_subcommand(name, about);
  engine_->commands.push_back(std::unique_ptr<Command>(new Command(std::move(engine))));
  return engine_->commands.back().get();
}

Option* Command::keep(void* option) {
  engine_->options.push_back(std::unique_ptr<Option>(new Option(option)));
  return engine_->options.back().get();
}
Option* Command::add_option(const std::string& name, std::string& into, const std::string& help) {
  return keep(engine_->app->add_option(name, into, help));
}
Option* Command::add_option(const std::string& name, std::vector<std::string>& into,
                            const std::string& help) {
  return keep(engine_->app->add_option(name, into, help));
}
Option* Command::add_option(const std::string& name, int& into, const std::string& help) {
  return keep(engine_->app->add_option(name, into, help));
}
Option* Command::add_flag(const std::string& name, bool& into, const std::string& help) {
  return keep(engine_->app->add_flag(name, into, help));
}

void Command::set_version_flag(const std::string& name, const std::string& version) {
  engine_->app->set_version_flag(name, version);
}
void Command::footer(const std::string& text) { engine_->app->footer(text); }
void Command::fallthrough() { engine_->app->fallthrough(); }
void Command::require_subcommand(int least, int most) {
  engine_->app->require_subcommand(static_cast<std::size_t>(least),
                                   static_cast<std::size_t>(most));
}
void Command::callback(std::function<void()> act) { engine_->app->callback(std::move(act)); }
void Command::final_callback(std::function<void()> act) {
  engine_->app->final_callback(std::move(act));
}
std::string Command::help() const { return engine_->app->help(); }

CommandView Command::view() const {
  const CLI::App& app = *engine_->app;
  CommandView out{app.get_name(), app.get_description(), app.get_footer(), {}, {}};
  for (const auto& option : engine_->options) {
    const CLI::Option& o = of(option->option_);
    OptionView v;
    for (const std::string& name : o.get_snames()) v.names.push_back("-" + name);
    for (const std::string& name : o.get_lnames()) v.names.push_back("--" + name);
    v.positional = v.names.empty();
    if (v.positional) v.names.push_back(o.get_name(true));
    v.flag = o.get_type_size_max() == 0;
    v.required = o.get_required();
    v.many = o.get_items_expected_max() > 1;
    v.value_optional = !v.flag && o.get_items_expected_min() == 0;
    if (!v.flag) v.type = o.get_type_name();
    // CLI11 shows the words of a choice as its type.
    if (const auto brace = v.type.find(':'); brace != std::string::npos) v.type.resize(brace);
    v.help = o.get_description();
    v.words = option->words_;
    out.options.push_back(std::move(v));
  }
  for (const auto& command : engine_->commands) out.commands.push_back(command->view());
  return out;
}

Parsed Command::parse(const std::vector<std::string>& args) {
  CLI::App& app = *engine_->app;
  Parsed parsed;
  try {
    app.parse(std::vector<std::string>(args.rbegin(), args.rend()));
  } catch (const CLI::CallForHelp&) {
    parsed.kind = Parsed::Kind::help;
    parsed.text = meant(app, parsed.words)->help();
  } catch (const CLI::CallForVersion& version) {
    parsed.kind = Parsed::Kind::version;
    parsed.text = version.what();
  } catch (const CLI::ParseError& error) {
    parsed.kind = Parsed::Kind::wrong;
    parsed.text = error.what();
  }
  parsed.whole = meant(app, parsed.words) == &app;
  return parsed;
}

}  // namespace ohmleaf::cli
