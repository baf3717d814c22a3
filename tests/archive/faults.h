#pragma once
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "archive/sample.h"
#include "archive/tracer.h"

/// The archive's commands as the fault runs hurt them, and what must be true afterwards.
namespace faults {

namespace stdfs = std::filesystem;

/// What a command said: "SP-0003 1" where it acknowledged a certificate, "done" where it only
/// succeeded, empty where it refused; and whether it gave a reason for that.
struct Answer {
  std::string said;
  bool complained = false;
};

struct Scenario {
  std::string name;
  std::function<void(const stdfs::path& root)> prepare;
  std::function<Answer(const stdfs::path& root)> act;
  std::string due;                 ///< what it must answer in the end
  std::vector<std::string> final;  ///< what is there after it and one more job, "z"
  /// An import that was stopped half-way may be complained of until it is run again.
  bool resumes = false;
  bool control = false;  ///< it is meant to be caught, at the first look
  /// The command comes right after another one: it asks the index, and looks at no other object.
  bool lately = false;
};

/// issue (the first, one more, one beside an index, one right after another), revise, withdraw, expire, index build,
/// recovery, import, export
const std::vector<Scenario>& scenarios();
/// The control: the right files, written as one would without thinking, in their own place and one
/// after another, no answer of the system looked at. Unhurt, it leaves an archive without fault.
const Scenario& careless();
/// The same, with something done to the process before it begins to write in place.
Scenario careless_after(std::function<void()> hindered);

/// All that a look at an archive finds: `verify`, `find`, and whether the index and the files
/// agree.
struct Look {
  std::string wrong;             ///< every complaint; empty for a sound archive
  std::vector<std::string> has;  ///< "SP-0001 2 a", sorted; " withdrawn" where it is
};
Look look(const stdfs::path& root);

/// One command, hurt, and the archive that it left.
struct Hurt {
  tracer::Run run;
  std::optional<Answer> answer;  ///< nothing where it was killed before it could say
};

/// Runs scenarios in a folder of their own, each time from the same state.
class Bench {
 public:
  /// The archive as the scenario needs it, made once and then copied.
  stdfs::path fresh(const Scenario& scenario);
  /// All the system calls that the scenario's command makes when nobody hurts it.
  std::vector<long> calls(const Scenario& scenario);
  /// `before` runs in the child, ahead of the command.
  static Hurt hurt(const Scenario& scenario, const stdfs::path& root,
                   const std::optional<tracer::Fault>& fault,
                   const std::function<void()>& before = {},
                   const std::function<void()>& held = {});

 private:
  sample::Folder folder_;
};

/// Makes the archive as a writing command leaves it that looked at every object a moment ago. The
/// system's clock does not matter then: that look is good for a minute.
void looked_just_now(const stdfs::path& root);
/// When that was, in microseconds: the same as before where a command did not look. -1 for never.
std::int64_t last_look(const stdfs::path& root);
/// Asks the index as it lies there; the first column of the first row, or -1.
std::int64_t in_the_index(const stdfs::path& root, const std::string& sql);

/// What is wrong with the archive after a hurt command; empty where nothing is: nothing that was
/// acknowledged is lost, nothing is half-written, the same command works and gives the number that
/// was due, the next job gets the next one, and nothing is left behind.
std::string examine(const Scenario& scenario, const stdfs::path& root,
                    const std::optional<Answer>& answer);

}  // namespace faults
