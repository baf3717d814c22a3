#pragma once
#include <string>
#include <utility>
#include <vector>

#include "checks/finding.h"
#include "record/installer.h"
#include "record/job.h"
#include "record/view.h"

namespace ohmleaf::layout {

/// What the issue itself says of a certificate; all of it is given by the caller.
struct IssueFacts {
  std::string number;  ///< empty in a draft
  int revision = 1;
  std::string replaces;    ///< what a revision replaces, in words: "revision 1"
  std::string chain_head;  ///< the 32 hex digits that are printed
  std::string issued;      ///< ISO date; empty in a draft
  bool draft = true;
  std::string signed_by;     ///< whom the electronic signature names; empty: there is none
  bool redacted = false;     ///< a copy for a third party, marked as such on every page
  std::string program;       ///< "ohmleaf 0.1.0"
  int logo_image = -1;       ///< index into the images given to lay_out; -1: none
  int signature_image = -1;  ///< of the job's person
  std::vector<std::pair<std::string, int>> signatures;  ///< by a person's key
};

/// Everything that a form may bind: the job and the installer as written, and what the checks say
/// of each reading. Pure. Members that a job leaves out are of kind none, or not there: a form that
/// passes `document_shape()` never meets a path that does not exist. What there are many of is made
/// when a form asks for it: all four must outlive the view.
record::View document_view(const record::Job& job, const record::Installer& installer,
                           const checks::Report& report, const IssueFacts& facts);

/// The same, known without a job: what each path means and in which unit.
const record::Shape& document_shape();

}  // namespace ohmleaf::layout
