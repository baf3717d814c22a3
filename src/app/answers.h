#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "app/workspace.h"
#include "base/date.h"
#include "base/toml_outline.h"
#include "checks/finding.h"
#include "checks/order_of_work.h"
#include "record/view.h"

// What a job still asks for, one question after the other, and an answer put into the job file.

namespace ohmleaf::app {

/// One thing to be answered: a finding that it settles, and the key in the job that takes it.
struct Question {
  checks::Finding finding;
  checks::Step step = checks::Step::dead;
  std::string path;                      ///< "circuit[0].live.zs"
  const record::Shape* shape = nullptr;  ///< of that key
  bool again = false;                    ///< there is an answer, and it fails
};

/// In the safe order of work: what is missing, and what was read and fails. Whether a step may be
/// offered is for checks::stop_before to say.
std::vector<Question> open_questions(const Workspace& workspace, const checks::Report& report);
/// Missing findings that no key of the job can settle alone (an instrument in installer.toml).
std::vector<checks::Finding> not_asked(const checks::Report& report);

/// What was typed, as the trade writes it, as a TOML value: "0.42" stays a number, ">999" and
/// "N/A: why" become texts, "y" a flag, a choice may be given by its number, "9:12" and "now" a
/// time of that day. What makes no sense is passed on as a text: reading the job then says what is
/// wrong.
std::string toml_answer(const record::Shape& shape, std::string_view typed, const DateTime& now,
                        Date day);

enum class Saved { yes, not_taken, changed, failed };
/// Puts the value into the job file and reads it again; the workspace then holds the new job.
/// Everything else in the file stays as it is. `not_taken`: the value is wrong, `out` says why in
/// the reader's words. `changed`: somebody else wrote to the file since it was read. Nothing is
/// written but with `yes`.
Saved save_answer(Workspace& workspace, const std::string& path, const std::string& value,
                  Diagnostics& out);

/// Adds a [[confirmation]] of a doubtful finding at the end of the job file, with the reason and the
/// one who confirms. As save_answer.
Saved save_confirmation(Workspace& workspace, const checks::Finding& finding,
                        const std::string& reason, const std::string& by, Diagnostics& out);

/// The usual order of keys in a table of a job, for base/toml_edit.h.
std::vector<std::string> job_key_order(const TomlPath& table);

}  // namespace ohmleaf::app
