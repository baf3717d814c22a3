#include <fmt/format.h>

#include <algorithm>

#include "base/text.h"
#include "cli/manual.h"

// Completion of command lines, made from the description of the commands. Each script finds the
// command first (the longest run of words that names one), then offers its options, the words that
// an option takes, its commands, and files.

namespace ohmleaf::cli {
namespace {

enum class Files { none, folders, any };

/// "FILE.pdf", "JOB|NUMBER": what a value is, by the name of its type.
Files files_of(const OptionView& o) {
  for (const char* word : {"FILE", "JOB", "PDF", "BAG"})
    if (o.type.find(word) != std::string::npos) return Files::any;
  return o.type.find("FOLDER") != std::string::npos ? Files::folders : Files::none;
}

/// A command with the words that lead to it, without the program's name: "limits zs".
struct Place {
  std::string path;
  const CommandView* command;
  std::vector<OptionView> options;  ///< with those that every command has
};

OptionView help_option() {
  OptionView o;
  o.names = {"-h", "--help"};
  o.flag = true;
  o.help = "Print this help message and exit";
  return o;
}

void collect(const CommandView& c, const std::string& path, const std::vector<OptionView>& above,
             std::vector<Place>& out) {
  Place place{path, &c, c.options};
  place.options.insert(place.options.begin(), help_option());
  // A command below another takes its options too, where it has none of that name.
  for (const OptionView& o : above)
    if (!o.positional && std::none_of(place.options.begin(), place.options.end(),
                                      [&](const OptionView& own) { return own.names == o.names; }))
      place.options.push_back(o);
  const std::vector<OptionView> handed = path.empty() ? std::vector<OptionView>{} : c.options;
  out.push_back(std::move(place));
  for (const CommandView& sub : c.commands)
    collect(sub, path.empty() ? sub.name : path + " " + sub.name, handed, out);
}

std::vector<Place> places(const CommandView& program) {
  std::vector<Place> out;
  collect(program, "", {}, out);
  return out;
}

std::vector<std::string> names_of(const Place& place) {
  std::vector<std::string> out;
  for (const OptionView& o : place.options)
    if (!o.positional) out.insert(out.end(), o.names.begin(), o.names.end());
  return out;
}

const OptionView* positional(const Place& place) {
  for (const OptionView& o : place.options)
    if (o.positional) return &o;
  return nullptr;
}

/// 'text' for any shell: a quotation mark ends the text, stands escaped, and begins it again.
std::string quoted(std::string_view text) {
  std::string out = "'";
  for (const char c : text)
    if (c == '\'')
      out += "'\\''";
    else
      out += c;
  return out + "'";
}

std::string first_sentence(const std::string& text) {
  return text.substr(0, text.find('\n'));
}

/// What may stand there, one word a line: words hold blanks ("minor works").
std::string lines_of(const std::vector<std::string>& words) {
  std::string out;
  for (const std::string& w : words) out += (out.empty() ? "" : "\n") + w;
  return out;
}

std::string bash_values(const OptionView& o) {
  if (!o.words.empty()) return "__ohmleaf_words " + quoted(lines_of(o.words));
  switch (files_of(o)) {
    case Files::any:
      return "__ohmleaf_files -f";
    case Files::folders:
      return "__ohmleaf_files -d";
    case Files::none:
      break;
  }
  return ":";
}

constexpr const char* kBashHead =
    R"sh(# Completion of ohmleaf for bash, made by `ohmleaf completion bash`.

__ohmleaf_words() {
  local line
  while IFS= read -r line; do
    [[ $line == "$cur"* ]] && COMPREPLY+=("$(printf '%q' "$line")")
  done <<< "$1"
}

__ohmleaf_files() {
  compopt -o filenames 2>/dev/null
  local line
  while IFS= read -r line; do COMPREPLY+=("$line"); done < <(compgen "$1" -- "$cur")
}

_ohmleaf() {
  local cur=${COMP_WORDS[COMP_CWORD]} prev=${COMP_WORDS[COMP_CWORD-1]} path= word i
  # Bash parts "--color=auto" at the sign.
  if [[ $cur == = ]]; then cur=; elif [[ $prev == = ]]; then prev=${COMP_WORDS[COMP_CWORD-2]}; fi
  COMPREPLY=()
  for ((i = 1; i < COMP_CWORD; i++)); do
    word=${COMP_WORDS[i]}
    case "$path $word" in
)sh";

constexpr const char* kFishHead =
    R"sh(# Completion of ohmleaf for fish, made by `ohmleaf completion fish`.

function __ohmleaf_at --description 'True where the command typed so far is this one'
  set -l path ''
  for word in (commandline -opc)[2..-1]
    switch "$path $word"
)sh";

}  // namespace

std::string bash_completion(const CommandView& program) {
  const auto all = places(program);
  std::string out = kBashHead;
  for (const Place& p : all)
    if (!p.path.empty()) out += "      " + quoted(" " + p.path) + ") path=\"$path $word\" ;;\n";
  out += "    esac\n  done\n  case \"$path $prev\" in\n";
  for (const Place& p : all)
    for (const OptionView& o : p.options) {
      if (o.positional || o.flag) continue;
      std::string pattern;
      for (const std::string& name : o.names)
        pattern += (pattern.empty() ? "" : "|") +
                   quoted((p.path.empty() ? "" : " " + p.path) + " " + name);
      out += "    " + pattern + ") " + bash_values(o) + "; " + (o.value_optional ? ":" : "return") +
             " ;;\n";
    }
  out += "  esac\n  case \"$path\" in\n";
  for (const Place& p : all) {
    out += "    " + quoted(p.path.empty() ? "" : " " + p.path) + ")\n      if [[ $cur == -* ]]; " +
           "then\n        __ohmleaf_words " + quoted(lines_of(names_of(p))) +
           "\n        return\n      fi\n";
    for (const CommandView& c : p.command->commands)
      out += "      __ohmleaf_words " + quoted(c.name) + "\n";
    if (const OptionView* o = positional(p)) out += "      " + bash_values(*o) + "\n";
    out += "      ;;\n";
  }
  return out + "  esac\n}\n\ncomplete -F _ohmleaf ohmleaf\n";
}

namespace {

/// Within _arguments a colon parts, and brackets enclose the help.
std::string zsh_help(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == '[' || c == ']' || c == ':' || c == '\\') out += '\\';
    out += c;
  }
  return out;
}

std::string zsh_values(const OptionView& o) {
  const std::string name = zsh_help(o.type.empty() ? o.names.back() : o.type);
  if (!o.words.empty()) {
    std::string words;
    for (const std::string& w : o.words) {
      words += words.empty() ? "" : " ";
      for (const char c : w) {
        if (std::string_view(" ():\\'\"").find(c) != std::string_view::npos) words += '\\';
        words += c;
      }
    }
    return name + ":(" + words + ")";
  }
  switch (files_of(o)) {
    case Files::any:
      return name + ":_files";
    case Files::folders:
      return name + ":_files -/";
    case Files::none:
      break;
  }
  return name + ": ";
}

std::string zsh_option(const OptionView& o) {
  std::string out;
  const std::string help = "[" + zsh_help(first_sentence(o.help)) + "]";
  const std::string value = o.flag ? "" : (o.value_optional ? "::" : ":") + zsh_values(o);
  if (o.positional)
    return "    " + quoted((o.many ? "*:" : o.required ? ":" : "::") + zsh_values(o)) + " \\\n";
  std::string others;
  for (const std::string& name : o.names) others += (others.empty() ? "" : " ") + name;
  for (const std::string& name : o.names)
    out += "    " +
           quoted((o.many ? "*" : "(" + others + ")") + name +
                  (!o.flag && name.starts_with("--") ? "=" : "") + help + value) +
           " \\\n";
  return out;
}

void zsh_function(const Place& p, std::string& out) {
  std::string name = "_ohmleaf";
  for (const std::string_view word : split(p.path, ' '))
    if (!word.empty()) name += "_" + std::string(word);
  std::replace(name.begin(), name.end(), '-', '_');
  out += "\n" + name + "() {\n  local state line\n  local -a commands\n  _arguments -S -C \\\n";
  for (const OptionView& o : p.options)
    if (!o.positional || p.command->commands.empty()) out += zsh_option(o);
  if (p.command->commands.empty()) {
    out += "    && return 0\n}\n";
    return;
  }
  out +=
      "    '1: :->command' '*:: :->rest' && return 0\n  case $state in\n  command)\n"
      "    commands=(\n";
  for (const CommandView& c : p.command->commands)
    out += "      " + quoted(c.name + ":" + first_sentence(c.about)) + "\n";
  out += "    )\n    _describe command commands ;;\n  rest)\n    case ${line[1]} in\n";
  for (const CommandView& c : p.command->commands)
    out += "    " + c.name + ") " + name + "_" + c.name + " ;;\n";
  out += "    esac ;;\n  esac\n}\n";
}

}  // namespace

std::string zsh_completion(const CommandView& program) {
  std::string out =
      "#compdef ohmleaf\n# Completion of ohmleaf for zsh, made by `ohmleaf completion zsh`.\n";
  for (const Place& p : places(program)) zsh_function(p, out);
  return out +
         "\nif [[ $funcstack[1] == _ohmleaf ]]; then\n  _ohmleaf \"$@\"\nelse\n"
         "  compdef _ohmleaf ohmleaf\nfi\n";
}

std::string fish_completion(const CommandView& program) {
  const auto all = places(program);
  std::string out = kFishHead;
  for (const Place& p : all)
    if (!p.path.empty())
      out += "      case " + quoted(" " + p.path) + "\n        set path \"$path $word\"\n";
  out +=
      "    end\n  end\n  test \"$path\" = \"$argv[1]\"\nend\n\n"
      "complete -c ohmleaf -e\n";
  for (const Place& p : all) {
    const std::string here = "complete -c ohmleaf -n " +
                             quoted("__ohmleaf_at " + quoted(p.path.empty() ? "" : " " + p.path));
    const OptionView* first = positional(p);
    const Files files = first ? files_of(*first) : Files::none;
    if (files == Files::none || !first->words.empty()) out += here + " -f\n";
    if (files == Files::folders) out += here + " -f -a '(__fish_complete_directories)'\n";
    if (first && !first->words.empty())
      for (const std::string& w : first->words) out += here + " -a " + quoted(quoted(w)) + "\n";
    for (const CommandView& c : p.command->commands)
      out += here + " -a " + c.name + " -d " + quoted(first_sentence(c.about)) + "\n";
    for (const OptionView& o : p.options) {
      if (o.positional) continue;
      std::string line = here;
      for (const std::string& name : o.names)
        line += name.starts_with("--") ? " -l " + name.substr(2) : " -s " + name.substr(1);
      if (!o.flag && !o.value_optional) line += " -r";
      if (!o.words.empty()) {
        std::string words;
        for (const std::string& w : o.words) words += (words.empty() ? "" : " ") + quoted(w);
        line += " -f -a " + quoted(words);
      } else if (!o.flag && files_of(o) == Files::folders) {
        line += " -f -a '(__fish_complete_directories)'";
      } else if (!o.flag && files_of(o) == Files::none) {
        line += " -f";
      }
      out += line + " -d " + quoted(first_sentence(o.help)) + "\n";
    }
  }
  return out;
}

}  // namespace ohmleaf::cli
