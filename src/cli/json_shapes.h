#pragma once
#include <span>
#include <string_view>

namespace ohmleaf::cli {

/// A member of what a command prints with --json. "findings[].check" is the member `check` of each
/// element of `findings`.
struct JsonMember {
  std::string_view path, help;
};

/// A report and its members. Shown in the manual, and held against real output by the tests.
struct JsonShape {
  std::string_view command;  ///< "check", "limits"
  std::string_view when;     ///< which of the command's reports, where it has several
  std::span<const JsonMember> members;
};

/// Every report has "format": 1. Members are added, never renamed or removed, while it is 1.
std::span<const JsonShape> json_shapes();
/// What every command prints with --json where the input cannot be read.
std::span<const JsonMember> json_errors();

}  // namespace ohmleaf::cli
