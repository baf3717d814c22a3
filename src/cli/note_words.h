#pragma once
#include <string>

#include "app/answers.h"
#include "cli/dialogue.h"
#include "record/installer.h"
#include "record/job.h"

// What `note` says of a question and of an answer.

namespace ohmleaf::cli {

/// "circuit CU1/3"; empty for the job itself.
std::string circuit_words(const record::Job& job, int circuit);
/// "1 TN-S, 2 TN-C-S …"
std::string choice_words(const record::Shape& shape);
/// What may be typed: a unit, "y/n", "now, or the time as 9:12".
std::string prompt_for(const app::Question& question, const record::Installer& installer);
/// What it is, why it is taken, how, and where its limit comes from.
void explain(Dialogue& say, const app::Question& question);
/// A finding that is not in order: limit, likely causes, what to do.
void tell(Dialogue& say, const checks::Finding& finding);

}  // namespace ohmleaf::cli
