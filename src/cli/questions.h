#pragma once
#include <functional>
#include <string>
#include <vector>

#include "cli/command.h"
#include "cli/dialogue.h"

namespace ohmleaf::cli {

/// One answer of a command that begins something: a flag, and a question on a terminal where the
/// flag was not given.
struct Wanted {
  std::string flag = {};   ///< "--premises"
  std::string words = {};  ///< the question: "Premises, with postcode"
  std::string* into = nullptr;
  std::string otherwise = {};  ///< the default; Enter takes it
  bool needed = false;  ///< without a terminal the flag must be there, for there is no safe default
  std::vector<std::string> choices = {};  ///< shown with numbers; the answer may be a number
  std::vector<std::string> notes = {};    ///< behind each choice, where it needs words
  bool only_choices = false;              ///< nothing but these
  /// Says what is wrong with an answer; empty where nothing is.
  std::function<std::string(const std::string&)> wrong = {};
};

/// Asks for what flags left open, where there is a terminal; takes defaults where there is none and
/// nothing is needed. What is needed and cannot be asked for is gathered.
class Questions {
 public:
  Questions(Environment& environment, const Common& common)
      : e_(environment), say_(environment, style_for(common, environment, false)) {}

  /// False: stop (the input ended, Ctrl-C, or a flag with a wrong value).
  bool take(const Wanted& wanted);
  /// kFine, or the exit code after saying which flags are missing.
  int settle(const std::string& example);
  Dialogue& say() { return say_; }
  bool on_terminal() const { return e_.in_is_terminal; }

 private:
  bool ask(const Wanted& wanted);
  Environment& e_;
  Dialogue say_;
  std::vector<std::string> missing_;
  int code_ = kFine;
  bool begun_ = false;
};

}  // namespace ohmleaf::cli
