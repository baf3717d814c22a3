#pragma once
#include <functional>
#include <memory>
#include <string>
#include <vector>

// Commands and their options, described once; help and errors follow from the description. CLI11
// stands behind this in one file, since each file that includes it compiles all of it.

namespace ohmleaf::cli {

/// One option, flag or positional of a command, while it is described.
class Option {
 public:
  Option* required();
  Option* type_name(const std::string& name);  ///< as help shows it: "FILE"
  Option* expected(int count);
  Option* expected(int least, int most);
  Option* one_of(const std::vector<std::string>& words);
  /// Words that a shell offers; others may stand there too.
  Option* offers(const std::vector<std::string>& words);
  std::size_t count() const;  ///< how often it was given

 private:
  friend class Command;
  explicit Option(void* option) : option_(option) {}
  void* option_;  // a CLI::Option, owned by its command
  std::vector<std::string> words_;
};

/// A command and its options as they were described, for manuals and completions.
struct OptionView {
  std::vector<std::string> names;  ///< "-q", "--quiet"; of a positional its name alone
  bool positional = false, flag = false, required = false, many = false;
  bool value_optional = false;  ///< may stand without its value
  std::string type;             ///< "FILE"; empty for a flag
  std::string help;
  std::vector<std::string> words;  ///< what may stand there, or what to offer
};
struct CommandView {
  std::string name, about, footer;
  std::vector<OptionView> options;  ///< in the order of their description
  std::vector<CommandView> commands;
};

/// What a command line came to.
struct Parsed {
  enum class Kind { ran, help, version, wrong } kind = Kind::ran;
  std::string text;   ///< the help, the version, or what is wrong
  std::string words;  ///< the command that was meant, however deep: "ohmleaf limits zs"
  bool whole = false; ///< no command was named
};

/// A command, or the program itself. What an option is read into must outlive the parse.
class Command {
 public:
  Command(const std::string& about, const std::string& name);
  ~Command();
  Command(const Command&) = delete;
  Command& operator=(const Command&) = delete;

  Command* add_subcommand(const std::string& name, const std::string& about);
  Option* add_option(const std::string& name, std::string& into, const std::string& help);
  Option* add_option(const std::string& name, std::vector<std::string>& into,
                     const std::string& help);
  Option* add_option(const std::string& name, int& into, const std::string& help);
  Option* add_flag(const std::string& name, bool& into, const std::string& help);
  void set_version_flag(const std::string& name, const std::string& version);
  void footer(const std::string& text);
  void fallthrough();  ///< options that it does not know are its parent's
  void require_subcommand(int least, int most);
  void callback(std::function<void()> act);        ///< once its own options are read
  void final_callback(std::function<void()> act);  ///< after those of its subcommands
  std::string help() const;
  CommandView view() const;

  /// Reads the command line and runs the callbacks of what was named. For the program itself.
  Parsed parse(const std::vector<std::string>& args);

 private:
  struct Engine;
  explicit Command(std::unique_ptr<Engine> engine);
  Option* keep(void* option);
  std::unique_ptr<Engine> engine_;
};

}  // namespace ohmleaf::cli
